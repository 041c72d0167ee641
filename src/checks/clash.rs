//! Parts that, as cut, stand in one another, and tongues that stand in parts they do not join.

use rayon::prelude::*;

use super::measuring::{TOUCH, side_of};
use crate::geometry::{DVec3, Placement};
use crate::joinery::{PartSource, Stage, WorkedJob, WorkedJoint, WorkedPart};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::{Problem, wording};
use crate::solid::{Body, Standing, carve};

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
    let mut found: Vec<Problem> = (0..worked.parts.len()).into_par_iter().flat_map_iter(with_later).collect();
    found.extend(worked.joints.iter().filter_map(|joint| tongue(job, worked, &standing, joint)));
    found
}

/// An error where the loose tongue of a joint runs into a part that it does not join: two channels
/// may cross in a part, what lies in them may not.
fn tongue(job: &Job, worked: &WorkedJob, standing: &[Standing], joint: &WorkedJoint) -> Option<Problem> {
    let piece = worked.parts.get(*joint.parts.first()?)?.piece;
    let own = |(at, part): (usize, &WorkedPart)| match part.source {
        _ if joint.parts.contains(&at) => true,
        PartSource::Lipping { of, .. } => joint.parts.contains(&of),
        PartSource::Part(_) => false,
    };
    // Where a part is let in only when the joint is glued, as a pane is, the cutter takes the
    // tongue with the wood round it.
    let cuts = joint.parts.iter().filter_map(|part| worked.parts.get(*part)).flat_map(|part| &part.cuts);
    let late: Vec<usize> = cuts
        .filter(|cut| cut.stage == Stage::AfterGlueUp)
        .filter_map(|cut| worked.joints.get(cut.joint?))
        .flat_map(|later| later.parts.iter().copied())
        .collect();
    let strips = joint.inserts.iter().filter(|one| one.item.is_strip());
    let mut worst: Option<(f64, &WorkedPart)> = None;
    for insert in strips {
        let Some(Ok(solid)) = insert.body.clone().map(|body| carve(&Body::Prism(body), &[])) else {
            continue;
        };
        for at in &insert.at {
            let strip = Standing::new(&solid, at);
            let others = worked.parts.iter().enumerate().zip(standing).filter(|((i, part), stands)| {
                part.piece == piece && !own((*i, part)) && !late.contains(i) && strip.runs_into(stands)
            });
            for ((_, part), stands) in others {
                let by = shortest_way((at, &strip), (&part.at, stands)).0;
                if by > TOUCH && worst.as_ref().is_none_or(|(most, _)| by > *most) {
                    worst = Some((by, part));
                }
            }
        }
    }
    let (by, part) = worst?;
    let by = LengthStyle::of(job.unit).text(by);
    let names: Vec<String> =
        joint.parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| format!("`{}`", p.name)).collect();
    let name = &part.name;
    let message = format!("the tongue of {} runs {by} into `{name}`", wording::and_list(&names));
    let help = format!(
        "end the tongue short of `{name}` by `stop` or `far_stop`, make it narrower, or let `{name}` in less deep or elsewhere"
    );
    let first = joint.parts.first().and_then(|p| worked.parts.get(*p)).map(|p| p.name.clone());
    let problem = Problem::error("parts-cross", message).at(joint.origin).place(part.origin.user, "the part");
    Some(first.into_iter().chain([name.clone()]).fold(problem, Problem::part).help(help))
}

/// A part as cut, where it stands.
type Stands<'a> = (&'a WorkedPart, &'a Standing);

/// Which way out is shortest, and how far it is.
fn told(job: &Job, one: Stands<'_>, other: Stands<'_>) -> Problem {
    let (by, way) = shortest_way((&one.0.at, one.1), (&other.0.at, other.1));
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

/// The direction `first`, placed at `a`, leaves `second` at `b` along soonest, and how far, mm: the
/// axes of both, then the ways their other faces look. Told by what each truly is, however far
/// round it the other reaches.
fn shortest_way((a, first): (&Placement, &Standing), (b, second): (&Placement, &Standing)) -> (f64, DVec3) {
    let mut best = (f64::INFINITY, DVec3::X);
    let axes = [b.x, b.y, b.z, a.x, a.y, a.z];
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
