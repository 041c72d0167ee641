//! What is fitted without glue, as sentences.

use super::Telling;
use super::making::is_own;
use crate::assembly::{Step, StepKind, Watch};
use crate::geometry::DVec3;
use crate::joinery::{CutKind, WorkedJoint, WorkedPart};
use crate::problem::wording::and_list;

/// Cosine over which something is let down from above.
const DOWN: f64 = 0.9;

/// Less than this is no overhang, mm.
const FLUSH: f64 = 0.5;

/// What a top stands over lies so far below it at most, mm.
const UNDER: f64 = 200.0;

/// Share of what it is laid on that a top covers at least.
const COVERS: f64 = 0.7;

impl Telling<'_> {
    /// That a joining step is dry, once for all that it closes.
    pub(super) fn dry(&self, step: &Step) -> Option<String> {
        let closes = step.motions.iter().any(|one| !one.joints.is_empty());
        if step.kind != StepKind::Join || step.glued || !closes {
            return None;
        }
        let inserts = step.all_joints().filter_map(|joint| self.worked.joints.get(joint));
        let plugged = inserts.flat_map(|joint| &joint.inserts).any(|insert| insert.item.is_plug());
        Some(if plugged {
            "The joint is dry; glue in the plugs alone, grain with grain, and pare them flush.".into()
        } else if step.watch.contains(&Watch::PanelMoves) {
            "Dry, no glue: the panel must move.".into()
        } else {
            "Dry, no glue.".into()
        })
    }

    /// Whether something to watch is said by another line of the step.
    pub(super) fn is_said(&self, step: &Step, watch: &Watch) -> bool {
        matches!(watch, Watch::PanelDry | Watch::PanelMoves) && self.dry(step).is_some()
    }

    /// How a top is put on: how far it stands over, and its screws in slots.
    pub(super) fn put_on(&self, step: &Step) -> Vec<String> {
        if step.kind != StepKind::Join || step.glued {
            return Vec::new();
        }
        self.overhang(step).into_iter().chain(self.in_slots(step)).collect()
    }

    /// `It stands over by 18 mm in front and 18 mm at either side, flush at the back.`
    fn overhang(&self, step: &Step) -> Option<String> {
        let [only] = step.motions.as_slice() else { return None };
        let ways = only.adds.iter().zip(&only.ways);
        let mut moved = ways.filter_map(|(part, way)| Some((self.worked.parts.get(*part)?, (*way)?)));
        let (top, way) = moved.find(|(part, _)| is_own(part))?;
        if way.z > -DOWN || moved.any(|(part, _)| is_own(part)) || top.at.z.z.abs() < DOWN {
            return None;
        }
        let own = boxed(points(top))?;
        // Only what is near it: legs may splay, and uprights of a back rise beside it.
        let near = |p: &DVec3| p.z > own.0.z - UNDER && p.z < own.1.z;
        let stands = only.onto.iter().filter_map(|part| self.worked.parts.get(*part));
        let under = boxed(stands.flat_map(points).filter(near))?;
        let area = |(low, high): (DVec3, DVec3)| (high.x - low.x) * (high.y - low.y);
        let [front, back] = [under.0.y - own.0.y, own.1.y - under.1.y];
        let [left, right] = [under.0.x - own.0.x, own.1.x - under.1.x];
        let sides =
            [("in front", front), ("at the back", back), ("on the left", left), ("on the right", right)];
        if area(own) < COVERS * area(under) || sides.iter().all(|(_, over)| *over < FLUSH) {
            return None;
        }
        let alike = |a: f64, b: f64| (a - b).abs() < FLUSH;
        if alike(front, back) && alike(left, right) && alike(front, left) && front > 0.0 {
            return Some(format!("It stands {} over all round.", self.words.length(front)));
        }
        let ends = if alike(left, right) { &[("at either end", left)][..] } else { &sides[2..] };
        let said = sides[..2].iter().chain(ends).map(|(side, over)| {
            let length = self.words.length(over.abs());
            if over.abs() < FLUSH {
                format!("flush {side}")
            } else if *over > 0.0 {
                format!("{length} over {side}")
            } else {
                format!("{length} short {side}")
            }
        });
        Some(format!("It stands {}.", and_list(&said.collect::<Vec<String>>())))
    }

    /// The top of a step that is laid on the bench, the rest turned over onto it, to be screwed:
    /// one over a frame that is open below, not one over a case that a hand reaches into
    /// (common practice, no source).
    pub(super) fn laid_face_down(&self, step: &Step) -> Option<&str> {
        let [only] = step.motions.as_slice() else { return None };
        let ways = only.adds.iter().zip(&only.ways);
        let mut moved = ways.filter_map(|(part, way)| Some((self.worked.parts.get(*part)?, (*way)?)));
        let (top, way) = moved.find(|(part, _)| is_own(part))?;
        if way.z > -DOWN || moved.any(|(part, _)| is_own(part)) || top.at.z.z.abs() < DOWN {
            return None;
        }
        let area =
            |part: &WorkedPart| boxed(points(part)).map(|(low, high)| (high.x - low.x) * (high.y - low.y));
        let own = area(top)?;
        let mut stands = only.onto.iter().filter_map(|part| self.worked.parts.get(*part));
        let closed = stands.any(|part| area(part).is_some_and(|area| area > COVERS * own));
        (!closed).then_some(top.name.as_str())
    }

    /// How a part that is free to move in slots is screwed (common practice, no source).
    fn in_slots(&self, step: &Step) -> Option<String> {
        let cuts = step.all_joints().flat_map(|joint| {
            let parts = self.worked.joints.get(joint).into_iter().flat_map(|joint| &joint.parts);
            let parts = parts.filter_map(|part| self.worked.parts.get(*part));
            let kinds = move |part: &WorkedPart| {
                let own = part.cuts.iter().filter(|cut| cut.joint == Some(joint));
                own.map(|cut| cut.kind).collect::<Vec<CutKind>>()
            };
            parts.map(kinds)
        });
        let slotted: Vec<Vec<CutKind>> = cuts.filter(|kinds| kinds.contains(&CutKind::Slot)).collect();
        let round = slotted.iter().any(|kinds| kinds.contains(&CutKind::ScrewHole));
        (!slotted.is_empty()).then(|| {
            let rows = if round {
                "Drive the row in round holes first, then set the others"
            } else {
                "Set the screws"
            };
            format!("{rows} in the middle of their slots, not hard, so that it can move.")
        })
    }

    /// What a drawer runs on and in is waxed (common practice, no source).
    pub(super) fn waxed(&self, step: &Step) -> Option<String> {
        let mut joints = step.all_joints().filter_map(|joint| self.worked.joints.get(joint));
        (self.job.finish.is_some() && joints.any(WorkedJoint::slides_on_wood))
            .then(|| "Wax what slides and what it slides on, where they touch.".into())
    }
}

/// Corners of a part where it stands.
fn points(part: &WorkedPart) -> impl Iterator<Item = DVec3> + '_ {
    part.solid.points.iter().map(|p| part.at.point(*p))
}

/// Box of some points.
fn boxed(points: impl Iterator<Item = DVec3>) -> Option<(DVec3, DVec3)> {
    points.map(|p| (p, p)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
}
