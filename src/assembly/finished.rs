//! Where in the order what is finished, and what is fitted to the finished piece.

use super::step::{Step, StepKind, Watch};
use super::tolerance::SQUARE;
use crate::joinery::{WorkedJob, WorkedJoint};
use crate::model::{Job, StockKind};
use crate::solid::Standing;

/// Parts thinner than this are backs, bottoms and backings, which lie in a rebate or groove,
/// mm (common practice, no source).
const THIN: f64 = 10.0;

/// Share of its face from which what a part comes to hides it from a brush (common practice, no
/// source).
const HIDES: f64 = 0.25;

/// The same steps, what is fitted when all is made after those that make something: cleats,
/// runners, hinges, knobs go onto the finished piece (common practice, no source). What
/// something that is made later comes to stays where it is.
pub(super) fn fittings_last(worked: &WorkedJob, steps: Vec<Step>) -> Vec<Step> {
    let fits: Vec<bool> = steps.iter().map(|step| is_fitting(worked, step)).collect();
    let waits = |at: usize| {
        let comes: Vec<usize> = steps.get(at).map(comes).unwrap_or_default();
        let later = steps.iter().zip(&fits).skip(at + 1).filter(|(_, fits)| !**fits);
        let mut met = later.flat_map(|(step, _)| step.all_motions().flat_map(|one| &one.onto));
        fits.get(at) == Some(&true) && !met.any(|part| comes.contains(part))
    };
    let last: Vec<bool> = (0..steps.len()).map(waits).collect();
    let (fitted, mut made): (Vec<_>, Vec<_>) = steps.into_iter().zip(last).partition(|(_, last)| *last);
    made.extend(fitted);
    made.into_iter().map(|(step, _)| step).collect()
}

/// All parts that a step brings in, by themselves or made up.
fn comes(step: &Step) -> Vec<usize> {
    let made_up = step.all_motions().flat_map(|one| one.together.iter().map(|(part, _)| *part));
    step.all_adds().chain(made_up).collect()
}

/// The joints that the moves of a step close.
fn closed<'w>(worked: &'w WorkedJob, step: &'w Step) -> impl Iterator<Item = &'w WorkedJoint> {
    step.all_motions().flat_map(|one| &one.joints).filter_map(|joint| worked.joints.get(*joint))
}

/// Whether a step fits what belongs on the finished piece.
fn is_fitting(worked: &WorkedJob, step: &Step) -> bool {
    let comes = comes(step);
    // A strip of timber that a drawer runs on, or that the piece is hung by.
    let strip = |joint: &WorkedJoint| {
        let here = |part: &usize| comes.contains(part);
        joint.traits.hooks_on && joint.parts.iter().any(here)
            || joint.slides_on_wood() && joint.parts.last().is_some_and(here)
    };
    let last = |watch: &Watch| matches!(watch, Watch::RunDrawer | Watch::OnSite);
    match step.kind {
        StepKind::Fit => true,
        StepKind::Join if !step.glued => {
            closed(worked, step).any(|joint| joint.opens.is_some() || joint.goes_to_wall())
                || step.watch.iter().any(last)
                || worked.joints.iter().any(strip)
        }
        _ => false,
    }
}

/// Says where what is still bare is finished: when all is made, before the first of what is
/// fitted then; and of what comes in dry before and hides a face, before it does.
pub(super) fn settle(job: &Job, worked: &WorkedJob, steps: &mut [Step]) {
    if job.finish.is_none() {
        return;
    }
    let rest = if all_finished(steps) { None } else { rest(worked, steps) };
    for at in 0..rest.unwrap_or(steps.len()) {
        let parts = hidden(job, worked, steps, at);
        if let Some(step) = steps.get_mut(at).filter(|_| !parts.is_empty()) {
            step.watch.push(Watch::FinishInside { parts });
        }
    }
    let Some(at) = rest else { return };
    for step in steps.iter_mut().skip(at) {
        step.watch.retain(|watch| !matches!(watch, Watch::FinishInside { .. }));
    }
    if let Some(step) = steps.get_mut(at) {
        step.watch.push(Watch::FinishRest);
    }
}

/// The first of the last steps that make nothing more; of a piece without glue the first that
/// fits something to what stands.
fn rest(worked: &WorkedJob, steps: &[Step]) -> Option<usize> {
    let dry = |step: &Step| matches!(step.kind, StepKind::Fit | StepKind::Join) && !step.glued;
    let made = steps.iter().rposition(|step| !dry(step)).map_or(0, |last| last + 1);
    let glued = steps.iter().take(made).any(|step| step.kind == StepKind::Join);
    let (_, after) = steps.split_at(made);
    let first = if glued { Some(0) } else { after.iter().position(|step| is_fitting(worked, step)) };
    first.map(|first| made + first).filter(|at| *at < steps.len())
}

/// What a dry step brings in that it hides a face of, and that no step before has finished.
fn hidden(job: &Job, worked: &WorkedJob, steps: &[Step], at: usize) -> Vec<usize> {
    let Some(step) = steps.get(at).filter(|step| step.kind == StepKind::Join && !step.glued) else {
        return Vec::new();
    };
    let done = finished(steps, at);
    let beads = closed(worked, step).any(|joint| joint.traits.waits_for_finish);
    let mut found = Vec::new();
    for one in step.all_motions() {
        let came = one.adds.iter().zip(&one.ways).filter(|(_, way)| way.is_some()).map(|(part, _)| *part);
        let bare = came.filter(|part| !done.contains(part) && is_wood(job, worked, *part));
        found.extend(bare.filter(|part| beads || is_covered(worked, *part, &one.onto)));
    }
    found
}

/// Whether a part takes a finish.
fn is_wood(job: &Job, worked: &WorkedJob, part: usize) -> bool {
    let stock = worked.parts.get(part).and_then(|part| job.stock.get(part.stock.0));
    stock.is_some_and(|stock| !matches!(stock.kind, StockKind::Glass { .. }))
}

/// Whether what a part comes to hides much of a face of it.
fn is_covered(worked: &WorkedJob, part: usize, onto: &[usize]) -> bool {
    let Some(own) = worked.parts.get(part) else { return false };
    let stands = Standing::new(&own.solid, &own.at);
    let others = onto.iter().filter_map(|other| worked.parts.get(*other));
    let met = others.flat_map(|other| stands.contacts(&Standing::new(&other.solid, &other.at)));
    let across = met.filter(|contact| contact.normal.dot(own.at.z).abs() > SQUARE);
    own.size.z < THIN || across.map(|contact| contact.area).sum::<f64>() > HIDES * own.size.x * own.size.y
}

/// What is finished before the step at `at` is done, by what is said so far.
fn finished(steps: &[Step], at: usize) -> Vec<usize> {
    let told = |step: &Step| -> Vec<usize> {
        let of = |watch: &Watch| match watch {
            Watch::FinishInside { parts } | Watch::FinishHidden { parts } => parts.clone(),
            _ => Vec::new(),
        };
        step.watch.iter().flat_map(of).collect()
    };
    let before = steps.iter().take(at).filter(|step| step.kind == StepKind::Finish);
    before.flat_map(Step::all_works).chain(steps.iter().take(at + 1).flat_map(told)).collect()
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
