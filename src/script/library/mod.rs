//! The furniture library, and the modules a script imports.

pub(in crate::script) mod furniture;
pub(in crate::script) mod modules;
