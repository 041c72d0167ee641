//! The cutting list; later sheet and stick layouts, buying, settings, labels.
//!
//! Comes in: a job and its worked parts. Goes out: rows that the drawn list,
//! the CSV and the JSON share, so that they cannot disagree. Knows nothing of
//! paper.

mod ends;
mod list;
mod needs;
pub mod sheets;
pub mod sticks;

pub use ends::{EndCuts, end_cuts};
pub use list::{CutRow, CuttingList, Lipped, cutting_list};
pub use needs::{Need, needs};
