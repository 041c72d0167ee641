//! How a script asks a part to lie and be marked.

use super::pose::Pose;
use crate::model::Side;

/// Which axis of the piece (0 x, 1 y, 2 z) is which of a part, and the sides
/// the script asks the marks to look to.
#[derive(Clone, Debug, PartialEq)]
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
    /// How it stands out of the square after it is placed.
    pub(in crate::script) pose: Pose,
}
