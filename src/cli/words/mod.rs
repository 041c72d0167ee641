//! `words`: what a script can say, from the very data the engine checks calls
//! against, so that the reference cannot say what is not so.

mod answer;
mod entry;
pub(super) mod grid;
mod html;
mod kinds;
mod page;
mod text;

pub(super) use answer::run;
