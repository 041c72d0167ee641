//! Lengths and angles: reading them and showing them.
//!
//! Everything inside the program is millimetres and f64; this is the only
//! place that turns numbers into text and text into numbers.

/// The unit a script or drawing is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Inches.
    Inch,
}

/// One inch in mm, exactly (the international inch, ISO 31-1).
pub const INCH: f64 = 25.4;

/// How lengths are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LengthStyle {
    /// Unit of the drawing.
    pub unit: Unit,
    /// Finest inch fraction shown: 16, 32 or 64. Ignored for mm.
    pub finest: u32,
    /// Decimals of mm: 0 drops a zero decimal, 1 shows at most one.
    pub decimals: u8,
    /// Feet and inches from one foot up.
    pub feet: bool,
}

/// A length as shown: `23 5/8″` is whole `23`, fraction (5, 8), after `″`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShownLength {
    /// Sign, feet and whole part; empty if the fraction stands alone.
    pub whole: String,
    /// Fraction in lowest terms.
    pub fraction: Option<(u32, u32)>,
    /// Unit sign after it; empty for mm.
    pub after: &'static str,
    /// True when the value shown is not the value meant (rounded by more than
    /// 0.001 mm for inches; for mm by more than half a last decimal never).
    pub rounded: bool,
}
