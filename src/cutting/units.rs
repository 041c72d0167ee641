//! From the millimetres of the lists to what is bought and weighed.

/// Square metres in a square millimetre.
pub(super) const SQUARE_METRES: f64 = 1e-6;

/// Cubic metres in a cubic millimetre.
pub(super) const CUBIC_METRES: f64 = 1e-9;

/// Cubic centimetres in a cubic millimetre.
pub(super) const CUBIC_CENTIMETRES: f64 = 1e-3;

/// Per cent in a whole.
pub(super) const PER_CENT: f64 = 100.0;

/// Grams in a kilogram, millilitres in a litre.
pub(super) const THOUSAND: f64 = 1e3;
