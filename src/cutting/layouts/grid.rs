//! What the layouts of a job count lengths in.

use crate::cutting::sheets::mm;
use crate::measure::{INCH, LengthStyle, Unit};
use crate::model::Job;

/// The steps of the layouts: tenths of a millimetre, and in a job in inches the 256th of an
/// inch, which is about as fine and holds every mark of a rule as a whole number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Steps in a millimetre.
    per_mm: f64,
    /// Part of a step that is the noise of reckoning and no length.
    noise: f64,
}

impl Grid {
    /// In millimetres.
    const METRIC: Self = Self { per_mm: 10.0, noise: 1e-6 };
    /// In inches. Rows of the list are kept to the hundredth of a millimetre, which is less
    /// than a tenth of a step: half of that is no length.
    const INCH: Self = Self { per_mm: 256.0 / INCH, noise: 0.06 };

    /// That of a job whose script is in `unit`.
    pub fn of(unit: Unit) -> Self {
        match unit {
            Unit::Mm => Self::METRIC,
            Unit::Inch => Self::INCH,
        }
    }

    /// So many steps in mm.
    pub fn mm(self, steps: i64) -> f64 {
        steps as f64 / self.per_mm
    }

    /// So many square steps in mm².
    pub fn square_mm(self, steps: i64) -> f64 {
        steps as f64 / (self.per_mm * self.per_mm)
    }

    /// A length of mm in steps, rounded up, so that nothing is cut short.
    #[allow(clippy::cast_possible_truncation, reason = "parts are shorter than 100 m")]
    pub(super) fn up(self, mm: f64) -> i64 {
        libm::ceil(mm * self.per_mm - self.noise) as i64
    }

    /// A length of stock of mm in steps, rounded down.
    #[allow(clippy::cast_possible_truncation, reason = "sheets are shorter than 10 m")]
    pub(super) fn down(self, mm: f64) -> i64 {
        libm::floor(mm * self.per_mm + self.noise) as i64
    }
}

/// So many steps of the layouts in the unit of the job.
pub(super) fn shown(job: &Job, steps: i64) -> String {
    match job.unit {
        Unit::Mm => mm(steps),
        Unit::Inch => LengthStyle::of(job.unit).text(Grid::INCH.mm(steps)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 3/8 in is 96 of 256; a saw cut of 1/8 is 32: both whole, so that no layout in
    /// inches stands aside of the marks of a rule.
    #[test]
    fn marks_of_a_rule_are_whole() {
        for sixteenths in 1..800 {
            let mm = f64::from(sixteenths) * INCH / 16.0;
            assert_eq!(Grid::INCH.up(mm), i64::from(sixteenths) * 16);
            assert_eq!(Grid::INCH.down(mm), i64::from(sixteenths) * 16);
            // As the list keeps it.
            assert_eq!(Grid::INCH.up((mm * 100.0).round() / 100.0), i64::from(sixteenths) * 16);
        }
    }

    /// What is no whole step is rounded so that parts are not short and stock is there.
    #[test]
    fn parts_are_rounded_up_and_stock_down() {
        assert_eq!((Grid::METRIC.up(9.525), Grid::METRIC.down(9.525)), (96, 95));
        assert_eq!((Grid::INCH.up(2440.0), Grid::INCH.down(2440.0)), (24_593, 24_592));
    }
}
