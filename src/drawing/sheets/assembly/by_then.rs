//! What a part looks like at a step: with the cuts that are made by then.

use std::collections::BTreeMap;

use crate::assembly::{Step, StepKind};
use crate::joinery::{Cut, WorkedJob};
use crate::solid::Solid;

/// Shapes of those of some parts that have not all their cuts yet at a step, before which
/// others were done. Where one does not come out, the finished part stands in.
pub(super) fn solids(
    worked: &WorkedJob,
    (before, step): (&[Step], &Step),
    shown: &[usize],
) -> BTreeMap<usize, Solid> {
    // Lippings are glued on and trimmed before joints are cut; their own mitres are.
    let lips = |cut: &Cut| {
        let joint = cut.joint.and_then(|joint| worked.joints.get(joint));
        joint.is_some_and(|joint| joint.traits.lips)
    };
    let done = |part: usize| {
        let steps = before.iter().chain([step]).filter(|step| step.kind == StepKind::Cut);
        steps.flat_map(Step::all_works).any(|own| own == part)
    };
    let so_far = |index: &usize| {
        let part = worked.parts.get(*index)?;
        let is_lip = step.kind == StepKind::Lip;
        let is_made = |cut: &Cut| if is_lip { lips(cut) } else { !cut.stage.waits() };
        if part.cuts.iter().all(is_made) || !is_lip && done(*index) {
            return None;
        }
        Some((*index, part.with_cuts(is_made)?))
    };
    shown.iter().filter_map(so_far).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assembly::assembly_orders;
    use crate::script::{Limits, NoModules, Request};

    fn worked(text: &str) -> (crate::model::Job, WorkedJob) {
        let request = Request {
            name: "test.rhai".into(),
            text: text.into(),
            settings: Vec::new(),
            loader: std::sync::Arc::new(NoModules),
            words: crate::words(),
            limits: Limits::default(),
        };
        crate::examine(&request).worked.expect("a sound script")
    }

    /// Lippings are glued to plain panels: 8 cm3 to the litre of them, no holes, no grooves; the
    /// rebate of a frame is there from the step that cuts it.
    #[test]
    fn a_picture_shows_the_cuts_that_are_made_by_then() {
        let (job, parts) = worked(
            "import \"wall_case\" as wall_case;\njob(\"C\", #{ unit: \"mm\" });\npiece(\"C\");\nwall_case::make(#{});\n",
        );
        let (orders, _) = assembly_orders(&job, &parts);
        let lip = &orders[0].steps[0];
        assert_eq!(lip.kind, StepKind::Lip);
        let early = solids(&parts, (&[], lip), &lip.works);
        assert!(early.len() > 3, "{}", early.len());
        for (index, solid) in &early {
            let blank = parts.parts[*index].size.element_product();
            assert!((solid.volume() / blank - 1.0).abs() < 1e-9, "`{}`", parts.parts[*index].name);
        }
        let (job, parts) = worked(
            "import \"frame\" as frame;\njob(\"F\", #{ unit: \"mm\" });\npiece(\"F\");\nframe::make(#{});\n",
        );
        let (orders, _) = assembly_orders(&job, &parts);
        let steps = &orders[0].steps;
        let cut = steps.iter().position(|step| step.kind == StepKind::Cut).expect("a rebate is cut");
        let works = &steps[cut].works;
        for at in 0..steps.len() {
            let waits = solids(&parts, (&steps[..at], &steps[at]), works);
            assert_eq!(waits.len(), if at < cut { works.len() } else { 0 }, "step {}", at + 1);
        }
    }

    /// Four wedges of the porch bench stand before the ends they are driven into, those of the
    /// left end at its left.
    #[test]
    fn wedges_stand_before_their_mouths() {
        let (job, parts) = worked(include_str!("../../../../scripts/porch_bench.rhai"));
        let (orders, _) = assembly_orders(&job, &parts);
        let step = orders[0].steps.last().expect("it is glued up");
        let driven = super::super::wedges::driven(&parts, step, 100.0, &|_| crate::geometry::DVec3::ZERO);
        assert_eq!(driven.len(), 4);
        for one in driven {
            let (from, to) = one.flow;
            let left = to.x < 500.0;
            assert!((from.x < to.x) == left, "{from} {to}");
            assert!(from.distance(to) > 29.0, "{from} {to}");
        }
    }
}
