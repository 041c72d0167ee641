//! Every tolerance of machining, with its reason.

/// How far two lengths may differ by reckoning alone, mm: far under any cut, far over
/// the noise of f64.
pub(crate) const SAME: f64 = 1e-6;

/// How far apart two lengths must lie to be two, mm: half of what a list shows.
pub(crate) const APART: f64 = 0.05;

/// What of a unit direction is none, for figures read back from carved faces: they come
/// through several turns of axes.
pub(crate) const NO_LEAN: f64 = 1e-6;

/// The same for figures that a cut was placed by, which come through one turn, and for the
/// sides of an outline, mm.
pub(crate) const STRAIGHT: f64 = 1e-9;

/// Cosine from which a direction lies along an axis or along another.
pub(crate) const ALONG: f64 = 1.0 - 1e-9;

/// How near a point lies to a line or an end of the part that it is told to lie on, mm: a
/// hundredth, as fine as anything is set.
pub(crate) const ON: f64 = 0.01;

/// Sine under which a plane runs so nearly along a part that it ends it nowhere: 6 degrees.
pub(crate) const ENDS: f64 = 0.1;

/// How far a blade may be over its greatest tilt, degrees: a scale is read no finer.
pub(crate) const TILTED: f64 = 0.05;
