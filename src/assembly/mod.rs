//! What blocks what; order; steps.
//!
//! Comes in: a [`WorkedJob`](crate::joinery::WorkedJob). Goes out: an [`Order`]
//! for each piece, or the reason why there is none.
//!
//! The order is found backwards: of what stands, the group that can be taken
//! off by one straight move and that the trade would take off first is removed,
//! until nothing is left; reversed, that is how the piece goes together
//! (blocking graphs: Wilson and Latombe 1994; assembly as disassembly
//! reversed: Woo and Dutta 1990). Taking something off never gets in the way
//! of what is left, so the search needs no backtracking: if it is stuck, no
//! order of single straight moves along the directions tried exists.

mod alike;
mod blocking;
mod bonds;
mod check;
mod clampings;
mod clamps;
mod cuts;
mod finished;
mod fits;
mod habits;
mod hidden;
mod locked;
mod motion;
mod orders;
mod search;
mod squeezed;
mod staves;
mod step;
mod steps;
mod tolerance;

pub use clamps::clamps_for;
pub use orders::{Order, assembly_orders};
pub use step::{
    Check, ClampKind, Clamping, Clamps, FromInside, Motion, Repeat, Staved, Step, StepKind, Turned, Watch,
};
