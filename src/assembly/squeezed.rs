//! Where glue squeezed out of a joint does harm: in what takes another part later.

use super::step::{Step, Watch};
use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, Stage, WorkedJob, WorkedPart, corners};

/// So near to a joint squeezed glue runs into a groove, mm (common practice, no source).
const RUNS: f64 = 3.0;

/// A box along the axes of the piece.
type Around = (DVec3, DVec3);

/// What squeezed glue would spoil at a glued step, if anything; `finished` where a panel it
/// closes round is finished already.
pub(super) fn watch(worked: &WorkedJob, step: &Step, finished: bool) -> Option<Watch> {
    let closed: Vec<usize> = step.motions.iter().flat_map(|one| one.joints.iter().copied()).collect();
    let stands = step.onto();
    let mut parts: Vec<usize> = Vec::new();
    let mut cuts: Vec<CutKind> = Vec::new();
    for joint in closed.iter().filter_map(|j| worked.joints.get(*j)).filter(|joint| joint.glued) {
        let Some(meeting) = shared(worked, &joint.parts) else { continue };
        for part in &joint.parts {
            let Some(own) = worked.parts.get(*part) else { continue };
            let spoilt = own.cuts.iter().filter(|cut| {
                // One that is cut after the glue-up is not there yet.
                let takes =
                    matches!(cut.kind, CutKind::Groove | CutKind::Rebate) && cut.stage == Stage::Loose;
                takes && cut.joint.is_some_and(|j| !closed.contains(&j) && is_open(worked, j, *part, &stands))
            });
            for cut in spoilt.filter(|cut| touches(around(own, cut), meeting)) {
                if !cuts.contains(&cut.kind) {
                    cuts.push(cut.kind);
                }
                if !parts.contains(part) {
                    parts.push(*part);
                }
            }
        }
    }
    parts.sort_unstable();
    let finished = finished || step.watch.iter().any(|watch| matches!(watch, Watch::FinishHidden { .. }));
    (finished || !parts.is_empty()).then_some(Watch::Squeezed { parts, cuts, finished })
}

/// Whether what a joint lets into a part does not stand yet.
fn is_open(worked: &WorkedJob, joint: usize, part: usize, stands: &[usize]) -> bool {
    let others = worked.joints.get(joint).map(|joint| joint.parts.as_slice()).unwrap_or_default();
    let mut others = others.iter().filter(|other| **other != part).peekable();
    others.peek().is_some() && others.all(|other| !stands.contains(other))
}

/// Box of some points.
fn boxed(points: impl Iterator<Item = DVec3>) -> Around {
    points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)))
}

/// Box of a cut where its part stands.
fn around(part: &WorkedPart, cut: &Cut) -> Around {
    boxed(corners(&cut.shape).into_iter().map(|p| part.at.point(p)))
}

/// The box that the boxes of the first and the last of some parts share.
fn shared(worked: &WorkedJob, parts: &[usize]) -> Option<Around> {
    let [first, .., last] = parts else { return None };
    let of = |part: usize| {
        let part = worked.parts.get(part)?;
        Some(boxed(part.solid.points.iter().map(|p| part.at.point(*p))))
    };
    let (a, b) = (of(*first)?, of(*last)?);
    Some((a.0.max(b.0), a.1.min(b.1)))
}

/// Whether a cut comes so near to where parts meet that glue runs into it.
fn touches(cut: Around, meeting: Around) -> bool {
    let near = DVec3::splat(RUNS);
    (cut.0 - near).cmple(meeting.1).all() && (cut.1 + near).cmpge(meeting.0).all()
}
