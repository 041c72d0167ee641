//! Steps and locks in the trade's words.

use super::Step;
use crate::geometry::DVec3;
use crate::joinery::{CutKind, PartSource, Stage, Traits, WorkedJob};
use crate::model::{Job, PieceId};
use crate::problem::Problem;

/// `A`, `A and B`, `A, B and C`.
pub(super) fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Names of parts, lippings left out, each once.
pub(super) fn names(worked: &WorkedJob, parts: &[usize]) -> String {
    let mut names: Vec<String> = Vec::new();
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        if matches!(part.source, PartSource::Part(_)) && !names.contains(&part.name) {
            names.push(part.name.clone());
        }
    }
    list(&names)
}

/// Where something that moves along `way` comes from: `from the left`.
pub(super) fn direction(way: DVec3) -> String {
    let mut from: Vec<String> = Vec::new();
    let axes =
        [(way.x, "the left", "the right"), (way.y, "the front", "the back"), (way.z, "below", "above")];
    for (share, positive, negative) in axes {
        if share > 0.1 {
            from.push(positive.into());
        } else if share < -0.1 {
            from.push(negative.into());
        }
    }
    match from.as_slice() {
        [only] if only == "above" => "down from above".into(),
        [only] if only == "below" => "up from below".into(),
        _ => format!("from {}", list(&from)),
    }
}

/// Sentence of a join step.
pub(super) fn join(worked: &WorkedJob, step: &Step) -> String {
    let folds = any(worked, step, |traits| traits.folds);
    let verb = if folds {
        "Fold up and glue"
    } else if step.glued {
        "Glue"
    } else {
        "Fit"
    };
    let founders: Vec<usize> = pick(step, None);
    let mut ways: Vec<DVec3> = Vec::new();
    for way in step.ways.iter().flatten() {
        if !ways.iter().any(|known| known.dot(*way) > 1.0 - 1e-6) {
            ways.push(*way);
        }
    }
    let coming: Vec<String> = ways
        .iter()
        .map(|way| format!("{} {}", names(worked, &pick(step, Some(*way))), direction(*way)))
        .collect();
    let to = joined(worked, step, &founders);
    if let (Some((_, way)), true, true) = (step.together.first(), coming.is_empty(), step.joints.is_empty()) {
        let whole: Vec<usize> = step.together.iter().map(|(part, _)| *part).collect();
        return format!("Put in {} {}", names(worked, &whole), direction(*way));
    }
    if let (Some((_, way)), true, true) =
        (step.together.first(), coming.is_empty(), any(worked, step, |traits| traits.hooks_on))
    {
        let wall = names(worked, &founders);
        return format!("Fix {wall} to the wall, level, and hang the rest on it {}", direction(*way));
    }
    match (coming.is_empty(), founders.is_empty(), to.is_empty()) {
        (true, _, true) => format!("Set up {}", names(worked, &founders)),
        (true, _, false) => format!("{verb} the made-up groups together: {to}"),
        (false, _, true) => format!("{verb} {}", list(&coming)),
        (false, _, false) => format!("{verb} {} to {to}", list(&coming)),
    }
}

/// Parts of the step that move along `way`, or those that do not move.
fn pick(step: &Step, way: Option<DVec3>) -> Vec<usize> {
    let same = |a: Option<DVec3>| match (a, way) {
        (None, None) => true,
        (Some(a), Some(b)) => a.dot(b) > 1.0 - 1e-6,
        _ => false,
    };
    step.adds.iter().zip(&step.ways).filter(|(_, w)| same(**w)).map(|(p, _)| *p).collect()
}

/// Names of what the parts come to: those a joint of the step ties them to.
fn joined(worked: &WorkedJob, step: &Step, founders: &[usize]) -> String {
    let tied = |part: &usize| {
        step.joints.iter().filter_map(|j| worked.joints.get(*j)).any(|joint| joint.parts.contains(part))
    };
    let to: Vec<usize> = founders.iter().chain(&step.onto).copied().filter(|p| tied(p)).collect();
    let to = if to.is_empty() { founders.to_vec() } else { to };
    names(worked, &to)
}

/// Sentence of the lipping step.
pub(super) fn lip(worked: &WorkedJob, step: &Step) -> String {
    format!("Glue the lippings to {}", names(worked, &step.onto))
}

/// Sentence of a cutting step.
pub(super) fn cut(worked: &WorkedJob, step: &Step) -> String {
    let mut kinds: Vec<CutKind> = Vec::new();
    for cut in step.onto.iter().filter_map(|p| worked.parts.get(*p)).flat_map(|p| &p.cuts) {
        if cut.stage == Stage::AfterGlueUp && !kinds.contains(&cut.kind) {
            kinds.push(cut.kind);
        }
    }
    let kinds: Vec<String> = kinds.into_iter().map(|kind| format!("the {}", kind.name())).collect();
    format!("Cut {} on {}", list(&kinds), names(worked, &step.onto))
}

/// Whether a joint of a step has a trait.
fn any(worked: &WorkedJob, step: &Step, have: impl Fn(&Traits) -> bool) -> bool {
    step.joints.iter().filter_map(|j| worked.joints.get(*j)).any(|joint| have(&joint.traits))
}

/// What to have in place and to watch.
pub(super) fn watch(worked: &WorkedJob, step: &mut Step) {
    if any(worked, step, |traits| traits.folds) {
        step.watch
            .push("tape the outside of the folds and spread glue in the V grooves before folding".into());
    }
    if any(worked, step, |traits| traits.is_layered) {
        step.watch.push(
            "spread glue on one face, press between flat cauls, and trim the layers together when it has cured"
                .into(),
        );
    }
    if any(worked, step, |traits| traits.frees_panel) {
        step.watch.push("no glue in the groove: the panel must move".into());
    }
}

/// The error for parts that lock one another.
pub(super) fn locked(job: &Job, worked: &WorkedJob, piece: PieceId, parts: &[usize]) -> Problem {
    let quoted: Vec<String> =
        parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| format!("`{}`", p.name)).collect();
    let name = job.pieces.get(piece.0).map_or("the piece", |p| p.name.as_str());
    let message = format!(
        "`{name}` cannot be put together: {} lock one another, no straight move among those tried takes any of them off",
        list(&quoted)
    );
    let mut problem = Problem::error("no-assembly-order", message)
        .help("give one of their joints another way in, or make it after the others are together");
    let tied = worked.joints.iter().find(|j| j.parts.iter().filter(|p| parts.contains(p)).count() > 1);
    if let Some(joint) = tied {
        problem = problem.at(joint.origin);
    } else if let Some(part) = parts.first().and_then(|p| worked.parts.get(*p)) {
        problem = problem.at(part.origin);
    }
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        problem = problem.part(part.name.clone());
    }
    problem
}
