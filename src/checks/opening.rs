//! Doors, flaps and drawers that meet something on their way open.

use rayon::prelude::*;

use crate::geometry::{DVec3, Placement};
use crate::joinery::{Opening, WorkedJob, WorkedPart};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::Problem;
use crate::solid::{Body, Solid, Standing, carve};

/// Angles at which a door is looked at, degrees: close at first, where its back
/// edge passes what it shuts against; beyond a quarter in steps of `WIDE`.
const ANGLES: &[f64] =
    &[1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 11.0, 15.0, 20.0, 25.0, 32.0, 40.0, 48.0, 56.0, 65.0, 74.0, 82.0, 90.0];
/// Angle between two looks at a door that opens by more than a quarter, degrees.
const WIDE: f64 = 8.0;
/// How far a drawer is drawn between two looks, at most, mm: less than any part
/// in its way is thick.
const STEP: f64 = 3.0;

/// Everything that opens together, shut.
struct Leaf<'a> {
    /// The part that is hung.
    part: &'a WorkedPart,
    how: Opening,
    /// Where it is written.
    joint: usize,
    /// What moves with it: indices of parts, rising.
    moving: Vec<usize>,
    /// The box round all that moves, piece coordinates.
    low: DVec3,
    high: DVec3,
}

/// A thing that can be met: a part, or a handle on one.
struct Thing<'a> {
    /// The part, or that which the handle is on.
    part: usize,
    handle: Option<&'static str>,
    solid: &'a Solid,
    at: Placement,
    low: DVec3,
    high: DVec3,
}

/// The first meeting of a leaf: how far it is open, what of it, with what, and
/// whether that stands open itself.
struct Met<'a> {
    share: f64,
    mine: &'a Thing<'a>,
    other: &'a Thing<'a>,
    open: bool,
}

/// A warning for everything that opens and meets another part on its way.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let leaves = leaves(worked);
    if leaves.is_empty() {
        return Vec::new();
    }
    let handles = handles(worked);
    let things = things(worked, &handles);
    let first =
        |leaf: &Leaf<'_>| meeting(worked, &leaves, leaf, &things).map(|met| told(job, worked, leaf, &met));
    leaves.par_iter().filter_map(first).collect()
}

/// All that opens, once each. What is fixed to what it opens from does not.
fn leaves(worked: &WorkedJob) -> Vec<Leaf<'_>> {
    let mut found: Vec<Leaf<'_>> = Vec::new();
    for (index, joint) in worked.joints.iter().enumerate() {
        let Some((how, first)) = joint.opens.zip(joint.parts.first().copied()) else { continue };
        let moving = worked.moving_with(first);
        let held = joint.parts.get(1).is_none_or(|frame| moving.contains(frame));
        let Some(part) = worked.parts.get(first).filter(|_| !held) else { continue };
        // The two runners of a drawer move it once.
        if found.iter().any(|leaf| leaf.moving == moving) {
            continue;
        }
        let boxes = moving.iter().filter_map(|i| worked.parts.get(*i)).map(|p| reach(&p.solid, &p.at));
        let (low, high) = boxes
            .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), (low, high)| (l.min(low), h.max(high)));
        found.push(Leaf { part, how, joint: index, moving, low, high });
    }
    found
}

/// The shapes of knobs and pulls, with the part each is on and where it stands.
fn handles(worked: &WorkedJob) -> Vec<(usize, &'static str, Placement, Solid)> {
    let mut found = Vec::new();
    for joint in worked.joints.iter().filter(|j| j.traits.is_handle) {
        for insert in &joint.inserts {
            let Some((part, body)) = joint.parts.first().zip(insert.body.as_ref()) else { continue };
            let Ok(solid) = carve(&Body::Prism(body.clone()), &[]) else { continue };
            found.extend(insert.at.iter().map(|at| (*part, joint.word, *at, solid.clone())));
        }
    }
    found
}

/// Every part, then every handle.
fn things<'a>(
    worked: &'a WorkedJob,
    handles: &'a [(usize, &'static str, Placement, Solid)],
) -> Vec<Thing<'a>> {
    let parts = worked.parts.iter().enumerate().map(|(i, p)| (i, None, p.at, &*p.solid));
    let handles = handles.iter().map(|(i, word, at, solid)| (*i, Some(*word), *at, solid));
    let thing = |(part, handle, at, solid): (usize, Option<&'static str>, Placement, &'a Solid)| {
        let (low, high) = reach(solid, &at);
        Thing { part, handle, solid, at, low, high }
    };
    parts.chain(handles).map(thing).collect()
}

/// The box round a solid where it stands.
fn reach(solid: &Solid, at: &Placement) -> (DVec3, DVec3) {
    let points = solid.points.iter().map(|p| at.point(*p));
    points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)))
}

/// The last of [`ANGLES`], degrees, from which wider ones follow.
const OPEN: f64 = 90.0;

/// Most places at which a drawer is looked at.
const MOST_LOOKS: f64 = 1000.0;

/// Cosine over which a hinge stands along an axis of the piece.
const ALONG: f64 = 0.999;

/// What a leaf meets first, if anything.
fn meeting<'a>(
    worked: &WorkedJob,
    leaves: &[Leaf<'_>],
    leaf: &Leaf<'_>,
    things: &'a [Thing<'a>],
) -> Option<Met<'a>> {
    let (swept_low, swept_high) = swept(leaf);
    let mine: Vec<&Thing<'_>> = things.iter().filter(|t| leaf.moving.contains(&t.part)).collect();
    let mut others = Vec::new();
    for other in things.iter().filter(|t| !leaf.moving.contains(&t.part)) {
        let same = worked.parts.get(other.part).is_some_and(|p| p.piece == leaf.part.piece);
        // What another leaf carries is out of the way where that must be open first.
        let carried = leaves.iter().find(|l| l.moving.contains(&other.part) && covers(l, leaf));
        let pose = carried.map_or(Placement::IDENTITY, |l| l.how.pose(0.5 * (l.low + l.high), 1.0));
        let (low, high) = box_of(other, &pose);
        if same && low.cmplt(swept_high).all() && high.cmpgt(swept_low).all() {
            let at = other.at.within(&pose);
            others.push((other, carried.is_some(), Standing::new(other.solid, &at), low, high));
        }
    }
    if others.is_empty() {
        return None;
    }
    looks(leaf.how).into_iter().find_map(|share| {
        let pose = leaf.how.pose(0.5 * (leaf.low + leaf.high), share);
        mine.iter().find_map(|mine| {
            let (other, open) = struck(mine, &pose, &others)?;
            Some(Met { share, mine, other, open })
        })
    })
}

/// What may be in the way of a leaf: whether another leaf carries it, where it stands,
/// and the corners of its box.
type InTheWay<'a> = (&'a Thing<'a>, bool, Standing, DVec3, DVec3);

/// What a thing strikes in this pose of its leaf, and whether that is open meanwhile.
fn struck<'a>(mine: &Thing<'_>, pose: &Placement, others: &[InTheWay<'a>]) -> Option<(&'a Thing<'a>, bool)> {
    let (low, high) = box_of(mine, pose);
    let near = others.iter().filter(|(_, _, _, l, h)| low.cmplt(*h).all() && high.cmpgt(*l).all());
    let mut standing = None;
    for (other, open, there, ..) in near {
        let here = standing.get_or_insert_with(|| Standing::new(mine.solid, &mine.at.within(pose)));
        if here.runs_into(there) {
            return Some((other, *open));
        }
    }
    None
}

/// Shares of its way at which a leaf is looked at.
fn looks(how: Opening) -> Vec<f64> {
    match how {
        Opening::Swings { by, .. } => {
            let beyond = (1_u8..12).map(|k| OPEN + WIDE * f64::from(k));
            let angles = ANGLES.iter().copied().chain(beyond).filter(|angle| *angle < by);
            angles.map(|angle| angle / by).chain([1.0]).collect()
        }
        Opening::Slides { by, .. } => {
            let steps = (by / STEP).ceil().clamp(1.0, MOST_LOOKS);
            (1_u16..=1000).map(f64::from).take_while(|k| *k <= steps).map(|k| k / steps).collect()
        }
    }
}

/// Whether one leaf, shut, stands before another, so that it must be opened first.
fn covers(front: &Leaf<'_>, behind: &Leaf<'_>) -> bool {
    let way = behind.how.toward();
    let ahead = (front.low + front.high - behind.low - behind.high).dot(way) > 0.0;
    let shared = front.high.min(behind.high) - front.low.max(behind.low);
    ahead && (0..3).all(|axis| way[axis].abs() > 0.5 || shared[axis] > 0.0)
}

/// The box round a thing whose space is carried to `pose`: exact for a drawer, not
/// too small for a door.
fn box_of(thing: &Thing<'_>, pose: &Placement) -> (DVec3, DVec3) {
    let corner = |i: usize| {
        let pick = |bit: usize, axis: usize| if i & bit == 0 { thing.low[axis] } else { thing.high[axis] };
        pose.point(DVec3::new(pick(1, 0), pick(2, 1), pick(4, 2)))
    };
    (0..8).map(corner).fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)))
}

/// A box round all places of a leaf, from shut to open.
fn swept(leaf: &Leaf<'_>) -> (DVec3, DVec3) {
    match leaf.how {
        Opening::Slides { toward, by } => {
            let moved = toward * by;
            (leaf.low.min(leaf.low + moved) - HANDLE, leaf.high.max(leaf.high + moved) + HANDLE)
        }
        Opening::Swings { about, axis, .. } => {
            let far = (leaf.low - about).abs().max((leaf.high - about).abs());
            let far = far - axis * axis.dot(far) + HANDLE;
            let around = DVec3::splat(far.length());
            // Along the axis it stays where it is.
            let still = axis.abs().cmpgt(DVec3::splat(ALONG));
            let low = DVec3::select(still, leaf.low - HANDLE, about - around);
            let high = DVec3::select(still, leaf.high + HANDLE, about + around);
            (low, high)
        }
    }
}

/// What a handle may stand out, mm, and more.
const HANDLE: f64 = 60.0;

/// What is said of it.
fn told(job: &Job, worked: &WorkedJob, leaf: &Leaf<'_>, met: &Met<'_>) -> Problem {
    let name = |part: usize| worked.parts.get(part).map_or("part", |p| p.name.as_str());
    let called = |thing: &Thing<'_>| match thing.handle {
        Some(handle) => format!("the {handle} of `{}`", name(thing.part)),
        None => format!("`{}`", name(thing.part)),
    };
    let open = if met.open { ", open," } else { "" };
    let hung = &leaf.part.name;
    let mine = called(met.mine);
    let (code, when, help) = match leaf.how {
        Opening::Swings { by, .. } => (
            "door-catches",
            format!("when `{hung}` has opened {:.0} degrees", (by * met.share).round()),
            "leave it more room there, hang it on its other side, bevel the edge that catches, or let it open less \
             with `swing`",
        ),
        Opening::Slides { by, .. } => (
            "drawer-catches",
            format!("when it is drawn out {}", LengthStyle::of(job.unit).text((by * met.share).round())),
            "make the drawer narrower or lower, or move what stands in its way",
        ),
    };
    let message = format!("{mine} meets {}{open} {when}", called(met.other));
    let problem =
        Problem::warning(code, message).help(help).part(name(met.mine.part)).part(name(met.other.part));
    match worked.joints.get(leaf.joint) {
        Some(joint) => problem.at(joint.origin),
        None => problem,
    }
}
