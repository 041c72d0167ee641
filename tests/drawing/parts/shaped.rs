//! Slopes sawn and planed: bevels, chamfers and tapers come back from their notes.

use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedPart;

use super::points;
use super::rebuild::{Made, Rebuilt};

/// A mitre or bevel: the saw's angle, and the side of the long point.
pub(super) fn bevel_comes_back(part: &WorkedPart, id: usize, made: &Made) {
    let slope = part.solid.faces.iter().position(|f| f.from.cutter == Some(id as u32));
    let slope = slope.unwrap_or_else(|| panic!("{}: cut {id} leaves no slope", part.name));
    let (_, long) = points(part, slope, |lean| lean < -1e-3);
    let says = made.words.split("long point on ").nth(1).expect("a bevel says its long point");
    assert!(says.starts_with(long), "{}: long point on {long}, not {says}", part.name);
    // The saw leans from square by what the slope leans towards the long point's side.
    let normal = part.solid.faces[slope].plane.normal;
    let lean = if long.contains("edge") { normal.y } else { normal.z };
    let angle = libm::asin(lean.abs()).to_degrees();
    let printed = made.angle.unwrap_or_else(|| panic!("{}: no angle in {}", part.name, made.words));
    assert!((printed - angle).abs() <= 0.051, "{}: {angle} degrees, not {}", part.name, made.words);
}

/// Least and greatest corner of what cut `id` leaves, measured from the corner of
/// what the part fills.
fn left(part: &WorkedPart, id: usize) -> (DVec3, DVec3) {
    let low = part.solid.bounds().expect("a part is not empty").0;
    let faces = part.solid.faces.iter().filter(|f| f.from.cutter == Some(id as u32));
    let corners: Vec<DVec3> =
        faces.flat_map(|f| f.loops.iter().flatten()).map(|i| part.solid.points[*i as usize] - low).collect();
    assert!(!corners.is_empty(), "{}: cut {id} leaves nothing", part.name);
    corners.iter().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(*p), h.max(*p)))
}

/// A chamfer: how wide it is on both faces it lies between.
pub(super) fn chamfer_comes_back(part: &WorkedPart, id: usize, made: &Made, slack: f64) {
    let (low, high) = left(part, id);
    let mut legs = (high - low).to_array();
    legs.sort_by(f64::total_cmp);
    let mut printed = made.printed();
    if made.words.contains('°') {
        printed.retain(|n| (n - 45.0).abs() > 1e-9);
        assert!((legs[0] - legs[1]).abs() < 1e-6, "{}: {legs:?} is not {}", part.name, made.words);
        printed.extend(printed.first().copied());
    }
    assert_eq!(printed.len(), 2, "{}: {}", part.name, made.words);
    printed.sort_by(f64::total_cmp);
    for (leg, printed) in legs.iter().zip(printed) {
        assert!((leg - printed).abs() <= slack, "{}: {legs:?} is not {}", part.name, made.words);
    }
}

/// A taper: where its slope begins and ends on each axis, as far as that is not at
/// a face; on which side of it the wood goes is seen.
pub(super) fn taper_comes_back(part: &WorkedPart, id: usize, rebuilt: &Rebuilt, slack: f64) {
    let (low, high) = left(part, id);
    let (from, to) = part.solid.bounds().expect("a part is not empty");
    for axis in 0..3 {
        let whole = (to - from)[axis];
        let inner = |(a, b): (f64, f64)| [a, b].into_iter().find(|p| *p > slack && *p < whole - slack);
        let (drawn, made) = (inner(rebuilt.extent(id, axis)), inner((low[axis], high[axis])));
        let same = match (drawn, made) {
            (Some(a), Some(b)) => (a - b).abs() <= slack,
            (None, None) => true,
            _ => false,
        };
        assert!(same, "{}: taper on axis {axis}: {drawn:?} on the drawing, {made:?} in the model", part.name);
    }
}

/// A part sawn to a line: each printed corner is one, and each corner within the blank that
/// is straight on both sides is printed, on each axis that it is not at an end of.
pub(super) fn outline_comes_back(part: &WorkedPart, id: usize, rebuilt: &Rebuilt, slack: f64) {
    let (low, high) = part.solid.bounds().expect("a part is not empty");
    let (low, size) = (low, high - low);
    let shape = &part.cuts[id].shape;
    let points = || shape.outline.rings.iter().flat_map(|ring| &ring.points);
    let corners: Vec<DVec3> =
        points().map(|p| shape.at.point(DVec3::new(p.x, p.y, shape.from)) - low).collect();
    let close = |a: f64, b: f64| (a - b).abs() <= slack;
    for axis in [0, 1] {
        let printed = rebuilt.corners(id, axis);
        for at in &printed {
            assert!(
                corners.iter().any(|corner| close(corner[axis], *at)),
                "{}: outline {id} has no corner at {at} along axis {axis}",
                part.name
            );
        }
        let within = |corner: &&DVec3| {
            (0..2).all(|a| corner[a] > -slack && corner[a] < size[a] + slack)
                && corner[axis] > slack
                && corner[axis] < size[axis] - slack
        };
        // Facets of an arc are no corners: its radius and middle are printed.
        for corner in corners.iter().filter(within).filter(|_| shape.outline.arcs.is_empty()) {
            assert!(
                printed.iter().any(|at| close(corner[axis], *at)),
                "{}: the corner {corner:?} of outline {id} is not printed along axis {axis}",
                part.name
            );
        }
    }
}
