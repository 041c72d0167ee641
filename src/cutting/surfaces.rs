//! How much surface is glued, and how much is left to finish.

use std::collections::BTreeMap;

use super::needs::pieces;
use crate::joinery::{WorkedJob, WorkedJoint, WorkedPart};
use crate::model::{Face, Job, StockKind};
use crate::solid::{self, Body, Contact, Standing, carve};

/// Areas of the whole job, mm².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Surfaces {
    /// Joints that are glued: where the parts touch, and round their tenons.
    pub(super) glued: f64,
    /// Outside of every wooden part without the walls of mortises, grooves and bores, less
    /// what is glued to another.
    pub(super) open: f64,
}

/// The surfaces of a job.
pub(super) fn surfaces(job: &Job, worked: &WorkedJob) -> Surfaces {
    let met = Met::of(worked);
    let mut sum = Surfaces::default();
    for (part, coated) in worked.parts.iter().zip(met.coats(job)) {
        sum.open += coated.map_or(0.0, |coated| coated.open()) * pieces(job, part.piece.0) as f64;
    }
    let made = |part: usize| worked.parts.get(part).map_or(1, |part| pieces(job, part.piece.0)) as f64;
    for joint in worked.joints.iter().filter(|joint| joint.glued) {
        sum.glued += tenons(joint) * joint.parts.first().map_or(1.0, |part| made(*part));
    }
    for (pair, contacts) in &met.glued {
        sum.glued += contacts.iter().map(|contact| contact.area).sum::<f64>() * made(pair.0);
    }
    sum
}

/// Where the glued joints of a job have its parts touch, each pair once: two joints of one
/// pair, a mitre and its tenons, touch in one place.
struct Met<'w> {
    worked: &'w WorkedJob,
    /// Contacts of pairs, the lower index first, normals out of that.
    glued: BTreeMap<(usize, usize), Vec<Contact>>,
}

impl<'w> Met<'w> {
    fn of(worked: &'w WorkedJob) -> Self {
        let mut standing: BTreeMap<usize, Standing> = BTreeMap::new();
        let mut glued: BTreeMap<(usize, usize), Vec<Contact>> = BTreeMap::new();
        for pair in worked.joints.iter().filter(|joint| joint.glued).flat_map(pairs) {
            if glued.contains_key(&pair) {
                continue;
            }
            for index in [pair.0, pair.1] {
                let Some(part) = worked.parts.get(index) else { continue };
                standing.entry(index).or_insert_with(|| Standing::new(&part.solid, &part.at));
            }
            let contacts = match (standing.get(&pair.0), standing.get(&pair.1)) {
                (Some(one), Some(other)) => one.contacts(other),
                _ => Vec::new(),
            };
            glued.insert(pair, contacts);
        }
        Self { worked, glued }
    }

    /// What of each part is finished; `None` for glass and what is bought.
    fn coats(&self, job: &Job) -> Vec<Option<Coated>> {
        let parts = &self.worked.parts;
        let mut coats: Vec<Option<Coated>> =
            parts.iter().map(|part| finished(job, part).then(|| faces(part))).collect();
        for ((a, b), contacts) in &self.glued {
            for (index, sign) in [(*a, 1.0), (*b, -1.0)] {
                let Some((part, Some(coated))) = parts.get(index).zip(coats.get_mut(index)) else { continue };
                // What is glued within a housing or groove is no face, and takes no finish.
                let on_face = |one: &&Contact| {
                    let normal = one.normal * sign;
                    let (way, offset) =
                        (part.at.local_dir(normal), one.offset * sign - normal.dot(part.at.origin));
                    let same = |face: &&solid::Face| {
                        face.plane.normal.dot(way) > ONE_WAY && (face.plane.offset - offset).abs() < OUTSIDE
                    };
                    part.solid.faces.iter().filter(same).any(|face| outside(part, face).is_some())
                };
                coated.masked += contacts.iter().filter(on_face).map(|one| one.area).sum::<f64>();
            }
        }
        for coated in coats.iter_mut().flatten() {
            coated.masked = coated.masked.min(coated.faces.iter().sum());
        }
        coats
    }
}

/// What of each part of a job is finished; `None` for glass and what is bought.
pub fn coats(job: &Job, worked: &WorkedJob) -> Vec<Option<Coated>> {
    Met::of(worked).coats(job)
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

impl Coated {
    /// What takes the finish.
    pub fn open(&self) -> f64 {
        (self.faces.iter().sum::<f64>() - self.masked).max(0.0)
    }
}

/// The outer faces of a part, nothing of them masked.
fn faces(part: &WorkedPart) -> Coated {
    let mut found = Coated::default();
    if matches!(part.body, Body::Turning(_)) {
        found.faces[0] = part.solid.true_area();
        return found;
    }
    let area = solid::Face::area_in(&part.solid);
    for face in &part.solid.faces {
        if let Some(side) = outside(part, face) {
            found.faces[side] += area(face);
        }
    }
    found
}

/// How far from its blank a face still is the outside of a part, mm.
const OUTSIDE: f64 = 0.01;

/// Cosine over which two planes look one way.
const ONE_WAY: f64 = 0.9999;

/// Which of the three kinds a face is: marked, behind it, edge or end; `None` for a wall
/// within the part.
fn outside(part: &WorkedPart, face: &solid::Face) -> Option<usize> {
    let on_blank = Face::facing(face.plane.normal).filter(|side| {
        let far = side.normal().dot(part.size).max(0.0);
        (face.plane.offset - far).abs() < OUTSIDE
    });
    match on_blank {
        Some(Face::Marked) => Some(0),
        Some(Face::Back) => Some(1),
        Some(_) => Some(2),
        // What is bevelled or shaped is outside too, as is what the blank was drawn with.
        None => {
            let cutter = face.from.cutter.and_then(|cutter| usize::try_from(cutter).ok());
            let cut = cutter.and_then(|cutter| part.cuts.get(cutter));
            cut.is_none_or(|cut| cut.kind.gives_faces()).then_some(2)
        }
    }
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
