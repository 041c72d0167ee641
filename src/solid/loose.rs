//! Faces between cutting and stitching.

use super::{Face, Provenance};
use crate::geometry::{DVec3, Plane};

/// A face in space before its corners are joined to its neighbours'.
pub(super) struct LooseFace {
    pub(super) plane: Plane,
    pub(super) from: Provenance,
    pub(super) rings: Vec<Vec<DVec3>>,
}

impl LooseFace {
    /// The face with its corners shared.
    pub(super) fn face(&self, loops: Vec<Vec<u32>>) -> Face {
        Face { plane: self.plane, from: self.from, loops }
    }
}
