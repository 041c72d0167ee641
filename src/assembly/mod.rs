//! What blocks what; order; steps.
//!
//! Comes in: a [`WorkedJob`]. Goes out: an [`Order`]
//! for each piece, or the reason why there is none.
//!
//! The order is found backwards: of what stands, the group that can be taken
//! off by one straight move and that the trade would take off first is removed,
//! until nothing is left; reversed, that is how the piece goes together
//! (blocking graphs: Wilson and Latombe 1994; assembly as disassembly
//! reversed: Woo and Dutta 1990). Taking something off never gets in the way
//! of what is left, so the search needs no backtracking: if it is stuck, no
//! order of single straight moves along the directions tried exists.

mod blocking;
mod search;
mod steps;
mod wording;

use crate::geometry::DVec3;
use crate::joinery::WorkedJob;
use crate::model::{Job, PieceId};
use crate::problem::Problem;

/// The order in which a piece goes together.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// The piece.
    pub piece: PieceId,
    /// The steps, first to last.
    pub steps: Vec<Step>,
}

/// What a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Lippings are glued to their parts.
    Lip,
    /// Parts are joined to what stands.
    Join,
    /// Cuts that had to wait for the glue-up are made.
    Cut,
}

/// One step: some parts join what already stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Lipping, joining or cutting.
    pub kind: StepKind,
    /// What is done, one sentence.
    pub says: String,
    /// Parts that come in, or are cut: indices into `WorkedJob::parts`. Each
    /// part of the piece is added once over all steps.
    pub adds: Vec<usize>,
    /// For each of `adds` the way it moves in, piece coordinates, unit; `None`
    /// for a first part, to which others come.
    pub ways: Vec<Option<DVec3>>,
    /// Parts already standing that they join.
    pub onto: Vec<usize>,
    /// Those of `onto` that come in with the step as a group made up before,
    /// with their way in, piece coordinates, unit.
    pub together: Vec<(usize, DVec3)>,
    /// Joints closed in this step: indices into `WorkedJob::joints`.
    pub joints: Vec<usize>,
    /// Glued, or dry.
    pub glued: bool,
    /// Outside diagonal of the front to measure when clamped, mm.
    pub diagonal: Option<f64>,
    /// What else to watch.
    pub watch: Vec<String>,
}

/// The assembly order of every piece. A piece that cannot be put together by
/// straight moves gives an error that names the parts that lock one another,
/// and no order.
pub fn assembly_orders(job: &Job, worked: &WorkedJob) -> (Vec<Order>, Vec<Problem>) {
    let mut orders = Vec::new();
    let mut problems = Vec::new();
    for index in 0..job.pieces.len() {
        let piece = PieceId(index);
        match search::plan(worked, piece) {
            Ok(moves) => {
                let steps = steps::steps(job, worked, piece, &moves);
                if !steps.is_empty() {
                    orders.push(Order { piece, steps });
                }
            }
            Err(locked) => problems.push(wording::locked(job, worked, piece, &locked)),
        }
    }
    (orders, problems)
}
