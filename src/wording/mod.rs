//! Facts in, sentences out: how a sheet or list words a joint, a row of a list or a
//! step, in the unit and rounding of that sheet. No other stage after joinery makes or
//! reads sentences about them.
//!
//! Comes in: facts of joints, set-ups, lists and steps. Goes out: one line of text
//! each. Knows nothing of solids, paper or scripts.

mod amounts;
pub mod assembly;
pub mod change;
mod flat;
mod items;
mod joints;
mod lengths;
mod lists;
pub mod machines;
mod nearby;
pub mod quote;
pub mod setups;

pub use amounts::Ordered;
pub use joints::Naming;
pub use lengths::Words;
pub use lists::cut_already;
