//! Parts that nothing holds.

use super::measuring::TOUCH;
use crate::joinery::{PartSource, WorkedJob, WorkedPart};
use crate::model::{Job, PieceId, StockKind};
use crate::problem::{Problem, wording};
use crate::solid::Standing;

/// A warning for each piece with parts that no joint ties to another: those
/// that touch something, and those that stand free.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut found = Vec::new();
    let tied = tied(worked);
    for piece in (0..job.pieces.len()).map(PieceId) {
        let own: Vec<usize> = (0..worked.parts.len()).filter(|i| worked.parts[*i].piece == piece).collect();
        let loose: Vec<usize> =
            own.iter().copied().filter(|i| !tied[*i] && is_wood(job, worked, *i)).collect();
        // A piece of a single part, lipped or not, needs no joint.
        let scripted = |i: &&usize| matches!(worked.parts[**i].source, PartSource::Part(_));
        if loose.is_empty() || own.iter().filter(scripted).count() < 2 {
            continue;
        }
        let row = Row::of(worked, &own);
        let (touching, free): (Vec<usize>, Vec<usize>) = loose.into_iter().partition(|i| row.touches(*i));
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

/// For each part whether a joint ties it to another part of the script.
fn tied(worked: &WorkedJob) -> Vec<bool> {
    let mut tied = vec![false; worked.parts.len()];
    // A lipping holds its panel no better than the panel is held.
    let of_script = |p: &usize| worked.parts.get(*p).is_some_and(|p| matches!(p.source, PartSource::Part(_)));
    for joint in &worked.joints {
        let mut ties: Vec<usize> = joint.parts.iter().copied().filter(of_script).collect();
        ties.sort_unstable();
        ties.dedup();
        for part in &joint.parts {
            if let Some(tied) = tied.get_mut(*part) {
                *tied |= ties.iter().any(|other| other != part);
            }
        }
    }
    tied
}

/// Whether a part is one of the script that needs a joint. Bought things bring their own
/// fixings.
fn is_wood(job: &Job, worked: &WorkedJob, index: usize) -> bool {
    let Some(part) = worked.parts.get(index) else { return false };
    let bought = job.stock.get(part.stock.0).is_some_and(|s| matches!(s.kind, StockKind::Bought));
    matches!(part.source, PartSource::Part(_)) && !bought
}

/// The parts of a piece as they stand.
struct Row {
    /// Each part with how it stands, parts rising.
    stands: Vec<(usize, Standing)>,
    /// Indices into `stands` from left to right, each with where it begins, mm.
    from_left: Vec<(f64, usize)>,
    /// How far the widest reaches, mm.
    widest: f64,
}

impl Row {
    /// Some parts of a job, given rising.
    fn of(worked: &WorkedJob, own: &[usize]) -> Self {
        let stands: Vec<(usize, Standing)> = own
            .iter()
            .filter_map(|i| worked.parts.get(*i).map(|part| (*i, Standing::new(&part.solid, &part.at))))
            .collect();
        let spans = || stands.iter().map(|(_, standing)| standing.span());
        let mut from_left: Vec<(f64, usize)> = spans().map(|(low, _)| low.x).zip(0..).collect();
        from_left.sort_by(|a, b| a.0.total_cmp(&b.0));
        let widest = spans().map(|(low, high)| high.x - low.x).fold(0.0, f64::max);
        Self { stands, from_left, widest }
    }

    /// Whether a part touches another. Only those that begin near it are looked at: of
    /// thousands of loose parts each pair would be far too many.
    fn touches(&self, part: usize) -> bool {
        let Ok(at) = self.stands.binary_search_by_key(&part, |(part, _)| *part) else { return false };
        let this = &self.stands[at].1;
        let (low, high) = this.span();
        let first = self.from_left.partition_point(|(left, _)| *left < low.x - self.widest - TOUCH);
        let near = self.from_left.iter().skip(first).take_while(|(left, _)| *left <= high.x + TOUCH);
        near.filter(|(_, other)| *other != at)
            .map(|(_, other)| &self.stands[*other].1)
            .any(|other| !this.contacts(other).is_empty() || this.runs_into(other))
    }
}

/// One warning for some parts; none for none.
fn warning(parts: &[&WorkedPart], how: &str) -> Option<Problem> {
    let first = parts.first()?;
    let names: Vec<&str> = parts.iter().map(|p| p.name.as_str()).collect();
    let message = format!(
        "{} {how} no joint holds {}",
        wording::some_of(&names),
        if parts.len() == 1 { "it" } else { "them" }
    );
    let problem = Problem::warning("held-by-nothing", message)
        .at(first.origin)
        .help("join what is to stay in its place, for instance with `butt`, `housing` or `screws`");
    Some(names.into_iter().fold(problem, Problem::part))
}
