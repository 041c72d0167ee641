//! Where in the order the rest of a piece is finished.

use super::step::{Step, StepKind, Watch};
use crate::joinery::{WorkedJob, WorkedJoint};
use crate::model::Job;

/// Says where the rest is finished, if not after all: before what is fitted last, and before
/// the piece goes to its wall.
pub(super) fn finish_rest(job: &Job, worked: &WorkedJob, steps: &mut [Step]) {
    if job.finish.is_none() || all_finished(steps) {
        return;
    }
    let on_wall = |step: &Step| {
        let mut closed = step.motions.iter().flat_map(|one| &one.joints);
        closed.any(|j| worked.joints.get(*j).is_some_and(WorkedJoint::goes_to_wall))
            || step.watch.contains(&Watch::OnSite)
    };
    let ends = |step: &Step| step.kind == StepKind::Fit || on_wall(step);
    let before = steps.iter().rposition(|step| !ends(step)).map(|last| last + 1);
    if let Some(step) = before.and_then(|first| steps.get_mut(first)) {
        step.watch.push(Watch::FinishRest);
    }
}

/// Whether a step finishes all that stands when it is come to: what comes in afterwards, a
/// pane and what holds it, is finished before it does.
fn all_finished(steps: &[Step]) -> bool {
    let Some(at) = steps.iter().rposition(|step| step.kind == StepKind::Finish) else { return false };
    let (before, _) = steps.split_at(at);
    let finished: Vec<usize> = steps.iter().skip(at).take(1).flat_map(Step::all_works).collect();
    let stands = before.iter().filter(|step| step.kind == StepKind::Join).flat_map(Step::all_motions);
    stands.flat_map(|motion| &motion.adds).all(|part| finished.contains(part))
}
