//! Where pieces stand on the wall they go to, and where they are fixed to it.

use crate::geometry::{DVec2, DVec3};
use crate::joinery::bench::blank::corners;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::tolerance::NEARER;
use crate::joinery::bench::worked::{Cut, WorkedJob, WorkedJoint, WorkedPart};
use crate::joinery::facts::Facts;
use crate::joinery::facts::hanging::Hanging;
use crate::joinery::facts::item::{Item, Support};
use crate::model::{FLOATS, Job, PieceId};

/// A piece on its wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnWall {
    /// The piece.
    pub piece: PieceId,
    /// From coordinates of the piece to the wall's: x from its left end, y from the
    /// wall to the room less than 0, z over the floor, mm.
    pub shift: DVec3,
    /// Its lower left corner on the wall.
    pub low: DVec2,
    /// Its upper right corner.
    pub high: DVec2,
}

/// Where something is fixed to the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    /// The piece it holds.
    pub piece: PieceId,
    /// What is used.
    pub item: Item,
    /// Where on the wall, from the left, mm.
    pub at: Vec<DVec2>,
}

/// How near the wall the back of a part stands that touches it, mm.
const TOUCH: f64 = 0.02;

/// How far a piece must be lifted over its place to be let down on its cleat, mm: the
/// height that the bevel takes. `None` for a joint that hooks on nothing.
pub fn lift(joint: &WorkedJoint) -> Option<f64> {
    match &joint.facts {
        Facts::Hanging(Hanging::Cleat(cleat)) if joint.traits.hooks_on => Some(cleat.across),
        _ => None,
    }
}

/// The pieces on the wall of the job, in script order; none without a wall. A piece
/// stands in the middle of the wall and as high as it is drawn, unless the script
/// says otherwise.
pub fn on_wall(job: &Job, worked: &WorkedJob) -> Vec<OnWall> {
    let Some(site) = &job.site else { return Vec::new() };
    let stands = |(index, piece): (usize, &crate::model::Piece)| {
        let own = worked.parts.iter().filter(|part| part.piece == PieceId(index));
        let points = own.flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p)));
        let (low, high) = points.fold(None, |found: Option<(DVec3, DVec3)>, p| {
            Some(found.map_or((p, p), |(low, high)| (low.min(p), high.max(p))))
        })?;
        let left = piece.left.unwrap_or(0.5 * (site.width - (high.x - low.x)));
        let floor = piece.floor.unwrap_or(low.z);
        let shift = DVec3::new(left - low.x, -high.y, floor - low.z);
        let flat = |p: DVec3| DVec2::new(p.x + shift.x, p.z + shift.z);
        Some(OnWall { piece: PieceId(index), shift, low: flat(low), high: flat(high) })
    };
    job.pieces.iter().enumerate().filter_map(stands).collect()
}

/// Whether a piece hangs on the wall and nobody has said how high: it is drawn with its
/// underside on the floor, for want of anything better.
pub fn hangs_unplaced(job: &Job, worked: &WorkedJob, piece: PieceId) -> bool {
    let own = |p: &usize| worked.parts.get(*p).is_some_and(|part| part.piece == piece);
    let any = |have: fn(&WorkedJoint) -> bool| {
        worked.joints.iter().any(|joint| have(joint) && joint.parts.iter().any(own))
    };
    let low = worked
        .parts
        .iter()
        .filter(|part| part.piece == piece)
        .flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p).z))
        .fold(f64::INFINITY, f64::min);
    job.pieces.get(piece.0).is_some_and(|piece| piece.floor.is_none())
        && low.abs() < FLOATS
        && any(|joint| joint.traits.hangs_on_wall)
        && !any(|joint| joint.traits.stands_on_floor)
}

/// The fixings of the pieces on the wall: those of what hangs them, else the holes
/// that go right through a part at the wall.
pub fn fixings(worked: &WorkedJob, pieces: &[OnWall]) -> Vec<Fixing> {
    let mut found = Vec::new();
    for stands in pieces {
        let own = |p: &usize| worked.parts.get(*p).is_some_and(|part| part.piece == stands.piece);
        let flat = |p: DVec3| DVec2::new(p.x + stands.shift.x, p.z + stands.shift.z);
        let before = found.len();
        let joints = worked.joints.iter().filter(|j| j.traits.hangs_on_wall && j.parts.iter().any(own));
        for fixed in joints.filter_map(|joint| joint.inserts.iter().rev().find(|i| i.body.is_none())) {
            let at: Vec<DVec2> = fixed.at.iter().map(|place| flat(place.origin)).collect();
            found.push(Fixing { piece: stands.piece, item: fixed.item.clone(), at: ordered(at) });
        }
        // What was made to hang it comes before any hole that happens to go through.
        if found.len() > before {
            continue;
        }
        let parts = worked.parts.iter().filter(|part| part.piece == stands.piece);
        let holes: Vec<DVec2> =
            parts.filter(|part| at_wall(part, stands)).flat_map(bored).map(flat).collect();
        if !holes.is_empty() {
            let item = Support::WallScrew.into();
            found.push(Fixing { piece: stands.piece, item, at: ordered(holes) });
        }
    }
    found
}

/// From the left, and those over one another from below.
fn ordered(mut at: Vec<DVec2>) -> Vec<DVec2> {
    // The order a drill goes along the wall in, and the same whatever order the parts
    // have.
    at.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    at
}

/// Whether a part reaches back to the wall.
fn at_wall(part: &WorkedPart, stands: &OnWall) -> bool {
    let back = part.solid.points.iter().map(|p| part.at.point(*p).y).fold(f64::NEG_INFINITY, f64::max);
    back + stands.shift.y > -TOUCH
}

/// The middles of the holes and slots that go right through a part from front to
/// back.
fn bored(part: &WorkedPart) -> impl Iterator<Item = DVec3> {
    let through = |cut: &&Cut| bored_through(part, cut, DVec3::Y);
    part.cuts.iter().filter(through).filter_map(|cut| {
        let (low, high) = cut.shape.outline.bounds()?;
        let middle = 0.5 * (low + high);
        Some(part.at.point(cut.shape.at.point(middle.extend(cut.shape.from))))
    })
}

/// Whether a cut is a hole or slot that goes right through its part along a
/// direction of the piece.
pub(crate) fn bored_through(part: &WorkedPart, cut: &Cut, along: DVec3) -> bool {
    let way = part.at.local_dir(along);
    let deep = |points: &[DVec3]| {
        points.iter().map(|p| way.dot(*p)).fold((f64::MAX, f64::MIN), |(l, h), d| (l.min(d), h.max(d)))
    };
    let ((low, high), (from, to)) = (deep(&part.solid.points), deep(&corners(&cut.shape)));
    matches!(cut.kind, CutKind::Hole | CutKind::Slot)
        && cut.shape.at.z.dot(way).abs() > NEARER
        && from < low + TOUCH
        && to > high - TOUCH
}
