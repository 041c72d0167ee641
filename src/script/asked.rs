//! How a script asks a part to lie and be marked.

use crate::model::{Side, Turn};

/// Which axis of the piece (0 x, 1 y, 2 z) is which of a part, and the sides
/// the script asks the marks to look to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::script) struct Asked {
    /// The axis the grain runs along.
    pub(in crate::script) grain: usize,
    /// The axis across the width.
    pub(in crate::script) width: usize,
    /// The axis through the thickness.
    pub(in crate::script) thickness: usize,
    /// Side of the face mark.
    pub(in crate::script) face: Option<Side>,
    /// Side of the edge mark.
    pub(in crate::script) edge: Option<Side>,
    /// Turned out of the square after it is placed.
    pub(in crate::script) turn: Option<Turn>,
}
