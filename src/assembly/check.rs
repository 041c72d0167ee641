//! What to measure before the glue sets: diagonals between corners that are there.

use super::step::Check;
use super::tolerance::{CORNER, ONE_PLANE};
use crate::geometry::DVec3;
use crate::joinery::WorkedJob;

/// Directions a body is looked at from: the front, above, the left.
const VIEWS: [(DVec3, DVec3, DVec3); 3] =
    [(DVec3::NEG_Y, DVec3::X, DVec3::Z), (DVec3::Z, DVec3::X, DVec3::Y), (DVec3::NEG_X, DVec3::Y, DVec3::Z)];

/// What is left bare of a view through a frame, as a share of the whole: through less
/// nothing can be measured.
const OPEN: f64 = 0.15;

/// A corner with the unit it is on.
#[derive(Clone, Copy)]
struct Corner {
    at: DVec3,
    unit: usize,
}

/// What is measured of a glue-up: the units its glue ties and all that stands then, with
/// what is set dry; of a body that is glued in several goes all of it, as that is what
/// closes. Where none of both shows four corners in one plane, two members of it that stand
/// opposite one another, as the ends under a seat.
pub(super) fn measured(
    worked: &WorkedJob,
    (own, whole): (&[Vec<usize>], &[Vec<usize>]),
    in_goes: bool,
) -> Option<Check> {
    let (first, then) = if in_goes { (whole, own) } else { (own, whole) };
    check(worked, first).or_else(|| check(worked, then)).or_else(|| opposite(worked, whole))
}

/// Most units among which two opposite ones are looked for.
const FEW: usize = 12;

/// The diagonals between two opposite members of what is glued, with one part that hides or
/// overhangs them left away; measured as far as that leaves them bare.
fn opposite(worked: &WorkedJob, units: &[Vec<usize>]) -> Option<Check> {
    if units.len() > FEW {
        return None;
    }
    let all = corners(worked, units);
    let without = |left_out: usize| {
        let over: Vec<Corner> = all.iter().filter(|corner| corner.unit == left_out).copied().collect();
        let axes = [DVec3::X, DVec3::Y, DVec3::Z].map(|axis| (axis, reach(over.iter(), axis)));
        let rest = all.iter().filter(|corner| corner.unit != left_out);
        let moved = rest.map(|corner| Corner { at: bared(corner.at, &axes), ..*corner });
        let bare: Vec<Corner> = moved.filter(|corner| is_there(&all, corner)).collect();
        best(&bare, (&all, units.len()), true)
    };
    let length = |check: &Check| check.diagonals.iter().sum::<f64>();
    (0..units.len()).filter_map(without).max_by(|a, b| length(a).total_cmp(&length(b)))
}

/// How far a place may be off the line between two corners to be on it, mm.
const ON_LINE: f64 = 1e-6;

/// Whether a corner is one of its unit, or stands on the line between two of them: of a stub
/// that is let in nothing comes out below its shoulder.
fn is_there(all: &[Corner], corner: &Corner) -> bool {
    let own = || all.iter().filter(|other| other.unit == corner.unit).map(|other| other.at);
    let on = |a: DVec3, b: DVec3| a.distance(corner.at) + b.distance(corner.at) - a.distance(b) < ON_LINE;
    own().any(|a| own().any(|b| on(a, b)))
}

/// A corner that is let into a box, moved out to the nearest face of it.
fn bared(at: DVec3, around: &[(DVec3, (f64, f64))]) -> DVec3 {
    let mut nearest: Option<DVec3> = None;
    for (axis, (low, high)) in around {
        let here = axis.dot(at);
        if here < *low || here > *high {
            return at;
        }
        let out = if here - low < high - here { low - here } else { high - here };
        if nearest.is_none_or(|known| out.abs() < known.length()) {
            nearest = Some(*axis * out);
        }
    }
    at + nearest.unwrap_or(DVec3::ZERO)
}

/// Fewest parts of which anything is closed.
const CLOSED: usize = 3;

/// The two diagonals of what is glued: in the view through which most can be seen, between
/// corners that stand in one plane. `None` where nothing is closed: an L, a T, a single
/// board.
fn check(worked: &WorkedJob, units: &[Vec<usize>]) -> Option<Check> {
    let corners = corners(worked, units);
    if units.len() < CLOSED { None } else { best(&corners, (&corners, units.len()), false) }
}

/// The corners of some units where they stand.
fn corners(worked: &WorkedJob, units: &[Vec<usize>]) -> Vec<Corner> {
    units.iter().enumerate().flat_map(|(unit, parts)| of_unit(worked, unit, parts)).collect()
}

/// The diagonals between some corners, in the view through which most of all units can be
/// seen; where asked only between two units, two corners of each.
fn best(corners: &[Corner], (all, units): (&[Corner], usize), of_two: bool) -> Option<Check> {
    let mut found: Option<(f64, Check)> = None;
    for view in VIEWS {
        let covered = covered(all, units, view);
        let better = found.as_ref().is_none_or(|(least, _)| covered < *least);
        if better
            && covered < 1.0 - OPEN
            && let Some((check, picked)) = seen(corners, view)
        {
            let two = picked.iter().all(|one| picked.iter().filter(|other| other == &one).count() == 2);
            if two || !of_two {
                found = Some((covered, check));
            }
        }
    }
    found.map(|(_, check)| check)
}

/// The corners of a unit where it stands.
fn of_unit(worked: &WorkedJob, unit: usize, parts: &[usize]) -> Vec<Corner> {
    let parts = parts.iter().filter_map(|part| worked.parts.get(*part));
    parts.flat_map(|part| part.solid.points.iter().map(|p| Corner { at: part.at.point(*p), unit })).collect()
}

/// Least and greatest of some corners along a direction.
fn reach<'c>(corners: impl Iterator<Item = &'c Corner>, along: DVec3) -> (f64, f64) {
    corners.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), corner| {
        let at = along.dot(corner.at);
        (low.min(at), high.max(at))
    })
}

/// Share of the box round all that the boxes of the units cover in a view.
fn covered(corners: &[Corner], units: usize, (_, right, up): (DVec3, DVec3, DVec3)) -> f64 {
    let size = |of: &dyn Fn(&&Corner) -> bool| {
        let span = |along: DVec3| {
            let (low, high) = reach(corners.iter().filter(of), along);
            (high - low).max(0.0)
        };
        span(right) * span(up)
    };
    let whole = size(&|_| true);
    let parts: f64 = (0..units).map(|unit| size(&|corner| corner.unit == unit)).sum();
    if whole > 0.0 { parts / whole } else { 1.0 }
}

/// The diagonals seen in a view, if four corners of it stand in one plane and no unit is
/// the whole of it; with the unit that each is of.
fn seen(corners: &[Corner], (toward, right, up): (DVec3, DVec3, DVec3)) -> Option<(Check, [usize; 4])> {
    let middle = |along: DVec3| {
        let (low, high) = reach(corners.iter(), along);
        f64::midpoint(low, high)
    };
    let centre = (middle(right), middle(up));
    let ways = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let tips = ways.map(|(a, b)| {
        let out = |corner: &Corner| a * right.dot(corner.at) + b * up.dot(corner.at);
        let most = corners.iter().map(out).fold(f64::NEG_INFINITY, f64::max);
        let there = |corner: &&Corner| {
            let beyond = |at: f64, middle: f64, way: f64| (at - middle) * way > 0.0;
            out(corner) > most - CORNER
                && beyond(right.dot(corner.at), centre.0, a)
                && beyond(up.dot(corner.at), centre.1, b)
        };
        corners.iter().filter(there).copied().collect::<Vec<Corner>>()
    });
    // The plane nearest to the viewer that all four have a corner in.
    let mut depths: Vec<f64> = tips[0].iter().map(|corner| toward.dot(corner.at)).collect();
    depths.sort_by(|a, b| b.total_cmp(a));
    let depth = depths.into_iter().find(|depth| {
        tips.iter().all(|tip| tip.iter().any(|corner| (toward.dot(corner.at) - depth).abs() < ONE_PLANE))
    })?;
    let mut picked = [Corner { at: DVec3::ZERO, unit: 0 }; 4];
    for (place, tip) in picked.iter_mut().zip(&tips) {
        *place = *tip.iter().find(|corner| (toward.dot(corner.at) - depth).abs() < ONE_PLANE)?;
    }
    let alone = picked.iter().any(|one| picked.iter().filter(|other| other.unit == one.unit).count() > 2);
    let (corners, units) = (picked.map(|corner| corner.at), picked.map(|corner| corner.unit));
    let [a, b, c, d] = corners;
    (!alone).then(|| (Check { corners, diagonals: [a.distance(c), b.distance(d)], toward }, units))
}
