//! What stands in the picture for the client, where, and from where it is looked at.

use crate::drawing::kit::project::bounds;
use crate::geometry::{DVec2, DVec3, Placement, trig};
use crate::joinery::{WorkedJob, WorkedPart, hangs_unplaced, on_wall};
use crate::model::{Job, PieceId, StockKind};
use crate::solid::{Body, Eye, Prism, Solid, carve};

/// Thickness of the wall, of what is on it and of the floor, mm: hardly more than lines.
const SHEER: f64 = 0.002;
/// How much of the wall and the floor is shown round the furniture, as a share of the
/// larger of its width and height.
const AROUND: f64 = 0.35;
/// Between pieces without a wall, as a share of the width of the first.
const APART: f64 = 0.25;
/// Nearer to the floor than this a piece stands on it, mm.
const STANDS: f64 = 1.0;
/// From the eye to the middle of the furniture, in lengths of its diagonal: nearer, what
/// is in front looks too large, farther, all looks flat.
const AWAY: f64 = 2.1;
/// At least so many times as far as what is nearest to the eye.
const CLEAR: f64 = 2.0;
/// Height of the eyes of someone who stands, mm (common practice, no source).
const STANDING: f64 = 1550.0;
/// How far the eye may be above the top of the furniture, as a share of its distance:
/// higher, upright lines would have to lean.
const ABOVE: f64 = 0.32;
/// How far the line of sight is turned from straight before the front, degrees.
const TURNED: f64 = 32.0;

/// What a thing in the picture is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A part, by its place among the worked parts.
    Part(usize),
    /// The wall, which shows by the shadow on it.
    Wall,
    /// What is on the wall, and where it meets the floor.
    OnWall,
    /// The floor: it shows by the shadow on it.
    Floor,
}

/// A thing in the picture.
pub(super) struct Thing<'a> {
    pub(super) kind: Kind,
    /// The part it is; `None` for what is round the furniture.
    pub(super) part: Option<&'a WorkedPart>,
    own: Option<Solid>,
    /// Where it stands.
    pub(super) at: Placement,
}

impl Thing<'_> {
    /// Its solid, where it was made.
    pub(super) fn solid(&self) -> Option<&Solid> {
        self.own.as_ref().or_else(|| self.part.map(|part| &*part.solid))
    }
}

/// The furniture as it stands, with what is round it.
pub(super) struct Scene<'a> {
    pub(super) things: Vec<Thing<'a>>,
    pub(super) eye: Eye,
}

impl<'a> Scene<'a> {
    /// That of a job; `None` where it has no parts.
    pub(super) fn of(job: &Job, worked: &'a WorkedJob) -> Option<Self> {
        let shifts = shifts(job, worked);
        let shift = |piece: PieceId| shifts.get(piece.0).copied().unwrap_or_default();
        let glass = |part: &WorkedPart| {
            job.stock.get(part.stock.0).is_some_and(|stock| matches!(stock.kind, StockKind::Glass { .. }))
        };
        // What is behind a pane is seen through it, unless there is nothing but panes.
        let clear = worked.parts.iter().any(|part| !glass(part));
        let parts = worked.parts.iter().enumerate().filter(|(_, part)| !(clear && glass(part)));
        let mut things: Vec<Thing<'_>> = parts
            .map(|(index, part)| Thing {
                kind: Kind::Part(index),
                part: Some(part),
                own: None,
                at: part.at.moved(shift(part.piece)),
            })
            .collect();
        let (low, high) = reach(&things)?;
        // What hangs, nobody says how high, is not shown on the floor.
        let stands = (0..job.pieces.len()).any(|piece| !hangs_unplaced(job, worked, PieceId(piece)));
        things.extend(wall(job, (low, high), stands));
        things.extend(floor(job, low, high).filter(|_| stands));
        let eye = eye(low, high, &things);
        Some(Self { things, eye })
    }
}

/// Least and greatest corner of things where they stand.
fn reach(things: &[Thing<'_>]) -> Option<(DVec3, DVec3)> {
    let points = things.iter().filter_map(|thing| Some((thing.solid()?, thing.at)));
    let corners = points.flat_map(|(solid, at)| solid.points.iter().map(move |p| at.point(*p)));
    let (low, high) = corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
    (low.is_finite() && high.is_finite()).then_some((low, high))
}

/// The eye for furniture between two corners: before its front, to the right of it, and
/// as high as someone's who stands, where that is not too far above it.
fn eye(low: DVec3, high: DVec3, things: &[Thing<'_>]) -> Eye {
    let (sin, cos) = trig::sin_cos(TURNED.to_radians());
    let (right, toward) = (DVec3::new(cos, sin, 0.0), DVec3::new(sin, -cos, 0.0));
    let middle = (low + high) * 0.5;
    let near = things.iter().filter(|thing| thing.kind != Kind::Wall);
    let points = near.filter_map(|thing| Some((thing.solid()?, thing.at)));
    let nearest = points
        .flat_map(|(solid, at)| solid.points.iter().map(move |p| toward.dot(at.point(*p) - middle)))
        .fold(0.0, f64::max);
    let distance = (AWAY * low.distance(high)).max(CLEAR * nearest);
    let most = high.z + ABOVE * distance;
    let height = STANDING.min(most);
    Eye { centre: DVec3::new(middle.x, middle.y, height), right, up: DVec3::Z, distance }
}

/// How far each piece is moved: to its place on the wall, else beside the one before.
fn shifts(job: &Job, worked: &WorkedJob) -> Vec<DVec3> {
    let mut shifts = vec![DVec3::ZERO; job.pieces.len()];
    let stands = on_wall(job, worked);
    for one in &stands {
        if let Some(shift) = shifts.get_mut(one.piece.0) {
            *shift = one.shift;
        }
    }
    if !stands.is_empty() {
        return shifts;
    }
    let mut next: Option<f64> = None;
    for (index, shift) in shifts.iter_mut().enumerate() {
        let own = worked.parts.iter().filter(|part| part.piece == PieceId(index));
        let Some((low, high)) = bounds(own) else { continue };
        if let Some(x) = next {
            shift.x = x - low.x;
        }
        next = Some(high.x + shift.x + APART * (high.x - low.x));
    }
    shifts
}

/// How much is shown round furniture between two corners, mm.
fn around(low: DVec3, high: DVec3) -> f64 {
    AROUND * (high.x - low.x).max(high.z - low.z)
}

/// What is seen of the wall, and what is on it.
fn wall<'a>(job: &Job, (low, high): (DVec3, DVec3), stands: bool) -> Vec<Thing<'a>> {
    let Some(site) = &job.site else { return Vec::new() };
    let more = around(low, high);
    let slab = |kind: Kind, from: DVec2, to: DVec2, y: f64| {
        cuboid(kind, DVec3::new(from.x, y, from.y), DVec3::new(to.x, y + SHEER, to.y))
    };
    let from = DVec2::new((low.x - more).max(0.0), (low.z - more).max(0.0));
    let to = DVec2::new((high.x + more).min(site.width), (high.z + more).min(site.height));
    let others = job.obstacles.iter().filter_map(|other| {
        let (a, b) = (DVec2::new(other.x.0, other.z.0).max(from), DVec2::new(other.x.1, other.z.1).min(to));
        if a.x < b.x && a.y < b.y { slab(Kind::OnWall, a, b, -2.0 * SHEER) } else { None }
    });
    // The whole wall, since shadows fall far; of it only the line on the floor is drawn,
    // under what stands there.
    let whole = slab(Kind::Wall, DVec2::ZERO, DVec2::new(site.width, site.height), SHEER);
    let on_floor = stands && low.z < STANDS;
    let joint = slab(Kind::OnWall, DVec2::new(from.x, 0.0), DVec2::new(to.x, SHEER), 0.0);
    whole.into_iter().chain(joint.filter(|_| on_floor)).chain(others).collect()
}

/// The floor under furniture that stands on it, up to the wall where there is one.
fn floor<'a>(job: &Job, low: DVec3, high: DVec3) -> Option<Thing<'a>> {
    if low.z.abs() > STANDS {
        return None;
    }
    let more = around(low, high);
    let back = if job.site.is_some() { SHEER } else { high.y + more };
    let from = DVec3::new(low.x - more, low.y - more, low.z - 2.0 * SHEER);
    cuboid(Kind::Floor, from, DVec3::new(high.x + more, back.max(high.y), low.z - SHEER))
}

/// A box between two corners.
fn cuboid<'a>(kind: Kind, low: DVec3, high: DVec3) -> Option<Thing<'a>> {
    let solid = carve(&Body::Prism(Prism::cuboid(low, high)), &[]).ok()?;
    Some(Thing { kind, part: None, own: Some(solid), at: Placement::IDENTITY })
}
