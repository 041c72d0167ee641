//! How much two figures may differ and still be one: the noise of `f64`, never a
//! tolerance of the shop.

/// Lengths nearer than this are one, mm: far above the noise of sums of sizes of
/// furniture (about 1e-11), far below what any tool can show.
pub const HAIR: f64 = 1e-6;

/// The same of ratios and of products of unit vectors.
pub const NOISE: f64 = 1e-9;
