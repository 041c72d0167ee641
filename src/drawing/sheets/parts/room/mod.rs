//! Room for parts with more to tell than one cell holds.

pub(super) mod blocks;
pub(super) mod divide;
