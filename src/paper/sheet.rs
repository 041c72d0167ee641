//! A finished sheet.

use kurbo::Rect;

use super::ink::Mark;

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
