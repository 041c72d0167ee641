//! What a change of mind does to a job: the pipeline of `compare`, and of a set that
//! follows another.

mod account;
mod compared;
mod nearest;
mod sheets;

pub use account::{Account, Before, account};
pub use compared::{Change, CompareRequest, Earlier, Whole, compared};
pub use nearest::{Nearest, advice, nearest, settle};
pub use sheets::change_files;
