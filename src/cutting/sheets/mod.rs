//! Sheet layouts: parts out of sheets with cuts that go right across, at the
//! least cost, then with the largest offcut left.
//!
//! [`lay_out()`] takes a [`SheetJob`] and gives a [`SheetPlan`]; [`cut_sequence()`]
//! turns one layout of it into cuts with fence distances. Nothing here knows
//! of furniture, the clock or chance: the same job, [`Effort`] and stop give
//! the same plan.

mod bounds;
mod check_job;
mod cut_sequence;
mod explain;
mod lay_out;
mod model;
mod offcut;
mod panel;
mod search;
pub(crate) mod seeded;
mod shop;
mod state;
#[cfg(test)]
mod tests;
mod write_out;

pub use cut_sequence::{Becomes, Cut, CutKind, CutPanel, CutSequence, Fence, cut_sequence};
pub use lay_out::lay_out;
pub use model::{
    Axis, BadJob, Effort, GrainRun, Piece, RunPlace, SheetJob, SheetLayout, SheetPart, SheetPlan, SheetStock,
    Unplaced, What, Why,
};
pub use search::Stop;

pub(crate) use check_job::mm;
