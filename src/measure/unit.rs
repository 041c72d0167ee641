//! Units, and what a length looks like when it is shown.

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
/// Kilograms to the pound avoirdupois (international yard and pound agreement, 1959).
pub const POUND: f64 = 0.453_592_37;
/// Ounces to the pound.
pub const OUNCES: f64 = 16.0;
/// Litres to the pint of the United States: 28.875 cubic inches of 25.4 mm.
pub const PINT: f64 = 0.473_176_473;
/// Square metres to the square foot of 304.8 mm.
pub const SQUARE_FOOT: f64 = 0.092_903_04;

impl Unit {
    /// Millimetres in one of this unit.
    pub fn in_mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Inch => INCH,
        }
    }

    /// The short name used in scripts and on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Inch => "in",
        }
    }
}

/// How lengths are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LengthStyle {
    /// Unit of the drawing.
    pub unit: Unit,
    /// Finest inch fraction shown: 16, 32 or 64. Ignored for mm.
    pub finest: u32,
    /// Decimals of mm: 0 shows whole millimetres, 1 at most one decimal; a
    /// zero decimal is never shown.
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
