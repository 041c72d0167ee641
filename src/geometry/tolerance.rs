//! How much two figures may differ and still be one: the noise of `f64`, never a
//! tolerance of the shop.

/// Lengths nearer than this are one, mm: far above the noise of sums of sizes of
/// furniture (about 1e-11), far below what any tool can show.
pub const HAIR: f64 = 1e-6;

/// The same of ratios and of products of unit vectors.
pub const NOISE: f64 = 1e-9;

/// Two unit vectors whose product is above this run more along one another than
/// across: less than 45 degrees apart.
pub const MOSTLY: f64 = 0.7;

/// Two unit vectors whose product is above this are one direction to the eye: less
/// than a degree apart.
pub const ONE_WAY: f64 = 0.9999;

/// Steps in a millimetre of sizes that are compared or kept as whole numbers: finer
/// than any figure printed.
pub const STEPS: f64 = 100.0;

/// Angles below this are square, degrees: half of the last figure shown.
pub const LEAST_ANGLE: f64 = 0.005;

/// Less than this is nothing at all: what a division must not be made by.
pub const NOTHING: f64 = 1e-12;
