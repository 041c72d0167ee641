//! Every tolerance of the order, with its reason.

/// Cosine over which two moves of a step go one way: a tenth of a degree, far over the
/// noise of placing a part.
pub(super) const SAME_WAY: f64 = 1.0 - 1e-6;

/// Rise of a way, unit, up to which it is level.
pub(super) const LEVEL: f64 = 1e-9;

/// Cosine over which a way is square to a face: 2.5 degrees, as a back that leans a
/// little still goes in flat.
pub(super) const SQUARE: f64 = 0.999;

/// How far the back of a show front may lie behind the front of its drawer, mm: glue
/// squeezed out and a saw's set, not a rebate.
pub(super) const AHEAD: f64 = 0.5;

/// How far a corner may lie behind the farthest one in its direction, mm: an eased arris
/// is still the corner that a tape is held to.
pub(super) const CORNER: f64 = 0.5;

/// Depth within which corners lie in one plane, mm.
pub(super) const ONE_PLANE: f64 = 0.5;

/// Lean of a face on which a clamp slides, degrees.
pub(super) const ASKEW: f64 = 0.5;

/// Cosine over which a part comes from behind, or from below: within 45 degrees.
pub(super) const FROM_BEHIND: f64 = 0.7;

/// Feet within this of the lowest stand on the floor, mm.
pub(super) const LEVEL_FEET: f64 = 0.5;

/// Depth of a frame, as a share of its lesser side, up to which it is flat and may wind.
pub(super) const PLANAR: f64 = 0.3;
