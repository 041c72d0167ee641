//! Lengths in sentences, in the unit of the sheet.

use crate::measure::{LengthStyle, Unit};

/// How a sheet words lengths.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    /// The style of its lengths.
    pub lengths: LengthStyle,
}

impl Words {
    /// The usual words of a sheet in `unit`.
    pub fn of(unit: Unit) -> Self {
        Self { lengths: LengthStyle::of(unit) }
    }

    /// A length with its unit: `600 mm`, `23 5/8″`.
    pub fn length(self, mm: f64) -> String {
        self.lengths.text(mm)
    }

    /// A length without its unit, beside others that have it.
    pub fn figure(self, mm: f64) -> String {
        self.lengths.show(mm).to_string()
    }

    /// The sizes something is bought by, `4.5 × 30`: in inches where all are whole
    /// fractions of one, else as it is sold, in millimetres: a screw of 4.5 mm is
    /// not to be had as one of 3/16 in.
    pub fn bought(self, sizes: &[f64]) -> String {
        let metric = self.lengths.unit == Unit::Mm;
        let odd = sizes.iter().any(|size| self.lengths.show(*size).rounded);
        let style = if odd { LengthStyle::MM } else { self.lengths };
        let figures: Vec<String> = sizes.iter().map(|size| style.show(*size).to_string()).collect();
        let unit = if style.unit == Unit::Mm && !metric { " mm" } else { "" };
        format!("{}{unit}", figures.join(" × "))
    }
}
