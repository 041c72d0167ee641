//! Every tolerance of comparing, with its reason.

/// Sizes nearer than this are the same, mm: a hundredth, finer than anything is made to.
pub(super) const SAME: f64 = 0.01;

/// Wood under this is none, mm³: facets of one hole, seen from another corner of its
/// part, differ by less, and the smallest cut takes more.
pub(super) const NO_WOOD: f64 = 2.0;

/// Cosine from which the grain of two parts runs alike: 26 degrees.
pub(super) const ALIKE: f64 = 0.9;

/// The widest hole that is plugged, mm: what is wider shows as a patch (common
/// practice, no source).
pub(super) const PLUG: f64 = 12.0;

/// How far two parts under different names may stand apart and still be one and the
/// same, as a share of their piece.
pub(super) const NEAR: f64 = 0.25;

/// How far a saved volume may differ from that made today, as a share of it: figures are
/// saved to a cubic millimetre.
pub(super) const SAVED: f64 = 1e-4;
