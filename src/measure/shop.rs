//! The sizes a shop sets out by where it is free to choose: whole millimetres as they are
//! told, or, where it works in inches, divisions of its rule. Common practice, no source.

use super::unit::{INCH, Unit};

/// Steps of an inch that an inch shop sets out by, for lengths up to so many mm: fits, hairs,
/// thicknesses, stiles and plinths, whole pieces.
const STEPS: [(f64, f64); 5] =
    [(1.2, 1.0 / 32.0), (5.0, 1.0 / 16.0), (40.0, 1.0 / 8.0), (200.0, 0.5), (f64::INFINITY, 1.0)];

/// The finest division of a rule in inches that a shop sets out by, mm.
const FINE: f64 = INCH / 16.0;

/// Steps that arithmetic leaves, of one.
pub(crate) const NOISE: f64 = 1e-9;

/// The step in mm that an inch shop sets out a length of so many mm by.
pub(crate) fn inch_step(mm: f64) -> f64 {
    STEPS.iter().find(|(up_to, _)| mm.abs() <= *up_to).map_or(1.0, |(_, inches)| *inches) * INCH
}

/// A size in mm that the program chooses, as a shop of `unit` sets out: as it stands in
/// millimetres, in inches the nearest by its steps.
pub fn near(unit: Unit, mm: f64) -> f64 {
    match unit {
        Unit::Mm => mm,
        Unit::Inch => (mm / inch_step(mm)).round() * inch_step(mm),
    }
}

/// The next size below, in mm, that a rule of `unit` shows: whole millimetres, or sixteenths of
/// an inch. What stands on one but for rounding keeps it, and what is under one.
pub fn down(unit: Unit, mm: f64) -> f64 {
    let by = if unit == Unit::Mm { 1.0 } else { FINE };
    if mm < by { mm } else { (mm / by + NOISE).floor() * by }
}

/// A depth in mm that is at least `mm`, as a stop is set in a shop of `unit`: as it stands in
/// millimetres, in inches on the next sixteenth.
pub fn up(unit: Unit, mm: f64) -> f64 {
    match unit {
        Unit::Mm => mm,
        Unit::Inch => (mm / FINE - NOISE).ceil() * FINE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 25.4 mm to the inch, held exactly: 22 mm is 6.93 eighths, 3 mm 1.89 sixteenths, 150 mm
    /// 11.8 halves.
    #[test]
    fn inch_shops_choose_by_their_rule() {
        let inches = [
            (22.0, 0.875),
            (18.0, 0.75),
            (12.5, 0.5),
            (3.0, 0.125),
            (150.0, 6.0),
            (1200.0, 47.0),
            (-3.0, -0.125),
        ];
        for (mm, inch) in inches {
            assert_eq!((near(Unit::Inch, mm), near(Unit::Mm, mm)), (inch * INCH, mm));
        }
        let below = [
            (Unit::Mm, 387.6, 387.0),
            (Unit::Mm, 12.0, 12.0),
            (Unit::Mm, 0.4, 0.4),
            (Unit::Inch, 26.0, INCH),
            (Unit::Inch, 3.0 * 0.125 * INCH, 0.375 * INCH),
        ];
        for (unit, mm, wanted) in below {
            assert!((down(unit, mm) - wanted).abs() < NOISE, "{mm} is {}", down(unit, mm));
        }
    }
}
