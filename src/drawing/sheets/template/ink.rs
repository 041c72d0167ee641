//! A template before it is divided into tiles.

use kurbo::Rect;

use super::label::Label;
use crate::drawing::kit::dimension::callout::Callout;
use crate::paper::Mark;

/// A template at full size, in its own millimetres: x right, y down.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Template {
    /// The ink.
    pub(in crate::drawing) marks: Vec<Mark>,
    /// What of it is wanted on paper.
    pub(in crate::drawing) content: Rect,
    /// Number as printed, of the part drawn.
    pub(in crate::drawing) mark: String,
    /// Name of the part.
    pub(in crate::drawing) name: String,
    /// What is seen, in the title where a part has several templates.
    pub(in crate::drawing) seen: &'static str,
    /// Whether the part has another template.
    pub(in crate::drawing) several: bool,
    /// Lines that say what is seen: `face side`, `turn over for 3 R`.
    pub(in crate::drawing) says: Vec<String>,
    /// Whether the grain runs up the template instead of along it; none where
    /// the stock has no grain or it runs away from the viewer.
    pub(in crate::drawing) grain_up: Option<bool>,
    /// What is named on it: holes and datums, each at its place.
    pub(in crate::drawing) names: Vec<Callout>,
    /// Number, name and grain to be written inside, where there is room.
    pub(in crate::drawing) label: Option<Label>,
}
