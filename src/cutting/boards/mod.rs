//! Boards of solid timber laid out: parts along the grain, boards of any of the sizes
//! to be had, at the least volume. What the general search of
//! [`sheets`](super::sheets) finds is held against boards that are all ripped first,
//! all crosscut first, and the better of the two for each. Nothing here knows of
//! furniture, the clock or chance.

mod choose;
mod lay_on_boards;
mod lengths_alone;
mod pieces;
mod strips;

pub use choose::{First, by_strips};
pub use lay_on_boards::{BoardPlan, lay_on_boards};
