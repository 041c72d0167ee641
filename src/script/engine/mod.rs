//! The rhai engine, which nothing else names: made, limited and run; words and other
//! functions bound to it; values carried in and out; places in texts; modules; and what
//! stops a script, in the maker's words.

mod arithmetic;
mod bare;
mod bind;
mod bounded;
mod convert;
mod declared;
mod failure;
mod functions;
mod furniture;
mod joins;
mod machine;
mod memory;
mod modules;
mod origin;
mod stack;
mod syntax;

pub use declared::declared;
pub use furniture::{Furniture, furniture};
pub use machine::evaluate;
