//! Rooms that a step shuts in, so that a brush no longer comes to their inside.

use super::step::Step;
use crate::geometry::DVec3;
use crate::joinery::{WorkedJob, WorkedPart};

/// Share of a side of a body from which parts at it close it: the rest is the edges of the
/// parts beside them.
const CLOSED: f64 = 0.6;
/// A part this near a side of its body, or a tenth of the body's depth, stands at it, mm.
const AT_SIDE: f64 = 40.0;
/// A hand with a brush goes into an opening this wide, mm (common practice, no source).
const HAND: f64 = 150.0;
/// So deep a narrow room can still be brushed from its mouth, mm (common practice, no
/// source).
const BRUSH: f64 = 250.0;

/// The parts that stand round a room which a glued step shuts in; none where it stays open
/// to a hand.
pub(super) fn shut_in(worked: &WorkedJob, step: &Step) -> Vec<usize> {
    let mut parts: Vec<usize> = step.onto().into_iter().chain(step.adds()).chain(step.together()).collect();
    parts.sort_unstable();
    parts.dedup();
    let boxes: Vec<(DVec3, DVec3)> =
        parts.iter().filter_map(|part| worked.parts.get(*part)).map(around).collect();
    let whole = boxes.iter().copied().reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
    let Some((low, high)) = whole else { return Vec::new() };
    let closed: Vec<(usize, bool)> = (0..3)
        .flat_map(|axis| [(axis, false), (axis, true)])
        .filter(|side| covered(&boxes, (low, high), *side) > CLOSED)
        .collect();
    let open: Vec<usize> = (0..3)
        .flat_map(|axis| [(axis, false), (axis, true)])
        .filter(|side| !closed.contains(side))
        .map(|(axis, _)| axis)
        .collect();
    let size = high - low;
    let is_shut = match open.as_slice() {
        [] => true,
        [axis] => {
            let across = (0..3).filter(|other| other != axis).map(|other| size[other]);
            across.fold(f64::INFINITY, f64::min) < HAND && size[*axis] > BRUSH
        }
        _ => false,
    };
    if is_shut { parts } else { Vec::new() }
}

/// Box of a part where it stands.
fn around(part: &WorkedPart) -> (DVec3, DVec3) {
    let points = part.solid.points.iter().map(|p| part.at.point(*p));
    points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)))
}

/// Share of one side of a body, low or high along an axis, that parts standing at it cover.
fn covered(boxes: &[(DVec3, DVec3)], (low, high): (DVec3, DVec3), (axis, far): (usize, bool)) -> f64 {
    let (a, b) = ((axis + 1) % 3, (axis + 2) % 3);
    let near = AT_SIDE.min(0.5 * (high[axis] - low[axis]));
    let at_side = |one: &&(DVec3, DVec3)| {
        if far {
            one.1[axis] > high[axis] - near && one.0[axis] > low[axis] + near
        } else {
            one.0[axis] < low[axis] + near && one.1[axis] < high[axis] - near
        }
    };
    let whole = (high[a] - low[a]) * (high[b] - low[b]);
    let area: f64 =
        boxes.iter().filter(at_side).map(|one| (one.1[a] - one.0[a]) * (one.1[b] - one.0[b])).sum();
    if whole > 0.0 { area / whole } else { 0.0 }
}
