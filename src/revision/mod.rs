//! What a change of a job does to its parts, above all to those that are cut already.
//!
//! Comes in: a job as it was and as it is, both worked. Goes out: for each part what
//! becomes of it, what that loses, and what new parts can be got out of old ones. Knows
//! nothing of files and sentences.

mod compared;
mod fit;
mod kept;
mod left;
mod lost;
mod saved;
mod spare;
mod tick;
mod tolerance;

pub use compared::{Fate, Pair, Standing, compare};
pub use fit::{Off, Trim, Unfit};
pub use kept::{Kept, keep};
pub use left::{
    LeftOver, SavedLayouts, SavedPiece, SavedSheet, SavedSize, left_over, saved_layouts, without,
};
pub use lost::{Lost, Value, lost, values};
pub use saved::{CutPart, SavedJob, SavedPart, SavedSetting, SavedState, SavedText, made_otherwise, read};
pub use spare::{Salvage, Spare, offer, salvaged, spares};
pub use tick::{Ticked, ticked};
