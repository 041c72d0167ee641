//! Parts that, as cut, stand in one another.

use rayon::prelude::*;

use super::measuring::{TOUCH, range, side_of};
use crate::geometry::DVec3;
use crate::joinery::{WorkedJob, WorkedPart};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::Problem;
use crate::solid::Standing;

/// By how much an overlap must be less than another to be the nearer way out, mm: of two
/// alike the first is named.
const CLOSER: f64 = 1e-6;

/// An error for every two parts of one piece that run into one another.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let standing: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    let with_later = |i: usize| -> Vec<Problem> {
        let Some((a, stands)) = worked.parts.get(i).zip(standing.get(i)) else { return Vec::new() };
        let later = worked.parts.iter().zip(&standing).skip(i + 1);
        later
            .filter(|(b, other)| a.piece == b.piece && stands.interferes(other).is_some())
            .map(|(b, _)| told(job, a, b))
            .collect()
    };
    (0..worked.parts.len()).into_par_iter().flat_map_iter(with_later).collect()
}

/// Which way out is shortest, and how far it is.
fn told(job: &Job, a: &WorkedPart, b: &WorkedPart) -> Problem {
    let (by, way) = shortest_way(a, b);
    let by = LengthStyle::of(job.unit).text(by);
    let side = side_of(way).name();
    let (first, second) = (&a.name, &b.name);
    let message = format!("`{first}` runs {by} into `{second}`, from the {side} of `{second}`");
    Problem::error("parts-cross", message)
        .at(a.origin)
        .place(b.origin.user, "the other part")
        .part(first.clone())
        .part(second.clone())
        .help(format!(
            "move or shorten one of them by {by}, or let one into the other with a joint such as `housing`"
        ))
}

/// The direction `a` leaves `b` along soonest, and how far, mm. Exact for
/// boxes; for other shapes as far as their boxes say.
fn shortest_way(a: &WorkedPart, b: &WorkedPart) -> (f64, DVec3) {
    let stands = |p: &WorkedPart| p.solid.points.iter().map(|q| p.at.point(*q)).collect::<Vec<_>>();
    let (pa, pb) = (stands(a), stands(b));
    let mut best = (f64::INFINITY, DVec3::X);
    for axis in [b.at.x, b.at.y, b.at.z, a.at.x, a.at.y, a.at.z] {
        for way in [axis, -axis] {
            let by = range(&pb, way).1 - range(&pa, way).0;
            if by > TOUCH && by < best.0 - CLOSER {
                best = (by, way);
            }
        }
    }
    best
}
