//! Cuts that go through what is inlaid in a turned part.

use super::measuring::{TOUCH, range};
use crate::geometry::DVec3;
use crate::joinery::{Cut, Fill, FillShape, WorkedJob, WorkedPart, corners};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::Problem;
use crate::solid::{Body, Turning};

/// A warning for each cut that goes through a ring or a filled hollow.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut found = Vec::new();
    for part in &worked.parts {
        let Body::Turning(turning) = &part.body else { continue };
        for fill in &part.fills {
            let through = part.cuts.iter().filter(|cut| crosses(turning, fill, cut));
            found.extend(through.map(|cut| told(job, part, fill, cut)));
        }
    }
    found
}

/// Whether a cut reaches into what is filled.
fn crosses(turning: &Turning, fill: &Fill, cut: &Cut) -> bool {
    // Along the lathe axis and across it.
    let points: Vec<DVec3> = corners(&cut.shape).iter().map(|p| turning.at.local_point(*p)).collect();
    let (low, high) = range(&points, DVec3::Z);
    let end = turning.stations.last().map_or(0.0, |s| s.along);
    let over = |from: f64, to: f64| low < to - TOUCH && high > from + TOUCH;
    match fill.shape {
        FillShape::Ring { from, to, depth } => {
            let core = turning.radii(from, to).map_or(0.0, |(least, _)| least - depth);
            let out = points.iter().map(|p| libm::hypot(p.x, p.y)).fold(0.0, f64::max);
            over(from, to) && out > core + TOUCH
        }
        FillShape::Hollow { far, diameter, depth } => {
            let (from, to) = if far { (end - depth, end) } else { (0.0, depth) };
            let nearest = |axis: DVec3| {
                let (low, high) = range(&points, axis);
                low.max(0.0).max(-high)
            };
            over(from, to) && libm::hypot(nearest(DVec3::X), nearest(DVec3::Y)) < 0.5 * diameter - TOUCH
        }
    }
}

fn told(job: &Job, part: &WorkedPart, fill: &Fill, cut: &Cut) -> Problem {
    let at = match fill.shape {
        FillShape::Ring { from, to, .. } => {
            format!(" at {}", LengthStyle::of(job.unit).text(f64::midpoint(from, to)))
        }
        FillShape::Hollow { .. } => String::new(),
    };
    let (name, shape) = (&part.name, fill.shape.name());
    let message = format!("a {} of `{name}` goes through the {shape} of {}{at}", cut.kind.name(), fill.what);
    Problem::warning("inlay-cut", message)
        .at(cut.origin)
        .place(fill.origin.user, "the inlay")
        .part(name.clone())
        .help(format!("move one of them, or leave the {shape} out where the joint is"))
}
