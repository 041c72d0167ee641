//! Parts that, as cut, stand in one another.

use rayon::prelude::*;

use super::measuring::{TOUCH, side_of};
use crate::geometry::DVec3;
use crate::joinery::{WorkedJob, WorkedPart};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::Problem;
use crate::solid::Standing;

/// By how much an overlap must be less than another to be the nearer way out, mm: of two
/// alike the first is named.
const CLOSER: f64 = 1e-6;

/// Ways that faces look which are tried besides the axes: of the thousand facets of two
/// turned parts any few tell how far they stand in one another.
const WAYS: usize = 32;

/// An error for every two parts of one piece that run into one another.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let standing: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    let with_later = |i: usize| -> Vec<Problem> {
        let Some((a, stands)) = worked.parts.get(i).zip(standing.get(i)) else { return Vec::new() };
        let later = worked.parts.iter().zip(&standing).skip(i + 1);
        later
            .filter(|(b, other)| a.piece == b.piece && stands.runs_into(other))
            .map(|(b, other)| told(job, (a, stands), (b, other)))
            .collect()
    };
    (0..worked.parts.len()).into_par_iter().flat_map_iter(with_later).collect()
}

/// A part as cut, where it stands.
type Stands<'a> = (&'a WorkedPart, &'a Standing);

/// Which way out is shortest, and how far it is.
fn told(job: &Job, one: Stands<'_>, other: Stands<'_>) -> Problem {
    let (by, way) = shortest_way(one, other);
    let (a, b) = (one.0, other.0);
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

/// The direction `a` leaves `b` along soonest, and how far, mm: the axes of both, then
/// the ways their other faces look. Told by what each truly is, however far round it
/// the other reaches.
fn shortest_way((a, first): Stands<'_>, (b, second): Stands<'_>) -> (f64, DVec3) {
    let mut best = (f64::INFINITY, DVec3::X);
    let axes = [b.at.x, b.at.y, b.at.z, a.at.x, a.at.y, a.at.z];
    let looks = second.ways_beside(first).into_iter().chain(first.ways_beside(second));
    for axis in axes.into_iter().chain(looks.take(WAYS)) {
        for way in [axis, -axis] {
            let shorter = first.way_out_within(second, way, best.0 - CLOSER);
            if let Some(by) = shorter.filter(|by| *by > TOUCH) {
                best = (by, way);
            }
        }
    }
    best
}
