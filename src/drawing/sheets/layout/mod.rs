//! Sheets of layouts of sheet goods and boards.

pub(in crate::drawing) mod arrow;
pub(in crate::drawing) mod cuts;
pub(in crate::drawing) mod heights;
pub(in crate::drawing) mod label;
pub(in crate::drawing) mod pages;
pub(in crate::drawing) mod picture;
pub(in crate::drawing) mod stack;
