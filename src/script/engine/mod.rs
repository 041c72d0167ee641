//! The rhai engine: values, arithmetic, places in texts, what a run has made, and what
//! stops it, in the maker's words.

pub(in crate::script) mod arithmetic;
pub(in crate::script) mod bounded;
pub(in crate::script) mod failure;
pub(in crate::script) mod origin;
pub(in crate::script) mod run;
pub(in crate::script) mod stack;
pub(in crate::script) mod value;
