//! Mitred and bevelled ends: long point and short point.

use crate::geometry::trig;
use crate::joinery::{CutKind, WorkedPart};

/// How far apart two lengths must lie to be two lengths, mm.
const APART: f64 = 0.05;

/// The sloping ends of a part.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct EndCuts {
    /// Length from long point to long point along the grain, mm.
    pub long_point: f64,
    /// Length from short point to short point, mm.
    pub short_point: f64,
    /// Slope of the near end from square, degrees; `None` for a square end.
    pub near: Option<f64>,
    /// Slope of the far end from square, degrees; `None` for a square end.
    pub far: Option<f64>,
}

/// The sloping ends of `part`, read from the faces its mitre and bevel cuts
/// left; `None` if both ends are square. A face counts for an end when its
/// normal leans to that end by more than it leans away (up to 80° from square),
/// so that long tapers along an edge do not count.
pub fn end_cuts(part: &WorkedPart) -> Option<EndCuts> {
    let near = end(part, -1.0);
    let far = end(part, 1.0);
    if near.is_none() && far.is_none() {
        return None;
    }
    let (near_long, near_short, near_angle) = near.unwrap_or((0.0, 0.0, 0.0));
    let (far_long, far_short, far_angle) = far.unwrap_or((part.size.x, part.size.x, 0.0));
    Some(EndCuts {
        long_point: tidy(far_long - near_long),
        short_point: tidy(far_short - near_short),
        near: near.map(|_| tidy(near_angle)),
        far: far.map(|_| tidy(far_angle)),
    })
}

/// Long point, short point (part x, mm) and slope (degrees) of the sloping end
/// that looks along `way` (-1 near, +1 far).
fn end(part: &WorkedPart, way: f64) -> Option<(f64, f64, f64)> {
    let mut found: Option<(f64, f64, f64)> = None;
    for face in &part.solid.faces {
        let sloping = face
            .from
            .cutter
            .and_then(|cutter| part.cuts.get(cutter as usize))
            .is_some_and(|cut| matches!(cut.kind, CutKind::Mitre | CutKind::Bevel));
        let lean = face.plane.normal.x * way;
        // cos 80° and cos of half a hundredth degree.
        if !sloping || lean <= 0.174 || lean >= 0.999_999 {
            continue;
        }
        let along = face
            .loops
            .iter()
            .flatten()
            .filter_map(|i| part.solid.points.get(*i as usize))
            .map(|point| point.x * way);
        let (low, high) = along.fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
        if high - low < APART {
            continue;
        }
        let (low, high, angle) = match found {
            Some((long, short, angle)) => (low.min(short * way), high.max(long * way), angle),
            None => (low, high, trig::acos(lean).to_degrees()),
        };
        found = Some((high * way, low * way, angle));
    }
    found
}

/// Rounded to a thousandth, so that lists do not show the noise of f64.
pub(super) fn tidy(value: f64) -> f64 {
    let rounded = (value * 1000.0).round() / 1000.0;
    if rounded == 0.0 { 0.0 } else { rounded }
}
