//! Lengths of the layouts, in whole tenths of a millimetre.

use crate::cutting::sheets::mm;
use crate::measure::{LengthStyle, Unit};
use crate::model::Job;

/// Tenths in a millimetre.
const PER_MM: f64 = 10.0;

/// Part of a tenth that is the noise of reckoning and no length.
const NOISE: f64 = 1e-6;

/// A length in the 0.1 mm of the layouts, rounded up, so that nothing is cut
/// short.
#[allow(clippy::cast_possible_truncation, reason = "parts are shorter than 100 m")]
pub(super) fn tenths(mm: f64) -> i64 {
    libm::ceil(mm * PER_MM - NOISE) as i64
}

/// A length of the layouts in the unit of the job.
pub(super) fn shown(job: &Job, length: i64) -> String {
    match job.unit {
        Unit::Mm => mm(length),
        Unit::Inch => LengthStyle::of(job.unit).text(length as f64 / PER_MM),
    }
}

/// A length of stock in 0.1 mm, rounded down.
#[allow(clippy::cast_possible_truncation, reason = "sheets are shorter than 10 m")]
pub(super) fn floor(mm: f64) -> i64 {
    libm::floor(mm * PER_MM + NOISE) as i64
}
