//! Room for parts with more to tell than one cell holds.

pub(super) mod divide;
