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

pub use chain::join_lines;
pub use fixes::Fixes;
pub use ink::{Anchor, Ink, Mark, Pen, Role, Run, Shows, Text, Weight, dash};
pub use merge::{Beside, LEAST_GAP, merge_close, run_together};
pub use roles::Layer;

use kurbo::Rect;

/// One finished sheet.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Sheet number as printed, such as `3`.
    pub number: String,
    /// What the sheet shows, as in the title block and the bookmark.
    pub title: String,
    /// Bookmarks under it in the PDF outline: text and a place on the sheet.
    pub bookmarks: Vec<(String, kurbo::Point)>,
    /// Trimmed width, mm.
    pub width: f64,
    /// Trimmed height, mm.
    pub height: f64,
    /// The drawing space inside the frame.
    pub space: Rect,
    /// The name of the paper: `A3`, `letter`.
    pub paper: &'static str,
    /// Everything drawn, in drawing order.
    pub marks: Vec<Mark>,
    /// Whether anything on it is to be measured with a ruler at 1:1.
    pub full_size: bool,
}
