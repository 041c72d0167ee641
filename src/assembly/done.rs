//! What is done in each kind of step, and what to watch.

use super::step::{Coming, Done, How, Step, Watch};
use super::tolerance::SAME_WAY;
use crate::geometry::DVec3;
use crate::joinery::{CutKind, PartSource, Stage, Traits, WorkedJob};

/// What a join step does.
pub(super) fn join(worked: &WorkedJob, step: &Step) -> Done {
    let founders = moving(step, None);
    let mut ways: Vec<DVec3> = Vec::new();
    for way in step.ways.iter().flatten() {
        if !ways.iter().any(|known| known.dot(*way) > SAME_WAY) {
            ways.push(*way);
        }
    }
    let coming: Vec<Coming> =
        ways.iter().map(|way| Coming { parts: moving(step, Some(*way)), way: *way }).collect();
    if let (Some((_, way)), true) = (step.together.first(), coming.is_empty()) {
        if step.joints.is_empty() {
            let parts = step.together.iter().map(|(part, _)| *part).collect();
            return Done::PutIn { whole: Coming { parts, way: *way } };
        }
        if any(worked, step, |traits| traits.hooks_on) {
            return Done::Hang { wall: founders, way: *way };
        }
    }
    let to = joined(worked, step, &founders);
    // Lippings go with their parts and are not named.
    let named =
        |part: &usize| worked.parts.get(*part).is_some_and(|part| matches!(part.source, PartSource::Part(_)));
    if coming.is_empty() && !to.iter().any(named) {
        return Done::SetUp { parts: founders };
    }
    let how = if any(worked, step, |traits| traits.folds) {
        How::Folded
    } else if step.glued {
        How::Glued
    } else {
        How::Dry
    };
    Done::Join { how, coming, to }
}

/// What a cutting step does in `parts`.
pub(super) fn cut(worked: &WorkedJob, parts: &[usize]) -> Done {
    let mut kinds: Vec<CutKind> = Vec::new();
    for cut in parts.iter().filter_map(|p| worked.parts.get(*p)).flat_map(|p| &p.cuts) {
        if cut.stage == Stage::AfterGlueUp && !kinds.contains(&cut.kind) {
            kinds.push(cut.kind);
        }
    }
    Done::Cut { kinds, parts: parts.to_vec() }
}

/// Parts of the step that move along `way`, or those that do not move.
fn moving(step: &Step, way: Option<DVec3>) -> Vec<usize> {
    let same = |a: Option<DVec3>| match (a, way) {
        (None, None) => true,
        (Some(a), Some(b)) => a.dot(b) > SAME_WAY,
        _ => false,
    };
    step.adds.iter().zip(&step.ways).filter(|(_, w)| same(**w)).map(|(p, _)| *p).collect()
}

/// What the parts come to: those a joint of the step ties them to.
fn joined(worked: &WorkedJob, step: &Step, founders: &[usize]) -> Vec<usize> {
    let tied = |part: &usize| {
        step.joints.iter().filter_map(|j| worked.joints.get(*j)).any(|joint| joint.parts.contains(part))
    };
    let to: Vec<usize> = founders.iter().chain(&step.onto).copied().filter(|p| tied(p)).collect();
    if to.is_empty() { founders.to_vec() } else { to }
}

/// Whether a joint of a step has a trait.
fn any(worked: &WorkedJob, step: &Step, have: impl Fn(&Traits) -> bool) -> bool {
    step.joints.iter().filter_map(|j| worked.joints.get(*j)).any(|joint| have(&joint.traits))
}

/// What to have in place and to watch at a join step.
pub(super) fn watch(worked: &WorkedJob, step: &mut Step) {
    if any(worked, step, |traits| traits.folds) {
        step.watch.push(Watch::TapeFolds);
    }
    if any(worked, step, |traits| traits.is_layered) {
        step.watch.push(Watch::PressLayers);
    }
    if any(worked, step, |traits| traits.frees_panel) {
        step.watch.push(Watch::PanelMoves);
    }
    if any(worked, step, |traits| traits.waits_for_finish) {
        step.watch.push(Watch::FinishFirst);
    }
    let inserts = step.joints.iter().filter_map(|j| worked.joints.get(*j)).flat_map(|joint| &joint.inserts);
    let mut wedges: Vec<Watch> = inserts
        .filter(|insert| insert.item.is_wedge())
        .map(|insert| if insert.item.is_foxed() { Watch::FoxedForGood } else { Watch::DriveWedges })
        .collect();
    wedges.dedup();
    step.watch.append(&mut wedges);
}
