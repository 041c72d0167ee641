//! The grain runs of a sheet stock.

use super::laid::SheetRow;
use super::sheet_stock::{Sheets, Whole};
use crate::cutting::grain::runs_along;
use crate::cutting::needs::pieces;
use crate::cutting::sheets::{Axis, GrainRun};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::{self, Grain, Job};
use crate::problem::Problem;

/// The grain runs of a stock.
pub(super) struct Runs {
    /// The runs, one for each copy of their piece.
    pub(super) runs: Vec<GrainRun>,
    /// For each the names of its parts.
    pub(super) names: Vec<Vec<String>>,
}

/// The runs of a stock.
pub(super) fn grain_runs(whole: Whole<'_>, sheets: &Sheets<'_>, problems: &mut Vec<Problem>) -> Runs {
    let Whole { job, worked, list } = whole;
    let mut all = Runs { runs: Vec::new(), names: Vec::new() };
    for run in &job.grain_runs {
        let members = to_cut(job, worked, run);
        if members.len() < 2 && run.parts.len() > 1 {
            continue;
        }
        if members.iter().all(|(_, part)| part.stock != sheets.id) {
            continue;
        }
        if let Some(problem) = broken(whole, sheets, &members) {
            problems.push(problem.at(run.origin));
            continue;
        }
        let holds = |row: &SheetRow, index: &usize| row.of(list).is_some_and(|row| row.which.contains(index));
        let place = |index: &usize| sheets.rows.iter().position(|row| holds(row, index));
        let parts: Vec<usize> = members.iter().filter_map(|(index, _)| place(index)).collect();
        let along = runs_along(&members);
        let axis = if along == (sheets.grain == Grain::Width) { Axis::Y } else { Axis::X };
        for _ in 0..members.first().map_or(1, |(_, part)| pieces(job, part.piece.0)) {
            all.runs.push(GrainRun { id: names(&members), parts: parts.clone(), axis, gap: None });
            all.names.push(members.iter().map(|(_, part)| part.name.clone()).collect());
        }
    }
    all
}

/// The parts of a run that are still to be cut: the figure of the others is what it is.
pub(super) fn to_cut<'w>(
    job: &Job,
    worked: &'w WorkedJob,
    run: &model::GrainRun,
) -> Vec<(usize, &'w WorkedPart)> {
    let members = run.parts.iter().filter(|part| !job.already_cut.contains_key(&part.0));
    members.filter_map(|part| Some((part.0, worked.parts.get(part.0)?))).collect()
}

/// Why the grain of a sheet cannot run through some parts, if it cannot.
fn broken(whole: Whole<'_>, sheets: &Sheets<'_>, members: &[(usize, &WorkedPart)]) -> Option<Problem> {
    let Whole { job, worked, list } = whole;
    let elsewhere = members.iter().any(|(_, part)| part.stock != sheets.id);
    let copies: Vec<usize> = members.iter().map(|(_, part)| pieces(job, part.piece.0)).collect();
    if elsewhere || copies.windows(2).any(|two| two[0] != two[1]) {
        let names = names(members);
        let message =
            format!("the grain cannot run through {names}: they are not cut from one stock in equal number");
        return Some(Problem::warning("run-broken", message).help("name parts of one stock and one piece"));
    }
    let is_folded = |(index, _): &&(usize, &WorkedPart)| list.folded_of(job, worked, &[*index]) > 0;
    members.iter().find(is_folded).map(|(_, part)| {
        let message = format!("`{}` is folded out of one panel with others, so it lies in no run", part.name);
        Problem::warning("run-broken", message)
            .help("leave it out: the figure runs on over the folds by itself")
    })
}

/// The names of a run's parts: `Left side, Top, Right side`.
fn names(members: &[(usize, &WorkedPart)]) -> String {
    members.iter().map(|(_, part)| part.name.as_str()).collect::<Vec<_>>().join(", ")
}
