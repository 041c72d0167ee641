//! `words`: what a script is written in, from the very data the engine checks calls
//! against, so that the reference cannot be wrong.

mod answer;
mod entry;
pub(super) mod grid;
pub(super) mod guide;
mod html;
mod inches;
mod kinds;
mod page;
mod people;
mod picture;
mod text;
mod topics;

pub(super) use answer::run;
