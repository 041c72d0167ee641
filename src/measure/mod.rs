//! Lengths, angles, mass, money and dates: reading them and showing them.
//!
//! Everything inside the program is millimetres and f64; this is the only
//! place that turns numbers into text and text into numbers. Rounding happens
//! here and once.

mod date;
pub mod force;
mod read;
mod shop;
mod show;
mod unit;

pub use date::{date, days_after};
pub use read::{ReadError, as_meant, read_length, read_pair};
pub(crate) use shop::{NOISE, inch_step};
pub use shop::{down, near, up};
pub use show::{MILLIONTHS, angle, in_script, mass, money, number};
pub use unit::{INCH, LengthStyle, OUNCES, PINT, POUND, SQUARE_FOOT, ShownLength, Unit};
