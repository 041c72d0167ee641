//! Lippings, and cuts that wait for the glue-up, as sentences.

use super::Telling;
use crate::assembly::{Step, StepKind, Turned};
use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, Opening, PartSource, Stage, WorkedPart, corners};
use crate::measure::number;
use crate::problem::wording::{and_list, count};

/// Cosine over which a hinge stands upright, so that what it holds is a door.
const UPRIGHT: f64 = 0.9;

/// Share of its thickness that an inset door stands back into its case at least.
const INSET: f64 = 0.5;

/// Sizes nearer than this are one, mm.
const ALIKE: f64 = 0.05;

impl Telling<'_> {
    /// How lippings are held and when they are trimmed (common practice, no source).
    pub(super) fn lipped(&self, step: &Step) -> Vec<String> {
        if step.kind != StepKind::Lip {
            return Vec::new();
        }
        let glue = &self.job.order.glue;
        let mut said = vec![format!(
            "Glue on both faces; hold each with tape pulled tight over it, or under a caul in clamps, for {} min, and let it cure before it is trimmed.",
            number(glue.clamped(), 0)
        )];
        // Not by a joint of the case, which is cut through them when they are trimmed.
        let lips = |joint: usize| self.worked.joints.get(joint).is_some_and(|joint| joint.traits.lips);
        let mitre = |cut: &Cut| cut.kind == CutKind::Mitre && cut.joint.is_some_and(lips);
        let strips = step.all_adds().filter_map(|part| self.worked.parts.get(part));
        let mitred = strips.filter(|part| part.cuts.iter().any(mitre)).count();
        if mitred > 0 {
            said.push(format!(
                "{} mitred where they meet: fit each corner dry first.",
                count(mitred, "lipping is", "lippings are")
            ));
        }
        said
    }

    /// The kinds of cuts of a cutting step, holes by their number.
    pub(super) fn kinds_cut(&self, step: &Step) -> String {
        let kinds = step.cuts.iter().map(|kind| {
            let holes = matches!(kind, CutKind::FittingHole | CutKind::ScrewHole | CutKind::Hole);
            let many = holes && self.later(step).filter(|(_, cut)| cut.kind == *kind).count() > 1;
            format!("the {}{}", kind.name(), if many { "s" } else { "" })
        });
        and_list(&kinds.collect::<Vec<String>>())
    }

    /// The cuts of a step that waited for the glue-up, each with its part; of repeats too.
    fn later(&self, step: &Step) -> impl Iterator<Item = (&WorkedPart, &Cut)> {
        let works: Vec<usize> = step.all_works().collect();
        let parts = works.into_iter().filter_map(|part| self.worked.parts.get(part));
        let cuts = parts.flat_map(|part| part.cuts.iter().map(move |cut| (part, cut)));
        cuts.filter(|(_, cut)| cut.stage == Stage::AfterGlueUp)
    }

    /// Sizes of the cuts of a step, what a cutter leaves, and where a door is tried.
    pub(super) fn cut_later(&self, step: &Step) -> Vec<String> {
        if step.kind != StepKind::Cut {
            return Vec::new();
        }
        let mut said: Vec<String> = self.rebates(step).into_iter().chain(self.holes(step)).collect();
        if step.cuts.contains(&CutKind::Rebate) {
            said.push("The cutter leaves the corners round: square them with a chisel.".into());
        }
        if step.works.iter().any(|part| self.is_of_inset_door(*part)) {
            // Now it can still be planed: no pane is in it and no finish on it.
            said.push("Then try it in its opening and plane it to an even gap.".into());
        }
        said
    }

    /// `Rebate 8 mm wide, 12 mm deep from the back.`: the most common size first, others with
    /// their parts.
    fn rebates(&self, step: &Step) -> Option<String> {
        let mut sizes: Vec<(f64, f64, Vec<String>)> = Vec::new();
        for (part, cut) in self.later(step).filter(|(_, cut)| cut.kind == CutKind::Rebate) {
            let (wide, deep) = step_size(part, cut);
            let same = |known: &&mut (f64, f64, Vec<String>)| {
                (known.0 - wide).abs() < ALIKE && (known.1 - deep).abs() < ALIKE
            };
            match sizes.iter_mut().find(same) {
                Some(known) => known.2.push(part.name.clone()),
                None => sizes.push((wide, deep, vec![part.name.clone()])),
            }
        }
        sizes.sort_by_key(|(.., parts)| std::cmp::Reverse(parts.len()));
        let from = if step.turned == Turned::Back { " from the back" } else { "" };
        let said = sizes.iter().enumerate().map(|(i, (wide, deep, parts))| {
            let size = format!("{} wide, {} deep", self.words.length(*wide), self.words.length(*deep));
            if i == 0 {
                return format!("{size}{from}");
            }
            let mut parts = parts.clone();
            parts.dedup();
            format!("{size} on {}", and_list(&parts))
        });
        let said = said.collect::<Vec<String>>().join("; ");
        (!said.is_empty()).then(|| format!("Rebate {said}."))
    }

    /// `4 holes ⌀ 2.5 mm, 16 mm deep.`
    fn holes(&self, step: &Step) -> Option<String> {
        let mut sizes: Vec<(f64, f64, usize)> = Vec::new();
        for (part, cut) in self.later(step) {
            let [round] = cut.shape.outline.arcs.as_slice() else { continue };
            let (thick, deep) = (2.0 * round.radius, depth(part, cut));
            let same = |known: &&mut (f64, f64, usize)| {
                (known.0 - thick).abs() < ALIKE && (known.1 - deep).abs() < ALIKE
            };
            match sizes.iter_mut().find(same) {
                Some(known) => known.2 += 1,
                None => sizes.push((thick, deep, 1)),
            }
        }
        let said = sizes.iter().map(|(thick, deep, n)| {
            let [thick, deep] = [*thick, *deep].map(|mm| self.words.length(mm));
            format!("{} ⌀ {thick}, {deep} deep", count(*n, "hole", "holes"))
        });
        let said = said.collect::<Vec<String>>();
        (!said.is_empty()).then(|| format!("{}.", said.join("; ")))
    }

    /// Least and greatest of a part with its lippings, front to back.
    fn off_front(&self, part: usize) -> (f64, f64) {
        let of = |(index, other): &(usize, &WorkedPart)| {
            *index == part || matches!(other.source, PartSource::Lipping { of, .. } if of == part)
        };
        let parts = self.worked.parts.iter().enumerate().filter(of).map(|(_, part)| part);
        let points = parts.flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p).y));
        points.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)))
    }

    /// Whether a part is of a door that stands in its opening.
    fn is_of_inset_door(&self, part: usize) -> bool {
        let doors = self.worked.joints.iter().filter(
            |joint| matches!(joint.opens, Some(Opening::Swings { axis, .. }) if axis.z.abs() > UPRIGHT),
        );
        doors.filter_map(|joint| Some((*joint.parts.first()?, *joint.parts.last()?))).any(|(leaf, case)| {
            let (door, case) = (self.off_front(leaf), self.off_front(case));
            let inset = door.1.min(case.1) - door.0.max(case.0) > INSET * (door.1 - door.0);
            inset && self.worked.moving_with(leaf).binary_search(&part).is_ok()
        })
    }
}

/// Box of what a cut takes of its part, in part coordinates.
fn taken(part: &WorkedPart, cut: &Cut) -> (DVec3, DVec3) {
    let points = corners(&cut.shape).into_iter();
    let (low, high) = points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
    (low.max(DVec3::ZERO), high.min(part.size))
}

/// How wide and how deep a rebate is, across the part and through it.
fn step_size(part: &WorkedPart, cut: &Cut) -> (f64, f64) {
    let (low, high) = taken(part, cut);
    (high.y - low.y, high.z - low.z)
}

/// How deep a hole goes into its part.
fn depth(part: &WorkedPart, cut: &Cut) -> f64 {
    let (low, high) = taken(part, cut);
    (high - low).dot(cut.shape.at.z.abs())
}

/// Whether a part is one of the script and no strip glued to one.
pub(super) fn is_own(part: &WorkedPart) -> bool {
    matches!(part.source, PartSource::Part(_))
}
