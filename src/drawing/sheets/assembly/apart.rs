//! How far the parts of a step are drawn from their places.

use std::collections::BTreeMap;

use crate::assembly::{Motion, Step, StepKind};
use crate::drawing::kit::project;
use crate::geometry::{DVec2, DVec3, Interval};
use crate::joinery::{PartSource, WorkedJob};
use crate::solid::Camera;

/// How far a lipping is drawn from its edge, as a share of the reach of a part: it only
/// goes straight on.
const LIPPED: f64 = 0.25;

/// White between lipped parts laid out side by side, as a share of the reach.
const BETWEEN: f64 = 0.5;

/// How much wider than high they are laid out.
const ROW: f64 = 1.3;

/// For each part that is drawn out of its place how far, in reaches.
pub(super) fn offsets(worked: &WorkedJob, step: &Step, reach: f64) -> BTreeMap<usize, DVec3> {
    if step.kind == StepKind::Lip {
        return laid_out(worked, step, reach);
    }
    if !step.round.is_empty() {
        return step.round.iter().map(|(part, way)| (*part, -*way)).collect();
    }
    let mut found: BTreeMap<usize, DVec3> = BTreeMap::new();
    for one in &step.motions {
        for (part, _) in one.adds.iter().zip(&one.ways).filter(|(_, way)| way.is_none()) {
            found.entry(*part).or_default();
        }
        let lone = one.adds.iter().zip(&one.ways).filter_map(|(part, way)| Some((*part, (*way)?)));
        let lone: Vec<(usize, DVec3)> = lone.collect();
        for group in [lone, one.together.clone()] {
            let Some((_, way)) = group.first().copied() else { continue };
            let by = moved(worked, one, &group, &found);
            // Between what stands opposite one another no farther than there is room.
            let far = one.from_inside.map_or(1.0, |inside| inside.clear / reach.max(inside.clear));
            let by = by - way * far + drawn_out(worked, one) / reach.max(1.0);
            for (part, _) in group {
                *found.entry(part).or_default() += by;
            }
        }
    }
    found
}

/// How far what is pressed on from inside is drawn back the way it was let in, mm: where it lies
/// so deep inside that what it comes to would hide it, right out of that.
fn drawn_out(worked: &WorkedJob, one: &Motion) -> DVec3 {
    let Some(inside) = one.from_inside else { return DVec3::ZERO };
    let along = |parts: &[usize]| {
        let points: Vec<f64> = parts
            .iter()
            .filter_map(|part| worked.parts.get(*part))
            .flat_map(|part| part.solid.points.iter().map(|p| -inside.way.dot(part.at.point(*p))))
            .collect();
        Interval::of(points)
    };
    match (along(&one.onto), along(&one.adds)) {
        (Some(onto), Some(own)) if onto.to - own.to > inside.clear => {
            -inside.way * (onto.to - own.from + own.length())
        }
        _ => DVec3::ZERO,
    }
}

/// Where what a group comes to is drawn: along its way the farthest of it, across it the
/// middle.
fn moved(
    worked: &WorkedJob,
    one: &Motion,
    group: &[(usize, DVec3)],
    found: &BTreeMap<usize, DVec3>,
) -> DVec3 {
    let Some((_, way)) = group.first().copied() else { return DVec3::ZERO };
    let inside = |part: &usize| group.iter().any(|(own, _)| own == part);
    let mut hosts: Vec<usize> = Vec::new();
    for joint in one.joints.iter().filter_map(|j| worked.joints.get(*j)) {
        if joint.parts.iter().any(inside) {
            hosts.extend(joint.parts.iter().copied().filter(|part| !inside(part)));
        }
    }
    hosts.sort_unstable();
    hosts.dedup();
    if hosts.is_empty() {
        return DVec3::ZERO;
    }
    let at = |part: &usize| found.get(part).copied().unwrap_or_default();
    let mean = hosts.iter().map(at).sum::<DVec3>() / hosts.len() as f64;
    let most = hosts.iter().map(|part| -way.dot(at(part))).fold(f64::NEG_INFINITY, f64::max);
    mean - way * (most + way.dot(mean))
}

/// Lipped parts side by side in the plane of the drawing, so that none hides another, each
/// with its lippings a little off its edges; like ones once.
fn laid_out(worked: &WorkedJob, step: &Step, reach: f64) -> BTreeMap<usize, DVec3> {
    let camera = Camera::isometric();
    let gap = reach * BETWEEN;
    let boxes: Vec<(usize, DVec2, DVec2)> = lipped(worked, step)
        .into_iter()
        .filter_map(|part| {
            let (low, high) = project::bounds(std::iter::once(worked.parts.get(part)?))?;
            let (low, high) = project::extent(camera, low, high);
            Some((part, low, high))
        })
        .collect();
    let room = |low: DVec2, high: DVec2| high - low + DVec2::splat(gap);
    let area: f64 = boxes.iter().map(|(_, low, high)| room(*low, *high).element_product()).sum();
    let widest = boxes.iter().map(|(_, low, high)| room(*low, *high).x).fold(0.0, f64::max);
    let most = (area * ROW).sqrt().max(widest);
    let mut found = BTreeMap::new();
    // Rows from the top left, each as high as its highest.
    let (mut at, mut high_of_row) = (DVec2::ZERO, 0.0_f64);
    for (part, low, high) in boxes {
        let size = room(low, high);
        if at.x > 0.0 && at.x + size.x > most {
            at = DVec2::new(0.0, at.y - high_of_row);
            high_of_row = 0.0;
        }
        let shift = DVec2::new(at.x - low.x, at.y - high.y) / camera.zoom;
        let by = (camera.right * shift.x + camera.up * shift.y) / reach.max(1.0);
        found.insert(part, by);
        for (index, lipping) in worked.parts.iter().enumerate() {
            if let PartSource::Lipping { of, side } = lipping.source
                && of == part
            {
                found.insert(index, by + side.normal() * LIPPED);
            }
        }
        at.x += size.x;
        high_of_row = high_of_row.max(size.y);
    }
    found
}

/// The parts that a lipping step shows: of like ones the first.
pub(super) fn lipped(worked: &WorkedJob, step: &Step) -> Vec<usize> {
    let mut numbers: Vec<String> = Vec::new();
    let mut shown = Vec::new();
    for part in &step.works {
        let Some(mark) = worked.parts.get(*part).map(|part| part.number.to_string()) else { continue };
        if !numbers.contains(&mark) {
            numbers.push(mark);
            shown.push(*part);
        }
    }
    shown
}
