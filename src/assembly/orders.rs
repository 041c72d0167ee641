//! The order of every piece of a job.

use super::locked::{refused, round};
use super::search::plan;
use super::step::Step;
use super::steps::steps;
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

/// The assembly order of every piece. A piece that cannot be put together by
/// straight moves gives an error that names the parts that lock one another,
/// and no order.
pub fn assembly_orders(job: &Job, worked: &WorkedJob) -> (Vec<Order>, Vec<Problem>) {
    let mut orders = Vec::new();
    let mut problems = Vec::new();
    for index in 0..job.pieces.len() {
        let piece = PieceId(index);
        if let Some(problem) = round(job, worked, piece) {
            problems.push(problem);
            continue;
        }
        match plan(worked, piece, &job.order) {
            Ok(plan) => {
                let steps = steps(job, worked, piece, &plan);
                if !steps.is_empty() {
                    orders.push(Order { piece, steps });
                }
            }
            Err(parts) => problems.push(refused(job, worked, piece, &parts)),
        }
    }
    (orders, problems)
}
