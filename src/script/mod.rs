//! The script run against the joinery vocabulary.
//!
//! Comes in: the script's text, settings from outside, a [`Loader`] for the
//! modules beside it, the words joinery offers. Goes out: an [`Evaluated`]
//! with the job and every problem found. The only module that names rhai; it
//! knows nothing of solids and drawings. Scripts reach no file, clock, network or
//! chance.

mod american;
mod asked;
mod engine;
mod given;
mod idle;
mod inch_rule;
mod library;
mod pose;
mod request;
mod run;
mod text;
mod value;
mod vocabulary;

pub use american::british;
pub use engine::{Furniture, declared, evaluate, furniture};
pub use idle::mark_idle;
pub use inch_rule::{range_in, says_in, usual_in};
pub use library::takes::{Take, TakeKind};
pub use request::{Declared, Evaluated, Limits, LoadError, Loader, NoModules, Request};
pub use vocabulary::chapters::own_words;
pub use vocabulary::reference::{Chapter, chapters};
pub use vocabulary::saying::Saying;
