//! Flat cuts askew to the blank: their long and short points and angles.

use super::faces::{SAME, face_on};
use crate::geometry::{DVec3, trig};
use crate::machining::tolerance::{SAME as EXACT, STRAIGHT};
use crate::model::Face;

/// Which end of a slope is the short point: there the part's corner is obtuse,
/// at the long point acute.
pub(crate) fn short_end(ends: [DVec3; 2], away: DVec3, size: DVec3) -> usize {
    let outward = away - (ends[0] + ends[1]) / 2.0;
    // The face of the blank at each end that leans most against the slope.
    let lean = |end: DVec3| {
        (0..3)
            .filter_map(|axis| match end[axis] {
                at if at < EXACT => Some(-outward[axis]),
                at if at > size[axis] - EXACT => Some(outward[axis]),
                _ => None,
            })
            .filter(|lean| lean.abs() > STRAIGHT)
            .fold(f64::INFINITY, f64::min)
    };
    usize::from(lean(ends[1]) > lean(ends[0]))
}

/// Angle of a slope off square, degrees: between the cut and the plane square
/// to axis `square_to`, which is how a saw is tilted.
pub(crate) fn off_square(ends: [DVec3; 2], along: usize, square_to: usize) -> f64 {
    let other = 3 - along - square_to;
    let d = ends[1] - ends[0];
    trig::atan2(d[square_to].abs(), d[other].abs()).to_degrees()
}

/// The face a slope's long point lies on, if it is an end or edge mitre from a
/// corner: `along` its own axis, `square_to` the axis it shortens.
pub(crate) fn long_point(
    ends: [DVec3; 2],
    away: DVec3,
    along: usize,
    size: DVec3,
) -> Option<(usize, Face, f64)> {
    let (i, j) = ((along + 1) % 3, (along + 2) % 3);
    let corner = ends.iter().position(|e| section_corner(*e, i, j, size))?;
    let (long, short) = (ends[corner], ends[1 - corner]);
    // The cut shortens the axis along which the material was removed.
    let middle = (long + short) / 2.0;
    let shortens = [i, j].into_iter().find(|a| {
        let other = 3 - along - a;
        let reaches = short[other] < SAME || short[other] > size[other] - SAME;
        reaches && (short[*a] - long[*a]) * (away[*a] - middle[*a]) < 0.0
    })?;
    let other = 3 - along - shortens;
    let face = face_on(other, long[other] > size[other] / 2.0);
    Some((shortens, face, off_square(ends, along, shortens)))
}

/// Whether a point of the cross-section is a corner of it.
pub(crate) fn section_corner(p: DVec3, i: usize, j: usize, size: DVec3) -> bool {
    let on = |k: usize| p[k] < SAME || p[k] > size[k] - SAME;
    on(i) && on(j)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: of a board 20 thick mitred over its thickness the short point is on the
    /// face from which the corner was cut off, whichever face and end that is.
    #[test]
    fn the_short_point_is_on_the_face_that_lost_its_corner() {
        let size = DVec3::new(100.0, 60.0, 20.0);
        for (end, inner) in [(0.0, 20.0), (100.0, 80.0)] {
            for (kept, lost) in [(0.0, 20.0), (20.0, 0.0)] {
                let (long, short) = (DVec3::new(end, 0.0, kept), DVec3::new(inner, 0.0, lost));
                let away = DVec3::new(end, 0.0, lost);
                assert_eq!(short_end([long, short], away, size), 1, "{short}");
                assert_eq!(short_end([short, long], away, size), 0, "{short}");
            }
        }
    }
}
