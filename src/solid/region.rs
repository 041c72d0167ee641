//! Flat regions on the integer grid and their boolean operations.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::i_float::int::point::IntPoint;

use super::tolerance::{FAR, GRID};
use crate::geometry::DVec2;

/// No corner of a face or cutter lies farther out in the plane of another, mm: past it
/// the integer grid would overflow.
const BEYOND: f64 = 8.0 * FAR;

/// A closed chain of grid points.
pub(crate) type Contour = Vec<IntPoint<i64>>;

/// A region: contours under the non-zero rule, outer counter-clockwise.
#[derive(Clone, Debug, Default)]
pub(crate) struct Region(pub(crate) Vec<Contour>);

impl Region {
    /// The region inside some rings, rounded to the grid.
    pub(crate) fn of_rings<'a>(rings: impl IntoIterator<Item = &'a Vec<DVec2>>) -> Self {
        Self(rings.into_iter().map(|r| r.iter().map(|p| to_grid(*p)).collect()).collect())
    }

    /// True if nothing is in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What both hold.
    pub(crate) fn and(&self, other: &Self) -> Self {
        if self.clear_of(other) {
            return Self::default();
        }
        self.combine(other, OverlayRule::Intersect)
    }

    /// What this holds and `other` does not.
    pub(crate) fn minus(&self, other: &Self) -> Self {
        self.combine(other, OverlayRule::Difference)
    }

    /// Whether the boxes round the two share nothing.
    fn clear_of(&self, other: &Self) -> bool {
        let (own, others) = (self.reach(), other.reach());
        (0..2).any(|axis| own.0[axis] > others.1[axis] || own.1[axis] < others.0[axis])
    }

    /// Least and greatest corner on the grid, turned about where it is empty.
    fn reach(&self) -> ([i64; 2], [i64; 2]) {
        self.0.iter().flatten().fold(([i64::MAX; 2], [i64::MIN; 2]), |(low, high), p| {
            ([low[0].min(p.x), low[1].min(p.y)], [high[0].max(p.x), high[1].max(p.y)])
        })
    }

    fn combine(&self, other: &Self, rule: OverlayRule) -> Self {
        if self.is_empty() {
            return Self::default();
        }
        let capacity = self.0.iter().chain(&other.0).map(Vec::len).sum();
        let options = IntOverlayOptions { preserve_output_collinear: true, ..IntOverlayOptions::default() };
        let mut overlay = Overlay::<i64>::new_custom(capacity, options, Solver::default());
        overlay.add_source(&self.0, i_overlay::core::overlay::ShapeType::Subject);
        overlay.add_source(&other.0, i_overlay::core::overlay::ShapeType::Clip);
        Self(overlay.overlay(rule, FillRule::NonZero).into_iter().flatten().collect())
    }

    /// The rings back in mm.
    pub(crate) fn rings(&self) -> Vec<Vec<DVec2>> {
        self.0.iter().map(|c| c.iter().map(|p| from_grid(*p)).collect()).collect()
    }

    /// Area, mm2.
    pub(crate) fn area(&self) -> f64 {
        self.rings().iter().map(|r| ring_area(r)).sum()
    }

    /// The box round it in mm: least and greatest corner; `None` if empty.
    pub(crate) fn bounds(&self) -> Option<(DVec2, DVec2)> {
        let mut points = self.0.iter().flatten().map(|p| from_grid(*p));
        let first = points.next()?;
        Some(points.fold((first, first), |(lo, hi), p| (lo.min(p), hi.max(p))))
    }
}

/// Signed area of a ring, mm2, counter-clockwise positive.
pub(crate) fn ring_area(ring: &[DVec2]) -> f64 {
    let Some(&origin) = ring.first() else { return 0.0 };
    let mut sum = 0.0;
    for (i, &a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        sum += (a - origin).perp_dot(b - origin);
    }
    0.5 * sum
}

#[expect(clippy::cast_possible_truncation, reason = "held well inside the grid's range first")]
fn to_grid(p: DVec2) -> IntPoint<i64> {
    // Nothing real lies so far off; the overlay must not overflow on the rest.
    let p = p.clamp(DVec2::splat(-BEYOND), DVec2::splat(BEYOND));
    IntPoint::new((p.x * GRID).round() as i64, (p.y * GRID).round() as i64)
}

fn from_grid(p: IntPoint<i64>) -> DVec2 {
    DVec2::new(p.x as f64 / GRID, p.y as f64 / GRID)
}
