//! What is fitted to parts that stand, and what goes to the wall, as sentences.

use super::Telling;
use crate::assembly::Step;
use crate::joinery::{WorkedJoint, WorkedPart};
use crate::problem::wording::and_list;

impl Telling<'_> {
    /// A step that fits what stands.
    pub(super) fn fit(&self, step: &Step) -> String {
        let items = self.items(&step.joints);
        let hangs =
            step.joints.iter().filter_map(|j| self.worked.joints.get(*j)).any(|j| j.traits.hangs_on_wall);
        let to = self.names(&step.works);
        let items = and_list(&items);
        let of_halves = |j: &WorkedJoint| j.inserts.iter().any(|insert| insert.item.is_pair());
        if hangs && step.joints.iter().filter_map(|j| self.worked.joints.get(*j)).any(of_halves) {
            format!("Fix {items}: one half to {to}, the other to the wall, level, and hang it on them")
        } else if hangs {
            format!("Fix {items} to {to} and hang it on the wall, level")
        } else {
            format!("Fit {items} to {to}")
        }
    }

    /// How high the half of a cleat on the wall stands, from the top of the piece: where that
    /// is to be is marked on the wall first.
    pub(super) fn cleat_height(&self, step: &Step) -> Option<String> {
        let [only] = step.motions.as_slice() else { return None };
        let mut joints = only.joints.iter().filter_map(|j| self.worked.joints.get(*j));
        if only.together.is_empty() || !joints.any(|joint| joint.traits.hooks_on) {
            return None;
        }
        let top = |part: &WorkedPart| {
            let points = part.solid.points.iter().map(|p| part.at.point(*p).z);
            points.fold(f64::NEG_INFINITY, f64::max)
        };
        let high = |parts: &mut dyn Iterator<Item = usize>| {
            parts.filter_map(|part| self.worked.parts.get(part)).map(top).fold(f64::NEG_INFINITY, f64::max)
        };
        let piece = self.worked.parts.get(*only.adds.first()?)?.piece;
        let whole = self.worked.parts.iter().filter(|part| part.piece == piece).map(top);
        let under = whole.fold(f64::NEG_INFINITY, f64::max) - high(&mut only.adds.iter().copied());
        let under = self.words.length(under);
        Some(format!(
            "Its upper edge stands {under} below the top of the piece, which is lifted over it and let down."
        ))
    }
}
