//! Mitred and bevelled ends: long point and short point.

use super::tolerance::APART;
use crate::geometry::{DVec3, Plane, trig};
use crate::joinery::{CutKind, WorkedPart};

/// Cosine of the steepest slope that counts as an end: 80° from square.
const STEEPEST: f64 = 0.174;

/// Cosine of half a hundredth degree: an end nearer to square than that is square.
const SQUARE: f64 = 0.999_999;

/// Unit normals of parallel faces differ by less: a twentieth of a degree, half of what lists
/// show.
const PARALLEL: f64 = 9e-4;

/// Figures kept after the point.
const KEPT: f64 = 1000.0;

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
    /// Length along each edge, mm, where both ends are cut parallel: all edges are then
    /// equally long, and no point is the long one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edge: Option<f64>,
}

/// The sloping ends of `part`, read from the faces its mitre and bevel cuts
/// left; `None` if both ends are square. A face counts for an end when its
/// normal leans to that end by more than it leans away (up to 80° from square),
/// so that long tapers along an edge do not count.
pub fn end_cuts(part: &WorkedPart) -> Option<EndCuts> {
    let near = slope(part, -DVec3::X);
    let far = slope(part, DVec3::X);
    if near.is_none() && far.is_none() {
        return None;
    }
    let square = |at| Slope { long: at, short: at, angle: 0.0, plane: None };
    let (low, high) = (near.unwrap_or(square(0.0)), far.unwrap_or(square(part.size.x)));
    Some(EndCuts {
        // Seen along -x the near end's places are negative.
        long_point: tidy(high.long + low.long),
        short_point: tidy(high.short + low.short),
        near: near.map(|end| tidy(end.angle)),
        far: far.map(|end| tidy(end.angle)),
        edge: near.zip(far).and_then(|(near, far)| along_edges(near.plane?, far.plane?)),
    })
}

/// Length along the edges of a part between end faces in two planes, if these are parallel.
fn along_edges(near: Plane, far: Plane) -> Option<f64> {
    let parallel = (near.normal + far.normal).length() < PARALLEL;
    // Both normals point out: on a line along x the planes lie this far apart.
    parallel.then(|| tidy((near.offset + far.offset) / far.normal.x))
}

/// A sloping end or edge.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slope {
    /// How far its outermost point reaches the way the end looks, mm.
    pub(crate) long: f64,
    /// How far the point reaches that lies furthest back, mm.
    pub(crate) short: f64,
    /// Slope from square, degrees.
    pub(crate) angle: f64,
    /// The plane of its face, where it is but one.
    pub(crate) plane: Option<Plane>,
}

/// The slope that mitre and bevel cuts left on the side of `part` that looks
/// `toward` (an axis of the part, unit, with its sign); `None` if it is square.
pub(crate) fn slope(part: &WorkedPart, toward: DVec3) -> Option<Slope> {
    let mut found: Option<Slope> = None;
    for face in &part.solid.faces {
        let sloping = face
            .from
            .cutter
            .and_then(|cutter| part.cuts.get(cutter as usize))
            .is_some_and(|cut| matches!(cut.kind, CutKind::Mitre | CutKind::Bevel));
        let lean = face.plane.normal.dot(toward);
        if !sloping || lean <= STEEPEST || lean >= SQUARE {
            continue;
        }
        let along = face
            .loops
            .iter()
            .flatten()
            .filter_map(|i| part.solid.points.get(*i as usize))
            .map(|point| point.dot(toward));
        let (low, high) = along.fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
        if high - low < APART {
            continue;
        }
        found = Some(match found {
            Some(one) => Slope {
                long: one.long.max(high),
                short: one.short.min(low),
                plane: one.plane.filter(|plane| same_plane(plane, &face.plane)),
                ..one
            },
            None => Slope {
                long: high,
                short: low,
                angle: trig::acos(lean).to_degrees(),
                plane: Some(face.plane),
            },
        });
    }
    found
}

/// Whether two faces lie in one plane, as those beside a mortise in a cut end do.
fn same_plane(a: &Plane, b: &Plane) -> bool {
    (a.normal - b.normal).length() < PARALLEL && (a.offset - b.offset).abs() < APART
}

/// Rounded to a thousandth, so that lists do not show the noise of f64.
pub(crate) fn tidy(value: f64) -> f64 {
    let rounded = (value * KEPT).round() / KEPT;
    if rounded == 0.0 { 0.0 } else { rounded }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A leg that leans 6° out of upright is cut parallel at top and foot: by hand, each of its
    /// edges is the height between over the cosine.
    #[test]
    fn edges_between_parallel_ends_are_equally_long() {
        let (sin, cos) = trig::sin_cos(6.0_f64.to_radians());
        let out = DVec3::new(cos, sin, 0.0);
        let plane = |at: f64, normal: DVec3| Plane::through(DVec3::X * at, normal).expect("a normal");
        let edge = along_edges(plane(10.0, -out), plane(440.0, out)).expect("parallel");
        assert!((edge - 430.0).abs() < 1e-9, "{edge}");
        let other = DVec3::new(cos, -sin, 0.0);
        assert_eq!(along_edges(plane(10.0, -out), plane(440.0, other)), None);
    }
}
