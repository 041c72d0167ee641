//! The settings sheet.

pub(in crate::drawing) mod against;
pub(in crate::drawing) mod gather;
pub(in crate::drawing) mod stops;
pub(in crate::drawing) mod table;
