//! Labels for the parts.

pub(in crate::drawing) mod grid;
pub(in crate::drawing) mod pages;
