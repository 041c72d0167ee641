//! Every tolerance of machining, with its reason.

/// How far two lengths may differ by reckoning alone, mm: far under any cut, far over
/// the noise of f64.
pub(crate) const SAME: f64 = 1e-6;

/// How far apart two lengths must lie to be two, mm: half of what a list shows.
pub(crate) const APART: f64 = 0.05;
