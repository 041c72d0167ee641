//! The layouts of a job: every part of sheet goods and of boards laid out on
//! what can be bought or lies in the shop.

mod board_jobs;
mod board_sizes;
mod bought_boards;
mod everything;
mod grain_runs;
mod grid;
mod laid;
mod lengths;
mod sequenced;
mod sheet_jobs;
mod sheet_stock;

pub use everything::layouts;
pub use grid::Grid;
pub use laid::{Alike, Layouts, SheetCutting, SheetRow};
