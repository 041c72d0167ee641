//! Judges finished sheets as a checker at the next board would.
//!
//! Only ink is looked at: what is printed, not what was meant. `check` gives what
//! it finds as warnings. `rows.rs` reads rows of sizes back from the ink, and
//! `tests.rs` holds a sheet that breaks each rule and one that keeps it.
//!
//! # Rules
//!
//! - D01: sizes of a part that do not hang together.
//! - D02: sizes that follow from others and are not in brackets.
//! - D03: the same thing fixed twice.
//! - D04: text over text, lines or filled sections.
//! - D05: crossing dimension lines.
//! - D06: extension lines over a row that could stand outside.
//! - D07: dimension lines too near an outline.
//! - D08: dimension lines too near one another.
//! - D09: reading direction.
//! - D10: figures of two heights.
//! - D11: heads inside short sizes.
//! - D12: sizes to hidden edges.
//! - D13: length, width and thickness there, once and outermost.
//! - D14: rows in line and figures staggered.
//! - D15: sizes from a datum.
//! - D16: the lean and end of leaders.
//! - D17: ink outside the drawing space.
//! - D18: lines nearer than 0.7 mm.
//! - D19: section and detail letters.
//! - D20: figures that are not their value or do not add up.
//! - D21: part numbers on views and in lists, both ways.
//! - D22: sizes of a wall and of the furniture on it in rows of their own.
//! - D23: sheets of a set numbered, with an index.
//! - D24: "typical" instead of a count.
//! - D25: spans between arrows without a figure.
//! - D26: many holes placed by figures round the views, not in a table.
//! - D27: numbers of holes on views and in tables, both ways.
//!
//! Without a number: `height`, text lower than is read easily; `twice`, a mark drawn
//! over itself; `empty`, a sheet with nothing on it but its frame; `character`, one
//! that the lettering does not have; `nowhere`, ink without a finite place.

mod crossings;
mod finding;
mod heads;
mod hidden;
mod holes;
mod items;
mod judge;
mod letters;
mod lines;
mod order;
mod rows;
mod scene;
mod site;
mod sizes;
#[cfg(test)]
mod tests;
mod texts;
mod tree;

pub use finding::{Finding, LACKS, LEAST_LABEL, LEAST_TEXT};
pub use judge::{judge, judge_set};
