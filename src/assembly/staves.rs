//! Panels glued up of several boards edge to edge: before all else, so that they are flat
//! and cut to size when joints are cut.

use super::clampings::takes;
use super::clamps::{BAR, clamps_for, pressure};
use super::step::{ClampKind, Clamping, Clamps, Staved, Step, StepKind, Watch};
use crate::joinery::WorkedJob;
use crate::machining::rough::rough;
use crate::machining::sawn::staves;
use crate::model::{Job, PieceId};

/// Fewest clamps of a panel: one at each end and one across the middle from the other
/// side, so that it is not drawn hollow (common practice, no source).
const FEWEST: usize = 3;

/// The step in which the panels of a piece are glued up; `None` where each of its parts
/// comes of one board.
pub(super) fn glue_up(job: &Job, worked: &WorkedJob, piece: PieceId) -> Option<Step> {
    let own = worked.parts.iter().enumerate().filter(|(_, part)| part.piece == piece);
    let staved: Vec<Staved> =
        own.filter_map(|(part, _)| Some(Staved { part, boards: staves(job, worked, part)?.count })).collect();
    let most = staved.iter().map(|one| one.boards).max()?;
    let mut clamps: Vec<Clamps> = Vec::new();
    for one in staved.iter().filter_map(|one| across(job, worked, one.part)) {
        if !clamps.contains(&one) {
            clamps.push(one);
        }
    }
    let mut watch = vec![Watch::Rings, Watch::Flat, Watch::PlaneWhenCured];
    if staved.len() > 1 {
        watch.insert(0, Watch::OneByOne);
    }
    let seams = most.saturating_sub(1);
    Some(Step {
        works: staved.iter().map(|one| one.part).collect(),
        glued: true,
        clamping: Some(Clamping { clamps, joints: seams, takes: takes(&job.order.glue, seams) }),
        staved,
        watch,
        ..Step::empty(StepKind::GlueUp)
    })
}

/// The clamps of one panel, across its boards as they are ripped.
fn across(job: &Job, worked: &WorkedJob, index: usize) -> Option<Clamps> {
    let part = worked.parts.get(index)?;
    let [long, wide, _] = rough(job, worked, index)?;
    let count = clamps_for(long * part.size.z, pressure(job, part), BAR).max(FEWEST);
    Some(Clamps { kind: ClampKind::Bar, count, length: wide, along: part.at.y, cauls: true, astride: false })
}
