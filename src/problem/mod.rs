//! Findings and how they read.
//!
//! Comes in: a severity, a code, a sentence in joinery words, places in the
//! script. Goes out: text with the script excerpt. Knows nothing of how a
//! finding arose.

mod finding;
mod fold;
mod render;
mod similar;
mod unseen;
mod width;
pub mod wording;

pub use finding::{Place, Problem, Severity};
pub use fold::fold;
pub use render::{render, render_all, summary};
pub use similar::nearest;
pub use unseen::{is_unseen, seen};
pub use width::folded;
