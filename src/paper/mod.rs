//! Page-space ink.
//!
//! A sheet is measured in millimetres, x to the right, y DOWN from the top
//! left corner of the trimmed paper. Writers (`output/`) know only what stands
//! here; the drawing lint judges it. Knows nothing of wood.

mod chain;
pub mod dashes;
pub mod fixes;
mod glyphs;
mod ink;
pub mod lettering;
pub mod lint;
mod measure;
mod merge;
mod roles;
mod sheet;

pub use chain::join_lines;
pub use fixes::Fixes;
pub use ink::{Anchor, Ink, Mark, Pen, Role, Run, Shows, Text, Weight, dash};
pub use merge::{Beside, LEAST_GAP, merge_close, run_together};
pub use roles::Layer;
pub use sheet::Sheet;
