//! How moist wood becomes in the air round it.

use crate::geometry::tolerance::HAIR;

/// Warmth of a room that is lived in, degrees Celsius (common practice, no source).
pub const ROOM: f64 = 20.0;

/// A polynomial of the temperature, degrees Celsius.
fn at(celsius: f64, [constant, linear, square]: [f64; 3]) -> f64 {
    constant + celsius * (linear + celsius * square)
}

/// The moisture content that wood comes to in air of `celsius` and `humidity` (relative,
/// per cent), per cent: the sorption equation of the Wood Handbook, ch. 4, as given by
/// W. T. Simpson, Equilibrium moisture content of wood in outdoor locations, FPL-RN-0268
/// (1998).
pub fn equilibrium(celsius: f64, humidity: f64) -> f64 {
    const WATER: f64 = 1800.0;
    let share = (humidity / 100.0).clamp(0.0, 1.0);
    let weight = at(celsius, [349.0, 1.29, 0.0135]);
    let k = at(celsius, [0.805, 0.000_736, -2.73e-6]);
    let first = at(celsius, [6.27, -0.009_38, -0.000_303]);
    let second = at(celsius, [1.91, 0.0407, -0.000_293]);
    let wet = k * share;
    let (one, two) = (first * wet, first * second * wet * wet);
    // Hot and soaked the equation has a pole: no wood of furniture is there.
    let free = (1.0 - wet).max(HAIR);
    WATER / weight * (wet / free + (one + 2.0 * two) / (1.0 + one + two))
}
