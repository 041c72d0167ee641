//! What is said of parts that lock one another.

use crate::joinery::WorkedJob;
use crate::model::{Job, PieceId};
use crate::problem::Problem;
use crate::problem::wording::all_of;

/// The error for parts that lock one another.
pub(super) fn locked(job: &Job, worked: &WorkedJob, piece: PieceId, parts: &[usize]) -> Problem {
    let names = parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.name.as_str());
    let name = job.pieces.get(piece.0).map_or("the piece", |p| p.name.as_str());
    let message = format!(
        "`{name}` cannot be put together: {} lock one another, no straight move among those tried takes any of them off",
        all_of(names)
    );
    let mut problem = Problem::error("no-assembly-order", message)
        .help("give one of their joints another way in, or make it after the others are together");
    let tied = worked.joints.iter().find(|j| j.parts.iter().filter(|p| parts.contains(p)).count() > 1);
    if let Some(joint) = tied {
        problem = problem.at(joint.origin);
    } else if let Some(part) = parts.first().and_then(|p| worked.parts.get(*p)) {
        problem = problem.at(part.origin);
    }
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        problem = problem.part(part.name.clone());
    }
    problem
}
