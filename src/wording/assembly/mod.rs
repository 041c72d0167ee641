//! The order of assembly in words.

mod rows;
mod telling;

pub use rows::{StepPart, StepRow, rows};
pub use telling::Telling;
