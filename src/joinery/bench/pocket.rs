//! Pockets with round ends sunk into a meeting plane, and the wall they leave.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::solid::Prism;

/// Least wood between the bottom or side of a pocket and any face, mm (common
/// practice, no source).
pub(in crate::joinery) const WALL: f64 = 3.0;

/// Space left beyond the edge of what stands in a channel, mm: it bottoms on glue and
/// dust before its shoulders close (common practice, no source).
pub(in crate::joinery) const SLACK: f64 = 0.5;

/// Into how many parts a thickness is divided to see what is cut out of it.
const THIRDS: f64 = 3.0;

/// The third of a thickness that a tongue, tenon or channel takes: two walls as thick as
/// itself are left beside it (common practice, no source).
pub(in crate::joinery) fn third(thick: f64) -> f64 {
    thick / THIRDS
}

/// Size of a pocket with round ends, mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Oblong {
    /// From round end to round end.
    pub(in crate::joinery) length: f64,
    /// Across: the cutter.
    pub(in crate::joinery) width: f64,
    /// How deep it is sunk.
    pub(in crate::joinery) depth: f64,
}

/// A pocket with round ends, its length along `along`, sunk from `centre` along `into`.
/// `None` if a direction is null.
pub(in crate::joinery) fn pocket(centre: DVec3, along: DVec3, into: DVec3, size: Oblong) -> Option<Prism> {
    let Oblong { length, width, depth } = size;
    let at = Placement::looking(centre, into, along)?;
    // A pocket no longer than wide is a round hole.
    let half = 0.5 * (length - width).max(0.0);
    let outline = Outline::stadium(DVec2::new(-half, 0.0), DVec2::new(half, 0.0), 0.5 * width);
    Some(Prism { at, outline, from: 0.0, to: depth })
}
