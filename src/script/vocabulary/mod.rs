//! The words a script can say: every argument and key of every call is checked in one
//! place (`check`) against the word's own data, then the word does its work.

pub(in crate::script) mod call;
pub(in crate::script) mod chapters;
pub(in crate::script) mod check;
mod finish;
mod job;
pub(in crate::script) mod language;
pub(in crate::script) mod library;
mod marks;
mod order;
mod parts;
pub(in crate::script) mod read;
pub(in crate::script) mod reference;
pub(in crate::script) mod saying;
mod site;
mod size;
mod sold;
mod spec;
mod stands;
mod stock;

pub(in crate::script) use finish::finish;
pub(in crate::script) use size::settings_left;
