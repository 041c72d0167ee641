//! Two parts joined twice in ways that exclude one another.

use std::collections::BTreeMap;

use crate::joinery::{TakesUp, WorkedJob, WorkedJoint};
use crate::problem::{Problem, wording};

/// Joints that exclude one another, the earlier first: indices of joints.
pub(super) fn pairs(worked: &WorkedJob) -> Vec<(usize, usize)> {
    // By the two parts they join: of thousands of joints few join the same two.
    let mut known: BTreeMap<(usize, usize), Vec<(usize, TakesUp)>> = BTreeMap::new();
    let mut found = Vec::new();
    for (j, later) in worked.joints.iter().enumerate() {
        let takes = later.traits.takes_up;
        let mut before: Vec<usize> = Vec::new();
        for tie in ties(later) {
            let here = known.entry(tie).or_default();
            before
                .extend(here.iter().filter(|(i, other)| *i != j && exclude(*other, takes)).map(|(i, _)| *i));
            here.push((j, takes));
        }
        before.sort_unstable();
        before.dedup();
        found.extend(before.into_iter().map(|i| (i, j)));
    }
    found
}

/// The two parts both joints join, if they do.
pub(super) fn shared(a: &WorkedJoint, b: &WorkedJoint) -> Option<(usize, usize)> {
    ties(a).find(|tie| ties(b).any(|other| other == *tie))
}

/// The pairs of parts that a joint ties, the lesser index first: its first part to each of
/// its others.
fn ties(joint: &WorkedJoint) -> impl Iterator<Item = (usize, usize)> {
    let mut parts = joint.parts.iter().copied();
    let first = parts.next();
    parts.filter_map(move |other| first.map(|f| (f.min(other), f.max(other))))
}

/// Whether two joints cannot both join one pair of parts: parts meet in one way
/// only, and once is enough of what is sunk into both.
fn exclude(a: TakesUp, b: TakesUp) -> bool {
    use TakesUp::{Faces, LetIn, Nothing, Slope, Tongue};
    match (a, b) {
        (Nothing, _) | (_, Nothing) | (Slope, Tongue) | (Tongue, Slope) => false,
        (Faces, other) | (other, Faces) => matches!(other, Faces | LetIn | Tongue),
        _ => true,
    }
}

/// What is said of two joints that exclude one another.
pub(super) fn told(worked: &WorkedJob, (i, j): (usize, usize)) -> Problem {
    let code = "duplicate-joint";
    let (Some(earlier), Some(later)) = (worked.joints.get(i), worked.joints.get(j)) else {
        return Problem::error(code, "two parts are joined twice");
    };
    let parts = shared(earlier, later).map_or_else(Vec::new, |(a, b)| vec![a, b]);
    let names: Vec<&str> =
        parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.name.as_str()).collect();
    let all = wording::all_of(names.iter().copied());
    let message = if earlier.is_made_as(later) {
        format!("{all} are joined by `{}` twice", later.word)
    } else {
        format!("{all} are joined by `{}` and by `{}`, which exclude one another", earlier.word, later.word)
    };
    let problem = Problem::error(code, message)
        .at(later.origin)
        .place(earlier.origin.user, "joined here first")
        .help("keep one of the two joints");
    names.into_iter().fold(problem, Problem::part)
}
