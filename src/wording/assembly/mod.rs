//! The order of assembly in words.

mod called;
mod cautions;
mod clamped;
mod dry;
mod finishing;
mod fitted;
mod making;
mod rows;
mod telling;
mod watching;

pub use finishing::{FinishRow, FinishTable, finish_table, finishing};
pub use rows::{OfBoards, StepPart, StepRow, rows};
pub use telling::Telling;
