//! What the checks measure parts by.

use crate::geometry::DVec3;
use crate::model::Side;

/// By how much a side must look nearer a direction than another, in cosines: a way
/// between two sides is that of the first.
const NEARER: f64 = 1e-9;

/// Sizes under this are rounding, mm: what a plane iron takes.
pub(super) const TOUCH: f64 = 0.02;

/// The side of the piece a direction looks to, nearest.
pub(super) fn side_of(direction: DVec3) -> Side {
    let mut best = Side::Left;
    for side in Side::ALL {
        if side.normal().dot(direction) > best.normal().dot(direction) + NEARER {
            best = side;
        }
    }
    best
}

/// Least and greatest of some points along a direction, mm.
pub(super) fn range<'a>(points: impl IntoIterator<Item = &'a DVec3>, along: DVec3) -> (f64, f64) {
    points.into_iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
        let at = along.dot(*p);
        (lo.min(at), hi.max(at))
    })
}
