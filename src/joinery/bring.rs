//! Parts that words bring themselves, such as the beads round a pane: they join those
//! of the script before anything is worked, so that every later stage has them as it has
//! a board that was written out.

use super::registry;
use crate::joinery::bench::seen::Bench;
use crate::model::{Job, PartId};
use crate::problem::Problem;

/// The job with what its words bring, and what came of asking them.
pub(super) struct Brought {
    /// The job, its works given the parts they brought as their last argument.
    pub(super) job: Job,
    /// Indices of the works that could not bring theirs.
    pub(super) spoilt: Vec<usize>,
    /// Why not.
    pub(super) problems: Vec<Problem>,
}

/// Asks every work what it brings; `None` where none brings anything, as in most jobs,
/// which are then not copied.
pub(super) fn brought(bench: &Bench<'_>, spoilt: &[usize]) -> Option<Brought> {
    let mut all: Option<Brought> = None;
    let fresh = || Brought { job: bench.job.clone(), spoilt: Vec::new(), problems: Vec::new() };
    for (i, work) in bench.job.works.iter().enumerate().filter(|(i, _)| !spoilt.contains(i)) {
        let Some(joinery) = registry::find(work.word) else { continue };
        match joinery.bring(bench, work) {
            Ok(parts) if parts.is_empty() => {}
            Ok(parts) => {
                let all = all.get_or_insert_with(fresh);
                let first = all.job.parts.len();
                let ids = (first..first + parts.len()).map(PartId).collect();
                all.job.parts.extend(parts);
                if let Some(work) = all.job.works.get_mut(i) {
                    work.parts.push(ids);
                }
            }
            Err(problem) => {
                let all = all.get_or_insert_with(fresh);
                all.spoilt.push(i);
                all.problems.push(problem);
            }
        }
    }
    all
}
