//! Fixings that miss the studs of the wall.

use crate::joinery::{WorkedJob, fixings, on_wall};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::{Problem, wording};

/// How far beside the middle of a stud a fixing still holds, mm: a third of the width of
/// one (common practice, no source).
const NEAR: f64 = 13.0;

/// Advice on each piece some of whose fixings stand between the studs.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let Some((site, [first, apart])) = job.site.as_ref().and_then(|site| Some((site, site.truth.studs?)))
    else {
        return Vec::new();
    };
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let nearest = |at: f64| first + ((at - first) / apart).round().max(0.0) * apart;
    let stands = on_wall(job, worked);
    let mut found = Vec::new();
    for place in &stands {
        let Some(piece) = job.pieces.get(place.piece.0) else { continue };
        let all: Vec<f64> = fixings(worked, std::slice::from_ref(place))
            .iter()
            .flat_map(|fixing| fixing.at.iter().map(|at| at.x).collect::<Vec<f64>>())
            .collect();
        let missed = all.iter().filter(|at| (nearest(**at) - **at).abs() > NEAR).count();
        if missed == 0 {
            continue;
        }
        let message = format!(
            "{missed} of {} of `{}` miss the studs of `{}`, which stand {} apart from {}",
            wording::count(all.len(), "fixing", "fixings"),
            piece.name,
            site.name,
            show(apart),
            show(first)
        );
        let mut at = nearest(place.low.x);
        let mut there = Vec::new();
        while at < place.high.x && there.len() < MOST {
            if at > place.low.x {
                there.push(show(at));
            }
            at += apart;
        }
        let help = if there.is_empty() {
            "no stud stands behind it: move it with `left` of `piece`, or make it wider".to_owned()
        } else {
            format!(
                "studs behind it stand at {} from the left end: move it with `left` of `piece`, or bore for its fixings there",
                wording::and_list(&there)
            )
        };
        found.push(
            Problem::advice("misses-studs", message)
                .at(piece.origin)
                .place(site.origin.user, "said here")
                .help(help),
        );
    }
    found
}

/// Most studs that are named.
const MOST: usize = 12;
