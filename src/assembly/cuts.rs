//! The step that makes cuts which wait for a glue-up.

use super::step::{Step, StepKind, Turned, Watch};
use crate::joinery::{Cut, CutKind, Stage, WorkedJob, WorkedPart, corners};

/// A step for cuts that wait for a glue-up.
pub(super) fn step(worked: &WorkedJob, parts: &[usize]) -> Step {
    let mut step = Step { works: parts.to_vec(), ..Step::empty(StepKind::Cut) };
    for cut in parts.iter().filter_map(|p| worked.parts.get(*p)).flat_map(|p| &p.cuts) {
        let kinds: &mut Vec<CutKind> = &mut step.cuts;
        if cut.stage == Stage::AfterGlueUp && !kinds.contains(&cut.kind) {
            kinds.push(cut.kind);
        }
    }
    step.watch.push(Watch::LetCure);
    if is_from_behind(worked, parts) {
        step.turned = Turned::Back;
    }
    step
}

/// Whether all cuts that wait for the glue-up are made from behind, as the rebate for a
/// pane.
fn is_from_behind(worked: &WorkedJob, parts: &[usize]) -> bool {
    let behind = |part: &WorkedPart, cut: &Cut| {
        let points = corners(&cut.shape);
        let middle = points.iter().map(|p| part.at.point(*p).y).sum::<f64>() / points.len().max(1) as f64;
        middle - part.at.point(part.size * 0.5).y > BEHIND
    };
    let parts = parts.iter().filter_map(|part| worked.parts.get(*part));
    let mut cuts = parts
        .flat_map(|part| part.cuts.iter().map(move |cut| (part, cut)))
        .filter(|(_, cut)| cut.stage == Stage::AfterGlueUp)
        .peekable();
    cuts.peek().is_some() && cuts.all(|(part, cut)| behind(part, cut))
}

/// A cut whose middle is farther back than its part's by more than this is made from behind,
/// mm.
const BEHIND: f64 = 1.0;
