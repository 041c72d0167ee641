//! What a careful eye would stop at before wood is cut. One file per check.
//!
//! Comes in: a [`Job`] and its [`WorkedJob`], worked without an error. Goes
//! out: problems that name the parts and give the figure. Knows nothing of
//! drawings and changes nothing.

mod clash;
mod collide;
mod hung;
mod inlaid;
mod opening;
mod runs_out;
mod site;
mod twice;
mod unjoined;

use crate::geometry::DVec3;
use crate::joinery::WorkedJob;
use crate::model::{Job, Side};
use crate::problem::Problem;

/// Sizes under this are rounding, mm: what a plane iron takes.
const TOUCH: f64 = 0.02;

/// Looks a worked job over, check by check.
pub fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let doubled = twice::pairs(worked);
    let mut found: Vec<Problem> = doubled.iter().map(|pair| twice::told(worked, *pair)).collect();
    let (clashes, collisions) =
        rayon::join(|| clash::check(job, worked), || collide::check(job, worked, &doubled));
    found.extend(clashes);
    found.extend(collisions);
    found.extend(unjoined::check(job, worked));
    found.extend(runs_out::check(job, worked));
    found.extend(inlaid::check(job, worked));
    found.extend(hung::check(job, worked));
    found.extend(opening::check(job, worked));
    found.extend(site::check(job, worked));
    found
}

/// The side of the piece a direction looks to, nearest.
fn side_of(direction: DVec3) -> Side {
    let mut best = Side::Left;
    for side in Side::ALL {
        if side.normal().dot(direction) > best.normal().dot(direction) + 1e-9 {
            best = side;
        }
    }
    best
}

/// Least and greatest of some points along a direction, mm.
fn range<'a>(points: impl IntoIterator<Item = &'a DVec3>, along: DVec3) -> (f64, f64) {
    points.into_iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
        let at = along.dot(*p);
        (lo.min(at), hi.max(at))
    })
}
