//! The parts of a piece drawn apart: an isometric in which every part stands
//! back along its way in, with thin flow lines between mates and part numbers.

pub(in crate::drawing) mod apart;
mod pages;

pub use apart::{Apart, Flow, taken_apart};
pub(in crate::drawing) use pages::{beside_steps, exploded, few};
