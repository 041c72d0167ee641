//! Wedges in the picture of the step that drives them: before the mouths they go into.

use crate::assembly::Step;
use crate::geometry::{DVec3, Placement};
use crate::joinery::{WorkedJob, WorkedJoint};
use crate::solid::{Body, Solid, carve};

/// How far a wedge stands before its mouth, in its own lengths.
const BEFORE: f64 = 1.5;

/// How far it stands before it at least, in reaches of a part that comes in.
const LEAST: f64 = 0.3;

/// A wedge where it is drawn.
pub(super) struct Wedge {
    pub(super) solid: Solid,
    pub(super) at: Placement,
    /// From it to where it goes, piece coordinates as drawn, mm.
    pub(super) flow: (DVec3, DVec3),
}

/// The wedges that a step drives from outside, each before the end of its tenon, which is
/// drawn where `by` says.
pub(super) fn driven(worked: &WorkedJob, step: &Step, reach: f64, by: &dyn Fn(usize) -> DVec3) -> Vec<Wedge> {
    let joints = step.motions.iter().flat_map(|one| &one.joints);
    let mut found = Vec::new();
    for joint in joints.filter_map(|joint| worked.joints.get(*joint)) {
        let Some(way) = joint.ways_in.first().copied() else { continue };
        // It goes the way the mortised part comes, into the end of the tenon that shows in its
        // far face.
        let Some(shift) = joint.parts.last().map(|part| by(*part)) else { continue };
        found.extend(of_joint(joint, way, shift, reach));
    }
    found
}

fn of_joint(joint: &WorkedJoint, way: DVec3, shift: DVec3, reach: f64) -> Vec<Wedge> {
    let wedges = joint.inserts.iter().filter(|one| one.item.is_wedge() && !one.item.is_foxed());
    let mut found = Vec::new();
    for insert in wedges {
        let Some(Ok(solid)) = insert.body.clone().map(|body| carve(&Body::Prism(body), &[])) else {
            continue;
        };
        for at in &insert.at {
            let along = solid.points.iter().map(|point| way.dot(at.point(*point)));
            let (low, high) =
                along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
            let back = ((high - low) * BEFORE).max(reach * LEAST);
            let middle = solid.points.iter().map(|point| at.point(*point)).sum::<DVec3>()
                / solid.points.len().max(1) as f64;
            let to = middle + way * (low - way.dot(middle)) + shift;
            found.push(Wedge {
                solid: solid.clone(),
                at: at.moved(shift - way * back),
                flow: (to - way * back, to),
            });
        }
    }
    found
}
