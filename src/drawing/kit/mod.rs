//! What sheets are drawn with: views, dimensions, tables, hatching, words.

pub(in crate::drawing) mod beside;
pub(in crate::drawing) mod dimension;
pub(in crate::drawing) mod flow;
pub(in crate::drawing) mod hatch;
pub(in crate::drawing) mod opening;
pub(in crate::drawing) mod project;
pub(in crate::drawing) mod table;
pub(in crate::drawing) mod words;
pub(in crate::drawing) mod zones;
