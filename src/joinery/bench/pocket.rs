//! Pockets with round ends sunk into a meeting plane, and the wall they leave.

use super::blank::corners;
use super::seen::Bench;
use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::solid::Prism;

/// Least wood between the bottom or side of a pocket and any face, mm (common
/// practice, no source).
pub(in crate::joinery) const WALL: f64 = 3.0;

/// A pocket with round ends: `length` along `along`, `width` across, sunk from
/// `centre` along `into` for `depth`, mm. `None` if a direction is null.
pub(in crate::joinery) fn pocket(
    centre: DVec3,
    along: DVec3,
    into: DVec3,
    (length, width, depth): (f64, f64, f64),
) -> Option<Prism> {
    let at = Placement::looking(centre, into, along)?;
    let half = 0.5 * (length - width).max(0.0);
    let outline = Outline::stadium(DVec2::new(-half, 0.0), DVec2::new(half, 0.0), 0.5 * width);
    Some(Prism { at, outline, from: 0.0, to: depth })
}

impl Bench<'_> {
    /// Wood left round a pocket of `part`, mm; negative where it breaks through.
    /// Its mouth, which looks against the way it is sunk, does not count.
    pub(in crate::joinery) fn wall_round(&self, part: usize, pocket: &Prism) -> f64 {
        self.grown[part].wall(&corners(pocket), -pocket.at.z)
    }
}
