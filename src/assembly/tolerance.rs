//! Every tolerance of the order, with its reason.

/// Cosine over which two moves of a step go one way: a tenth of a degree, far over the
/// noise of placing a part.
pub(super) const SAME_WAY: f64 = 1.0 - 1e-6;

/// Rise of a way, unit, up to which it is level.
pub(super) const LEVEL: f64 = 1e-9;

/// Cosine over which a way is square to a face: 2.5 degrees, as a back that leans a
/// little still goes in flat.
pub(super) const SQUARE: f64 = 0.999;
