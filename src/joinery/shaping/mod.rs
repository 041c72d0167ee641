//! Shaping of a part by itself.

pub(in crate::joinery) mod arris;
pub(in crate::joinery) mod bevel;
pub(in crate::joinery) mod hole;
pub(in crate::joinery) mod level;
pub(in crate::joinery) mod mould;
pub(in crate::joinery) mod notch;
pub(in crate::joinery) mod outline;
pub(in crate::joinery) mod trim_to;
