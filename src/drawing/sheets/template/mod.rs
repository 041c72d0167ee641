//! Full-size templates.

pub(in crate::drawing) mod ink;
pub(in crate::drawing) mod label;
pub(in crate::drawing) mod pages;
pub(in crate::drawing) mod shape;
pub(in crate::drawing) mod tile;
pub(in crate::drawing) mod turned;
