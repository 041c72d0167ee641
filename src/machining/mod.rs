//! What is done to each part, in which order, from which face, and what a machine
//! is set to for it.
//!
//! Comes in: a job and its worked parts. Goes out: operations of each part, and
//! set-ups, which are operations of several parts that share one setting. All in
//! millimetres and degrees: the words are made by [`wording`](crate::wording).

pub mod ends;
pub(crate) mod feature;
mod later;
mod machined;
mod made_up;
pub mod operation;
mod of_cut;
mod of_slope;
pub mod places;
pub(crate) mod rough;
pub(crate) mod sawn;
mod sequence;
mod set;
pub mod setting;
pub mod setup;
pub(crate) mod tolerance;
#[cfg(test)]
mod tests;
mod trims;

pub use later::later;
pub use machined::Machined;
