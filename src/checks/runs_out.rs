//! Grooves that show at an end nothing covers.

use super::measuring::{TOUCH, range, side_of};
use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, WorkedJob, WorkedPart, corners};
use crate::measure::LengthStyle;
use crate::model::{Job, Side};
use crate::problem::Problem;
use crate::solid::Prism;

/// How far before an end the eye looks for what covers it, mm.
const AHEAD: f64 = 0.5;

/// An end whose way out has more than this of the way to the back looks there.
const LOOKS_BACK: f64 = 0.9;

/// An advice for each groove whose end can be seen. Rebates and through
/// housings are meant to run out and are left alone, as are sawn ends.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut found = Vec::new();
    for (index, part) in worked.parts.iter().enumerate() {
        for cut in part.cuts.iter().filter(|c| c.kind == CutKind::Groove) {
            let ends = open_ends(part, &cut.shape).into_iter();
            let shows = ends.filter(|(mouth, way)| {
                is_wood(part, *mouth - *way * AHEAD) && is_seen(worked, index, cut, *mouth, *way)
            });
            found.extend(shows.map(|(_, way)| told(job, part, cut, way)));
        }
    }
    found
}

/// Where a channel leaves the part along its own length: the middle of its
/// mouth and the way out, part coordinates.
fn open_ends(part: &WorkedPart, channel: &Prism) -> Vec<(DVec3, DVec3)> {
    let points = corners(channel);
    let axes = [DVec3::X, DVec3::Y, DVec3::Z];
    let inside = axes.map(|a| {
        let (lo, hi) = range(&points, a);
        (lo.max(0.0), hi.min(part.size.dot(a)))
    });
    let mut run = 0;
    for k in 1..3 {
        if inside[k].1 - inside[k].0 > inside[run].1 - inside[run].0 {
            run = k;
        }
    }
    let middle = DVec3::from_array(inside.map(|(lo, hi)| 0.5 * (lo + hi)));
    let mut ends = Vec::new();
    for (at, open, sign) in [
        (inside[run].0, inside[run].0 < TOUCH, -1.0),
        (inside[run].1, inside[run].1 > part.size[run] - TOUCH, 1.0),
    ] {
        if open {
            let mut mouth = middle;
            mouth[run] = at;
            ends.push((mouth, axes[run] * sign));
        }
    }
    ends
}

/// Whether no saw cut takes a place of the part away.
fn is_wood(part: &WorkedPart, at: DVec3) -> bool {
    let sawn = |c: &&Cut| !matches!(c.kind, CutKind::Groove | CutKind::Hole | CutKind::Mortise);
    !part.cuts.iter().filter(sawn).any(|c| holds(&c.shape, at))
}

/// Whether a place lies in the box of a prism.
fn holds(prism: &Prism, at: DVec3) -> bool {
    let points = corners(prism);
    [prism.at.x, prism.at.y, prism.at.z].into_iter().all(|axis| {
        let (lo, hi) = range(&points, axis);
        (lo - TOUCH..=hi + TOUCH).contains(&axis.dot(at))
    })
}

/// Whether no other part of the piece stands before the mouth or fills it.
fn is_seen(worked: &WorkedJob, index: usize, cut: &Cut, mouth: DVec3, way: DVec3) -> bool {
    let Some(part) = worked.parts.get(index) else { return false };
    let before = part.at.point(mouth + way * AHEAD);
    let behind = part.at.point(mouth - way * AHEAD);
    // A bottom that slides in from behind fills its grooves to their ends.
    let looks_back = part.at.dir(way).dot(Side::Back.normal()) > LOOKS_BACK;
    let fills = |i: usize| cut.joint.and_then(|j| worked.joints.get(j)).is_some_and(|j| j.parts.contains(&i));
    !worked.parts.iter().enumerate().any(|(i, other)| {
        i != index && other.piece == part.piece && {
            // What lies in the groove and reaches out of it is meant to.
            let reach = if fills(i) { 0.0 } else { TOUCH };
            let at = other.at.local_point(if fills(i) && looks_back { behind } else { before });
            at.cmpge(DVec3::splat(-reach)).all() && at.cmple(other.size + reach).all()
        }
    })
}

/// Which end, and how large the gap is.
fn told(job: &Job, part: &WorkedPart, cut: &Cut, way: DVec3) -> Problem {
    let style = LengthStyle::of(job.unit);
    let points = corners(&cut.shape);
    let mut sizes: Vec<f64> = [DVec3::X, DVec3::Y, DVec3::Z]
        .into_iter()
        .map(|axis| {
            let (lo, hi) = range(&points, axis);
            hi.min(part.size.dot(axis)) - lo.max(0.0)
        })
        .collect();
    sizes.sort_by(f64::total_cmp);
    let (wide, deep) = (style.text(sizes[0]), style.text(sizes[1]));
    let side = side_of(part.at.dir(way)).name();
    let message = format!("a groove of {wide} by {deep} shows at the {side} of `{}`", part.name);
    Problem::advice("groove-shows", message)
        .at(cut.origin)
        .part(part.name.clone())
        .help("end what lies in it short of that end (in place of a tongue a `loose_tongue` with `stop`), or let another part \
             cover the end",
        )
}
