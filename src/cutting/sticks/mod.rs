//! Stick layouts: lippings, rails, cleats and frames out of lengths on hand or
//! to buy, at the least cost, mitred ends nested. Nothing here knows of
//! furniture, the clock or chance.

mod cut_sticks;
mod dive;
mod goal;
mod knapsack;
mod model;
mod program;
mod rest;
mod search;
mod shop;
mod subset;
mod sums;
#[cfg(test)]
mod tests;

pub use cut_sticks::cut_sticks;
pub use model::{
    StickJob, StickLayout, StickPart, StickPiece, StickPlan, StickStock, StickWhy, UnplacedStick,
};
