//! The furniture library: its scripts, and what each type takes.

pub(in crate::script) mod takes;
mod texts;

pub(in crate::script) use texts::LIBRARY;
