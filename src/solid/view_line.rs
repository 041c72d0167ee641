//! Lines of a view and of a section.

use super::{Provenance, Surface};
use crate::geometry::DVec2;

/// Provenance of the faces that a section makes.
pub(super) const CUT: Provenance = Provenance { cutter: Some(u32::MAX), surface: Surface::NearCap };

/// How a line is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineKind {
    /// A visible arris.
    Visible,
    /// A visible outline of a round surface.
    VisibleSilhouette,
    /// A hidden arris.
    Hidden,
    /// A hidden outline of a round surface.
    HiddenSilhouette,
}

impl LineKind {
    /// Whether something stands before it.
    pub fn is_hidden(self) -> bool {
        matches!(self, Self::Hidden | Self::HiddenSilhouette)
    }
}

/// A straight line of a view, in drawing mm at full size, y up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ViewLine {
    /// One end.
    pub a: DVec2,
    /// The other end.
    pub b: DVec2,
    /// How it is seen.
    pub kind: LineKind,
    /// Tag of the solid it belongs to.
    pub tag: usize,
    /// Where the two faces that meet in it came from.
    pub faces: [Provenance; 2],
}
