//! Judges finished sheets as a checker at the next board would.
//!
//! Only ink is looked at: what is printed, not what was meant. Rules that carry
//! a number stand in the project's table of drawing checks (DEVELOPERS.md).

mod crossings;
mod finding;
mod heads;
mod hidden;
mod items;
mod judge;
mod letters;
mod lines;
mod rows;
mod scene;
mod site;
mod sizes;
#[cfg(test)]
mod tests;
mod texts;
mod tree;

pub use finding::{Finding, LEAST_LABEL, LEAST_TEXT};
pub use judge::{judge, judge_set};
