//! The order of assembly in words.

mod finishing;
mod rows;
mod telling;

pub use finishing::finishing;
pub use rows::{StepPart, StepRow, rows};
pub use telling::Telling;
