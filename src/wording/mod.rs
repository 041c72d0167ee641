//! Facts in, sentences out: what a sheet or list says of a joint, in the unit and
//! rounding of that sheet. No other stage after joinery makes or reads sentences
//! about joints.
//!
//! Comes in: facts of joints, set-ups of machines. Goes out: one line of text each. Knows nothing of
//! solids, paper or scripts.

mod items;
mod joints;
mod lengths;
pub mod setups;

pub use joints::Naming;
pub use lengths::Words;
