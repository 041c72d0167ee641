//! Faces of a blank by axis and side, and when two places are one.

use crate::geometry::DVec3;
use crate::model::Face;

/// Coordinates nearer than this are one place on a drawing, mm.
pub(crate) const SAME: f64 = 0.005;

/// The face of the blank towards -`axis` or +`axis`.
pub(crate) fn face_on(axis: usize, far: bool) -> Face {
    match (axis, far) {
        (0, false) => Face::NearEnd,
        (0, true) => Face::FarEnd,
        (1, false) => Face::Edge,
        (1, true) => Face::FarEdge,
        (_, false) => Face::Marked,
        (_, true) => Face::Back,
    }
}

/// Axis and far side of a face.
pub(crate) fn axis_side(face: Face) -> (usize, bool) {
    match face {
        Face::NearEnd => (0, false),
        Face::FarEnd => (0, true),
        Face::Edge => (1, false),
        Face::FarEdge => (1, true),
        Face::Marked => (2, false),
        Face::Back => (2, true),
    }
}

/// The face of the blank a point lies nearest to.
pub(crate) fn nearest_face(p: DVec3, size: DVec3) -> Face {
    let gap = |f: &Face| {
        let (a, far) = axis_side(*f);
        (if far { size[a] - p[a] } else { p[a] }).abs()
    };
    Face::ALL.into_iter().min_by(|a, b| gap(a).total_cmp(&gap(b))).unwrap_or(Face::Marked)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_face_is_that_of_the_least_gap() {
        let near = |x: f64, y: f64, z: f64| nearest_face(DVec3::new(x, y, z), DVec3::new(100.0, 60.0, 20.0));
        assert_eq!([near(50.0, 30.0, 9.0), near(50.0, 30.0, 11.0)], [Face::Marked, Face::Back]);
        assert_eq!([near(5.0, 30.0, 10.0), near(95.0, 30.0, 10.0)], [Face::NearEnd, Face::FarEnd]);
        assert_eq!([near(50.0, 2.0, 10.0), near(50.0, 58.0, 10.0)], [Face::Edge, Face::FarEdge]);
        // Before a face as well as under it.
        assert_eq!([near(50.0, 30.0, -1.0), near(50.0, 61.0, 10.0)], [Face::Marked, Face::FarEdge]);
    }
}
