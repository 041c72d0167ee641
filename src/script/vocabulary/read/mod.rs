//! Values of a script read as what a word takes.

pub(in crate::script) mod corners;
pub(in crate::script) mod cure;
pub(in crate::script) mod spans;
pub(in crate::script) mod stations;
pub(in crate::script) mod stock;
pub(in crate::script) mod texts;
pub(in crate::script) mod turn;
pub(in crate::script) mod values;
