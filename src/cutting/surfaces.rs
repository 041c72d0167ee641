//! How much surface is glued, and how much is left to finish.

use std::collections::BTreeMap;

use super::needs::pieces;
use crate::geometry::DVec3;
use crate::joinery::{WorkedJob, WorkedJoint, WorkedPart};
use crate::model::{Face, Job, StockKind};
use crate::solid::{Body, Contact, Standing, carve};

/// Areas of the whole job, mm².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Surfaces {
    /// Joints that are glued: where the parts touch, and round their tenons.
    pub(super) glued: f64,
    /// Outside of every wooden part, less where it touches another in a joint.
    pub(super) open: f64,
}

/// The surfaces of a job.
pub(super) fn surfaces(job: &Job, worked: &WorkedJob) -> Surfaces {
    let mut sum = Surfaces::default();
    for part in worked.parts.iter().filter(|part| finished(job, part)) {
        sum.open += part.solid.true_area() * pieces(job, part.piece.0) as f64;
    }
    let mut standing: BTreeMap<usize, Standing> = BTreeMap::new();
    // Two joints of one pair, a mitre and its tenons, touch in one place.
    let mut met: BTreeMap<(usize, usize), bool> = BTreeMap::new();
    for joint in &worked.joints {
        for pair in pairs(joint) {
            let glued = met.entry(pair).or_insert(false);
            *glued |= joint.glued;
        }
        let made = joint.parts.first().and_then(|part| worked.parts.get(*part));
        let inside = tenons(joint) * made.map_or(1, |part| pieces(job, part.piece.0)) as f64;
        if joint.glued {
            sum.glued += inside;
        }
        // The walls of their mortises are hidden, glued or not.
        sum.open -= inside;
    }
    for ((a, b), glued) in met {
        let (Some(first), Some(second)) = (worked.parts.get(a), worked.parts.get(b)) else { continue };
        for (index, part) in [(a, first), (b, second)] {
            standing.entry(index).or_insert_with(|| Standing::new(&part.solid, &part.at));
        }
        let area: f64 = match (standing.get(&a), standing.get(&b)) {
            (Some(one), Some(other)) => one.contacts(other).iter().map(|contact| contact.area).sum(),
            _ => 0.0,
        };
        let made = pieces(job, first.piece.0) as f64;
        if glued {
            sum.glued += area * made;
        }
        for part in [first, second].into_iter().filter(|part| finished(job, part)) {
            sum.open -= area * pieces(job, part.piece.0) as f64;
        }
    }
    Surfaces { glued: sum.glued.max(0.0), open: sum.open.max(0.0) }
}

/// What of a part is finished, mm².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Coated {
    /// Of the marked face, of the face behind it, and of edges and ends together; walls of
    /// mortises and bores are none of them. Of a turned part all is the first.
    pub faces: [f64; 3],
    /// What of these is glued to other parts, and masked while the finish goes on.
    pub masked: f64,
}

/// What of part `index` is finished; `None` for glass and what is bought.
pub fn coated(job: &Job, worked: &WorkedJob, index: usize) -> Option<Coated> {
    let part = worked.parts.get(index).filter(|part| finished(job, part))?;
    let mut found = Coated::default();
    if matches!(part.body, Body::Turning(_)) {
        found.faces[0] = part.solid.true_area();
    } else {
        let area = crate::solid::Face::area_in(&part.solid);
        for face in &part.solid.faces {
            if let Some(side) = outside(part, face.plane.normal, face.plane.offset) {
                found.faces[side] += area(face);
            }
        }
    }
    let own = Standing::new(&part.solid, &part.at);
    let glued = worked.joints.iter().filter(|joint| joint.glued);
    let mut met: Vec<usize> = glued
        .flat_map(pairs)
        .filter_map(|(a, b)| if a == index { Some(b) } else { (b == index).then_some(a) })
        .collect();
    met.sort_unstable();
    met.dedup();
    for other in met.into_iter().filter_map(|other| worked.parts.get(other)) {
        let contacts = own.contacts(&Standing::new(&other.solid, &other.at));
        // What is glued within a housing or groove is no face, and takes no finish.
        let on_face = |one: &&Contact| {
            let offset = one.offset - one.normal.dot(part.at.origin);
            outside(part, part.at.local_dir(one.normal), offset).is_some()
        };
        found.masked += contacts.iter().filter(on_face).map(|one| one.area).sum::<f64>();
    }
    found.masked = found.masked.min(found.faces.iter().sum());
    Some(found)
}

/// How far from its blank a face still is the outside of a part, mm.
const OUTSIDE: f64 = 0.01;

/// Which of the three kinds of faces a plane is: marked, behind it, edge or end; `None` for
/// a wall within the part.
fn outside(part: &WorkedPart, normal: DVec3, offset: f64) -> Option<usize> {
    // What is bevelled or shaped is outside too.
    let Some(face) = Face::facing(normal) else { return Some(2) };
    let far = face.normal().dot(part.size).max(0.0);
    ((offset - far).abs() < OUTSIDE).then_some(match face {
        Face::Marked => 0,
        Face::Back => 1,
        _ => 2,
    })
}

/// The pairs a joint relates: its first part with each of the others.
fn pairs(joint: &WorkedJoint) -> impl Iterator<Item = (usize, usize)> {
    let first = joint.parts.first().copied();
    joint.parts.iter().skip(1).filter_map(move |other| Some((first?.min(*other), first?.max(*other))))
}

/// Whether a part is finished in the shop: glass and bought parts are not.
fn finished(job: &Job, part: &WorkedPart) -> bool {
    let kind = job.stock.get(part.stock.0).map(|stock| &stock.kind);
    !matches!(kind, Some(StockKind::Glass { .. } | StockKind::Bought) | None)
}

/// Surface of the loose tenons of a joint, which is glued all over, mm².
fn tenons(joint: &WorkedJoint) -> f64 {
    let loose = joint.inserts.iter().filter(|insert| insert.item.is_glued());
    loose
        .filter_map(|insert| {
            let solid = carve(&Body::Prism(insert.body.clone()?), &[]).ok()?;
            Some(solid.true_area() * insert.at.len() as f64)
        })
        .sum()
}
