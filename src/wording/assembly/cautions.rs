//! Where a step can hurt someone, said beside it; the notes say it once for all.

use super::Telling;
use crate::assembly::{Step, StepKind};
use crate::joinery::{Opening, WorkedJoint, WorkedPart};
use crate::model::StockKind;

/// Cosine under which a hinge lies level, so that what it holds falls shut.
const LEVEL: f64 = 0.5;

/// Over this height of a piece over the floor nobody works at it standing, mm (common
/// practice, no source).
const OVERHEAD: f64 = 1800.0;

impl Telling<'_> {
    /// What to take care of at a step, as sentences (common practice, no source).
    pub(super) fn cautions(&self, step: &Step) -> Vec<String> {
        let parts = || step.all_adds().filter_map(|part| self.worked.parts.get(part));
        let joints: Vec<&WorkedJoint> =
            step.all_joints().filter_map(|joint| self.worked.joints.get(joint)).collect();
        let mut said: Vec<String> = Vec::new();
        if parts().any(|part| self.is_glass(part)) {
            said.push("Glass: gloves on, its edges ground first.".into());
        }
        if parts().any(|part| self.is_mirror(part)) {
            said.push("Mirror: see that its safety backing is on.".into());
        }
        let falls = |joint: &&WorkedJoint| matches!(joint.opens, Some(Opening::Swings { axis, .. }) if axis.z.abs() < LEVEL);
        if joints.iter().any(falls) {
            said.push(
                "It falls shut: fit the stay before it is let go, with a gap for fingers, and no catch that locks itself."
                    .into(),
            );
        }
        if step.kind == StepKind::Cut {
            said.push("Clamp it down to be cut; guard eyes and ears.".into());
        }
        if step.kind == StepKind::Finish && self.job.finish.as_ref().is_some_and(crate::model::Finish::heats)
        {
            said.push(
                "Spread its rags out to dry, or keep them under water: they can set themselves on fire."
                    .into(),
            );
        }
        if joints.iter().any(|joint| joint.goes_to_wall()) {
            said.push(
                "Fixings in studs or solid masonry, none near cables or pipes; try them by hand before it is loaded."
                    .into(),
            );
            if joints.iter().any(|joint| self.is_high(joint)) {
                said.push("Work from steps that stand firm, not from a stool.".into());
            }
        }
        said
    }

    fn is_glass(&self, part: &WorkedPart) -> bool {
        let kind = self.job.stock.get(part.stock.0).map(|stock| &stock.kind);
        matches!(kind, Some(StockKind::Glass { .. }))
    }

    fn is_mirror(&self, part: &WorkedPart) -> bool {
        let stock = self.job.stock.get(part.stock.0);
        stock.is_some_and(|stock| stock.name.to_lowercase().contains("mirror"))
    }

    /// Whether the piece of a joint hangs higher than one reaches from the floor.
    fn is_high(&self, joint: &WorkedJoint) -> bool {
        let piece = joint.parts.first().and_then(|part| self.worked.parts.get(*part)).map(|part| part.piece);
        let Some(piece) = piece else { return false };
        let floor = self.job.pieces.get(piece.0).and_then(|piece| piece.floor);
        let heights = self.worked.parts.iter().filter(|part| part.piece == piece);
        let (low, high) = heights
            .flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p).z))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| (low.min(z), high.max(z)));
        floor.is_some_and(|floor| floor + high - low > OVERHEAD)
    }
}
