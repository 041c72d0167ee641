//! A part with its lippings on, as it is when its joints are cut.

use std::sync::Arc;

use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, PartSource, WorkedJob, WorkedPart};
use crate::solid::{Body, Prism, carve};

/// How far volumes may differ that are the same but for rounding, mm³ for each mm³.
const SAME_VOLUME: f64 = 1e-6;

/// Thinnest thing that counts, mm.
const THIN: f64 = 0.005;

/// Part `index` made up with its lippings, as [`Machined::made_up`](super::Machined::made_up)
/// says.
pub(super) fn made_up(worked: &WorkedJob, index: usize) -> Option<WorkedPart> {
    let core = worked.parts.get(index)?;
    let lips: Vec<&WorkedPart> = worked
        .parts
        .iter()
        .filter(|part| matches!(part.source, PartSource::Lipping { of, .. } if of == index))
        .collect();
    if lips.is_empty() {
        return None;
    }
    let (low, high) = reach(core, &lips);
    if low.z < -THIN || high.z > core.size.z + THIN {
        return None;
    }
    let mut part = core.clone();
    part.size = high - low;
    part.at = core.at.moved(core.at.dir(low));
    part.body = Body::Prism(Prism::cuboid(DVec3::ZERO, part.size));
    for cut in &mut part.cuts {
        cut.shape.at = cut.shape.at.moved(-low);
    }
    for lip in &lips {
        part.cuts.extend(own_cuts(core, lip).map(|cut| {
            let shape = cut.shape.within(&lip.at).seen_from(&part.at);
            Cut { shape, ..cut.clone() }
        }));
    }
    let shapes: Vec<Prism> = part.cuts.iter().map(|cut| cut.shape.clone()).collect();
    let solid = carve(&part.body, &shapes).ok()?;
    let apart = core.solid.volume() + lips.iter().map(|lip| lip.solid.volume()).sum::<f64>();
    if (solid.volume() - apart).abs() > SAME_VOLUME * apart {
        return None;
    }
    part.solid = Arc::new(solid);
    Some(part)
}

/// Lipping `index` as it is until it is glued on: what its panel is cut with afterwards is
/// not in it yet. `None` for what is no lipping, or has no other cuts.
pub(super) fn strip(worked: &WorkedJob, index: usize) -> Option<WorkedPart> {
    let part = worked.parts.get(index)?;
    let before = |cut: &Cut| {
        cut.joint.and_then(|joint| worked.joints.get(joint)).is_some_and(|joint| joint.traits.lips)
    };
    if !matches!(part.source, PartSource::Lipping { .. }) || part.cuts.iter().all(before) {
        return None;
    }
    let mut part = part.clone();
    part.cuts.retain(before);
    let shapes: Vec<Prism> = part.cuts.iter().map(|cut| cut.shape.clone()).collect();
    part.solid = Arc::new(carve(&part.body, &shapes).ok()?);
    Some(part)
}

/// The box round a part and its lippings, in the part's coordinates.
fn reach(core: &WorkedPart, lips: &[&WorkedPart]) -> (DVec3, DVec3) {
    let corners = lips
        .iter()
        .flat_map(|lip| [DVec3::ZERO, lip.size].map(|corner| core.at.local_point(lip.at.point(corner))));
    corners.fold((DVec3::ZERO, core.size), |(low, high), point| (low.min(point), high.max(point)))
}

/// The cuts of a lipping that shape the finished edge: not those that its panel
/// shares, nor the corners where lippings meet one another.
fn own_cuts<'a>(core: &WorkedPart, lip: &'a WorkedPart) -> impl Iterator<Item = &'a Cut> {
    let shared: Vec<_> = core.cuts.iter().map(|cut| (cut.joint, cut.kind, cut.origin)).collect();
    let corner = |kind| matches!(kind, CutKind::Notch | CutKind::Mitre);
    lip.cuts.iter().filter(move |cut| {
        let with_panel = shared.contains(&(cut.joint, cut.kind, cut.origin));
        // A cut that only grazes the panel belongs to the lipping alone; corners
        // between lippings are inside the finished part.
        !with_panel && !corner(cut.kind)
    })
}
