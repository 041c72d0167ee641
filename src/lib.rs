//! rodwright: from a short joinery script to shop drawings, lists and an
//! assembly order. The modules stand in reading order, which is dependency
//! order: each uses only those above it.

pub mod assembly;
pub mod checks;
pub mod cli;
pub mod cutting;
pub mod drawing;
pub mod geometry;
pub mod joinery;
pub mod measure;
pub mod model;
pub mod output;
pub mod paper;
pub mod problem;
pub mod script;
pub mod solid;
pub mod source;
pub mod timber;

use model::Word;

/// The joints, shapings and fittings a script can use.
pub fn words() -> &'static [&'static Word] {
    &[]
}
