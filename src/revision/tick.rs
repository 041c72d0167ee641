//! Which parts a shop has ticked as cut.

use super::CutPart;
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::Job;
use crate::problem::{Problem, nearest, wording};

/// A line of a list of cut parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ticked {
    /// The line of the file, from 1.
    pub line: usize,
    /// A part's name, or its number with its hand.
    pub part: String,
    /// How many are cut; `None` for all of them.
    pub count: Option<usize>,
}

/// The parts that a list ticks, each once, in the order of the job; and what of the list
/// is none of the job's. `file` is the list's name.
pub fn ticked(
    file: &str,
    list: &[Ticked],
    (job, worked): (&Job, &WorkedJob),
) -> (Vec<CutPart>, Vec<Problem>) {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    let mut problems = Vec::new();
    for tick in list {
        let named = |part: &&WorkedPart| same(&part.name, &tick.part) || same(&part.mark(), &tick.part);
        let mut names: Vec<&str> = worked.parts.iter().filter(named).map(|part| part.name.as_str()).collect();
        names.dedup();
        if names.is_empty() {
            problems.push(unknown(file, tick, worked));
        }
        for name in names {
            let made = made(job, worked, name);
            let cut = tick.count.unwrap_or(made);
            if cut > made {
                problems.push(too_many(file, tick, made));
            }
            match counts.iter_mut().find(|(known, _)| *known == name) {
                Some(known) => known.1 = (known.1 + cut).min(made),
                None => counts.push((name, cut.min(made))),
            }
        }
    }
    let place = |name: &str| worked.parts.iter().position(|part| part.name == name);
    counts.sort_by_key(|(name, _)| place(name));
    counts.retain(|(_, count)| *count > 0);
    (counts.into_iter().map(|(part, count)| CutPart { part: part.to_owned(), count }).collect(), problems)
}

/// Whether two names are one to a reader.
fn same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// How many parts of a name there are, for all pieces made.
fn made(job: &Job, worked: &WorkedJob, name: &str) -> usize {
    let own = worked.parts.iter().filter(|part| part.name == name);
    own.map(|part| job.pieces.get(part.piece.0).map_or(1, |piece| piece.count as usize)).sum()
}

fn unknown(file: &str, tick: &Ticked, worked: &WorkedJob) -> Problem {
    let names = || worked.parts.iter().map(|part| part.name.as_str());
    let message = format!("{file}, line {}: there is no part `{}`", tick.line, tick.part);
    Problem::error("unknown-part", message).help(match nearest(&tick.part, names()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "write the name of a part as the cutting list has it, or its number with its hand".into(),
    })
}

fn too_many(file: &str, tick: &Ticked, made: usize) -> Problem {
    let count = tick.count.unwrap_or(made);
    let message = format!(
        "{file}, line {}: {count} of `{}` are ticked; the job has {}",
        tick.line,
        tick.part,
        wording::count(made, "one of it", "of it").replace("1 one", "one")
    );
    Problem::warning("more-than-made", message).help("what is over is left out of account")
}
