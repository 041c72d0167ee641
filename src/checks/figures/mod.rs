//! What wood, screws and pieces bear: published formulas and figures, each with its source.
//! Checks call these, and tests hold them against published examples.

pub mod beams;
pub mod tipping;

pub use crate::timber::screws;
