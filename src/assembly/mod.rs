//! What blocks what; order; steps.
//!
//! Comes in: a [`WorkedJob`](crate::joinery::WorkedJob). Goes out: an [`Order`]
//! for each piece, or the reason why there is none.

use crate::geometry::DVec3;
use crate::model::PieceId;

/// The order in which a piece goes together.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// The piece.
    pub piece: PieceId,
    /// The steps, first to last.
    pub steps: Vec<Step>,
}

/// One step: some parts join what already stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is done, one sentence.
    pub says: String,
    /// Parts that come in: indices into `WorkedJob::parts`.
    pub adds: Vec<usize>,
    /// Parts already standing that they join.
    pub onto: Vec<usize>,
    /// The way they move in, piece coordinates, unit; `None` for a first part.
    pub along: Option<DVec3>,
    /// Joints closed in this step: indices into `WorkedJob::joints`.
    pub joints: Vec<usize>,
    /// Glued, or dry.
    pub glued: bool,
    /// What to measure or watch: `diagonals equal within 1 mm: 934.6`.
    pub watch: Vec<String>,
}
