//! The grain runs of a sheet stock, and runs that no layout can have.

use super::laid::SheetRow;
use super::lengths::{Length, length_of};
use super::sheet_stock::{Sheets, Whole};
use crate::cutting::grain::{runs_along, runs_with};
use crate::cutting::needs::pieces;
use crate::cutting::sheets::{Axis, GrainRun};
use crate::cutting::tolerance::{APART, SAME};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::measure::LengthStyle;
use crate::model::{self, Grain, Job, StockKind};
use crate::problem::Problem;

/// The grain runs of a stock.
pub(super) struct Runs {
    /// The runs, one for each copy of their piece.
    pub(super) runs: Vec<GrainRun>,
    /// For each the names of its parts.
    pub(super) names: Vec<Vec<String>>,
}

/// The runs of a stock.
pub(super) fn grain_runs(whole: Whole<'_>, sheets: &Sheets<'_>) -> Runs {
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
        if fault(whole, &members).is_some() {
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

/// The runs that no layout can have, each told where it is asked for.
pub(super) fn broken_runs(whole: Whole<'_>) -> Vec<Problem> {
    let told = |run: &model::GrainRun| {
        let members = to_cut(whole.job, whole.worked, run);
        let fault = fault(whole, &members).filter(|_| members.len() > 1 || run.parts.len() < 2)?;
        Some(Problem::warning("run-broken", fault.message).at(run.origin).help(fault.help))
    };
    whole.job.grain_runs.iter().filter_map(told).collect()
}

/// Why the grain cannot run through some parts, and what to do.
pub(super) struct Fault {
    message: String,
    help: &'static str,
}

/// Why the grain cannot run through some parts, if it cannot.
pub(super) fn fault(whole: Whole<'_>, members: &[(usize, &WorkedPart)]) -> Option<Fault> {
    let Whole { job, worked, list } = whole;
    let first = members.first()?.1;
    let copies: Vec<usize> = members.iter().map(|(_, part)| pieces(job, part.piece.0)).collect();
    let elsewhere = members.iter().any(|(_, part)| part.stock != first.stock);
    if elsewhere || copies.windows(2).any(|two| two[0] != two[1]) {
        let names = names(members);
        return Some(Fault {
            message: format!(
                "the grain cannot run through {names}: they are not cut from one stock in equal number"
            ),
            help: "name parts of one stock and one piece",
        });
    }
    let is_folded = |(index, _): &&(usize, &WorkedPart)| list.folded_of(job, worked, &[*index]) > 0;
    if let Some((_, part)) = members.iter().find(is_folded) {
        return Some(Fault {
            message: format!("`{}` is folded out of one panel with others, so it lies in no run", part.name),
            help: "leave it out: the figure runs on over the folds by itself",
        });
    }
    if let Some((across, along)) = crossed(members) {
        let message = format!(
            "the grain cannot run through {}: along it lies `{}`, across it `{}`",
            names(members),
            along.name,
            across.name
        );
        return Some(Fault { message, help: "turn the `grain` of one of them, or leave it out of the run" });
    }
    match &job.stock.get(first.stock.0)?.kind {
        StockKind::Sheet { .. } => None,
        StockKind::Board { .. } => of_boards(whole, members),
        StockKind::Blank { .. } | StockKind::Glass { .. } | StockKind::Bought => Some(Fault {
            message: format!(
                "the grain cannot run through {}: they are not cut from sheets or boards",
                names(members)
            ),
            help: "leave `grain_run` out",
        }),
    }
}

/// Why the figure of one board cannot run through some parts, if it cannot.
fn of_boards(whole: Whole<'_>, members: &[(usize, &WorkedPart)]) -> Option<Fault> {
    let Whole { job, list, .. } = whole;
    let one_piece = |(_, part): &(usize, &WorkedPart)| part.piece == members[0].1.piece;
    if !members.iter().all(one_piece) {
        return Some(Fault {
            message: format!("the grain cannot run through {}: they are of several pieces", names(members)),
            help: "name parts of one piece",
        });
    }
    let row = |index: &usize| list.parts.iter().position(|row| row.which.contains(index));
    let of = |(index, _): &(usize, &WorkedPart)| length_of(whole, SheetRow::Part(row(index)?), 0);
    let lengths: Vec<_> = members.iter().filter_map(of).collect();
    if let Some(length) = lengths.iter().find(|length| length.staves > 1) {
        let style = LengthStyle::of(job.unit);
        let message = format!(
            "`{}` is glued up of {} boards {} wide, so no grain runs on from it",
            length.name,
            length.staves,
            style.text(length.section.wide)
        );
        return Some(Fault {
            message,
            help: "name wider boards in `widths` of its stock, or leave it out of the run",
        });
    }
    if let Some(over) = too_wide(job, members, &lengths) {
        let (style, names) = (LengthStyle::of(job.unit), names(members));
        let message = format!(
            "side by side {names} are {} wider than any board, so that no grain runs through them",
            style.text(over)
        );
        return Some(Fault {
            message,
            help: "name wider boards in `widths` of their stock, or leave `grain_run` out and choose boards alike",
        });
    }
    let differ = lengths.windows(2).any(|two| (two[0].section.thick - two[1].section.thick).abs() > APART);
    differ.then(|| Fault {
        message: format!(
            "the grain cannot run through {}: they come from boards of several thicknesses",
            names(members)
        ),
        help: "plane them to one thickness, or leave out what is thicker",
    })
}

/// How much wider parts side by side are than the widest board, mm, if they are.
fn too_wide(job: &Job, members: &[(usize, &WorkedPart)], lengths: &[Length]) -> Option<f64> {
    let stock = job.stock.get(members.first()?.1.stock.0)?;
    let kerfs = job.cutting.kerf * lengths.len().saturating_sub(1) as f64;
    let wide = lengths.iter().map(|length| length.section.wide).sum::<f64>() + kerfs;
    let over = wide - stock.widest_clear(job.unit)?;
    (!runs_along(members) && over > SAME).then_some(over)
}

/// Of parts that follow one another the first whose grain lies across the run and the first
/// whose grain lies along it, where there are both.
fn crossed<'w>(members: &[(usize, &'w WorkedPart)]) -> Option<(&'w WorkedPart, &'w WorkedPart)> {
    let across = members.iter().find(|(index, _)| runs_with(members, *index) == Some(false))?;
    let along = members.iter().find(|(index, _)| runs_with(members, *index) == Some(true))?;
    Some((across.1, along.1))
}

/// The names of a run's parts: `Left side, Top, Right side`.
fn names(members: &[(usize, &WorkedPart)]) -> String {
    members.iter().map(|(_, part)| part.name.as_str()).collect::<Vec<_>>().join(", ")
}
