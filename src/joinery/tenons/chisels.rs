//! Widths of the chisels that mortises are cut with, which tenons are made to.

use crate::measure::{INCH, Unit};

/// Sixteenths in an inch.
const SIXTEENTHS: f64 = 16.0;
/// Widths of mortise chisels, mm.
const CHISELS: &[f64] = &[3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0];
/// Widths of mortise chisels, sixteenths of an inch.
const CHISELS_INCH: &[f64] = &[2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0];

/// The chisel nearest to a width, mm.
pub(in crate::joinery) fn chisel(unit: Unit, width: f64) -> f64 {
    let all: Vec<f64> = match unit {
        Unit::Mm => CHISELS.to_vec(),
        Unit::Inch => CHISELS_INCH.iter().map(|n| n / SIXTEENTHS * INCH).collect(),
    };
    let nearest = all.into_iter().min_by(|a, b| (a - width).abs().total_cmp(&(b - width).abs()));
    nearest.unwrap_or(width)
}
