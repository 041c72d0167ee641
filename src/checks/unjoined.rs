//! Parts that nothing holds.

use crate::joinery::{PartSource, WorkedJob, WorkedPart};
use crate::model::{Job, PieceId, StockKind};
use crate::problem::{Problem, wording};
use crate::solid::Standing;

/// A warning for each piece with parts that no joint ties to another: those
/// that touch something, and those that stand free.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut found = Vec::new();
    for piece in (0..job.pieces.len()).map(PieceId) {
        let own: Vec<usize> = (0..worked.parts.len()).filter(|i| worked.parts[*i].piece == piece).collect();
        let loose: Vec<usize> = own.iter().copied().filter(|i| is_loose(job, worked, *i)).collect();
        // A piece of a single part, lipped or not, needs no joint.
        let scripted = |i: &&usize| matches!(worked.parts[**i].source, PartSource::Part(_));
        if loose.is_empty() || own.iter().filter(scripted).count() < 2 {
            continue;
        }
        let (touching, free): (Vec<usize>, Vec<usize>) =
            loose.into_iter().partition(|i| touches(worked, &own, *i));
        let told = [
            (touching, "touches other parts, but", "touch other parts, but"),
            (free, "stands free of all others, and", "stand free of all others, and"),
        ];
        for (list, one, many) in told {
            let parts: Vec<&WorkedPart> = list.iter().filter_map(|i| worked.parts.get(*i)).collect();
            found.extend(warning(&parts, if parts.len() == 1 { one } else { many }));
        }
    }
    found
}

/// Whether no joint ties a part of the script to another. Bought things bring
/// their own fixings.
fn is_loose(job: &Job, worked: &WorkedJob, index: usize) -> bool {
    let Some(part) = worked.parts.get(index) else { return false };
    let bought = job.stock.get(part.stock.0).is_some_and(|s| matches!(s.kind, StockKind::Bought));
    // A lipping holds its panel no better than the panel is held.
    let ties = |p: &usize| {
        *p != index && worked.parts.get(*p).is_some_and(|p| matches!(p.source, PartSource::Part(_)))
    };
    matches!(part.source, PartSource::Part(_))
        && !bought
        && !worked.joints.iter().any(|j| j.parts.contains(&index) && j.parts.iter().any(ties))
}

/// Whether a part touches another of its piece.
fn touches(worked: &WorkedJob, own: &[usize], index: usize) -> bool {
    let stands = |i: usize| worked.parts.get(i).map(|p| Standing::new(&p.solid, &p.at));
    let Some(this) = stands(index) else { return false };
    own.iter()
        .filter(|i| **i != index)
        .filter_map(|i| stands(*i))
        .any(|other| !this.contacts(&other).is_empty() || this.interferes(&other).is_some())
}

/// One warning for some parts; none for none.
fn warning(parts: &[&WorkedPart], how: &str) -> Option<Problem> {
    let first = parts.first()?;
    let names = || parts.iter().map(|p| p.name.as_str());
    let message = format!(
        "{} {how} no joint holds {}",
        wording::all_of(names()),
        if parts.len() == 1 { "it" } else { "them" }
    );
    let problem = Problem::warning("held-by-nothing", message)
        .at(first.origin)
        .help("join what is to stay in its place, for instance with `butt`, `housing` or `screws`");
    Some(names().fold(problem, Problem::part))
}
