//! From the cutting list to the layouts of each sheet stock.

use super::grain_runs::{Runs, grain_runs};
use super::grid::{Grid, shown};
use super::laid::{SheetCutting, SheetRow};
use super::sequenced::sequenced;
use super::sheet_stock::{EFFORT, Sheets, Whole, costs, longer, sheet_stock};
use crate::cutting::CutRow;
use crate::cutting::sheets::{BadJob, SheetJob, SheetPart, SheetPlan, Unplaced, lay_out};
use crate::measure::LengthStyle;
use crate::model::{Grain, Job, SheetSize, Stock, StockId, StockKind};
use crate::problem::Problem;

/// The layouts of every sheet stock that parts are cut from.
pub(super) fn cut_sheets(whole: Whole<'_>, problems: &mut Vec<Problem>) -> Vec<SheetCutting> {
    let mut all = Vec::new();
    for (index, stock) in whole.job.stock.iter().enumerate() {
        let StockKind::Sheet { thick, called, sizes, grain } = &stock.kind else { continue };
        let id = StockId(index);
        let rows = rows_of(whole, id);
        if rows.is_empty() {
            continue;
        }
        if sizes.is_empty() {
            problems.push(no_size(stock));
            continue;
        }
        let sizes = usable(whole.job, stock, sizes, problems);
        let sheets = Sheets { id, stock, thick: *thick, called: *called, sizes: &sizes, grain: *grain, rows };
        all.extend(cut_one(whole, &sheets, problems));
    }
    all
}

/// What is cut from a stock: its parts, but for those that come folded out of
/// one panel, and those panels.
fn rows_of(whole: Whole<'_>, stock: StockId) -> Vec<SheetRow> {
    let Whole { job, worked, list } = whole;
    let of_it = |row: &CutRow| worked.parts.get(row.which[0]).is_some_and(|part| part.stock == stock);
    let loose = |row: &CutRow| list.folded_of(job, worked, &row.which) < row.left();
    let parts = list.parts.iter().enumerate().filter(|(_, row)| of_it(row) && loose(row));
    let folded = list.folded.iter().enumerate().filter(|(_, panel)| of_it(&panel.row));
    parts.map(|(i, _)| SheetRow::Part(i)).chain(folded.map(|(i, _)| SheetRow::Folded(i))).collect()
}

/// The sizes of which trimming leaves something; all of them where it leaves
/// nothing of any, which is then said as a whole.
fn usable(job: &Job, stock: &Stock, sizes: &[SheetSize], problems: &mut Vec<Problem>) -> Vec<SheetSize> {
    let left = |size: &&SheetSize| {
        size.on_hand || size.length.min(size.width) > 2.0 * job.cutting.edge_trim + job.cutting.kerf
    };
    let kept: Vec<SheetSize> = sizes.iter().filter(left).copied().collect();
    if kept.is_empty() {
        return sizes.to_vec();
    }
    let style = LengthStyle::of(job.unit);
    for size in sizes.iter().filter(|size| !left(size)) {
        let message = format!(
            "trimming leaves nothing of the sheet {} × {} of `{}`",
            style.text(size.length),
            style.text(size.width),
            stock.name
        );
        problems
            .push(Problem::warning("sheet-too-small", message).at(stock.origin).help("leave the size out"));
    }
    kept
}

/// A stock of which no sheet is known.
fn no_size(stock: &Stock) -> Problem {
    Problem::advice("no-sheet-size", format!("no sheet of `{}` is named, so it is not laid out", stock.name))
        .at(stock.origin)
        .help("say what is bought: `sheet: [2440, 1220]`")
}

/// A part narrower than the saw cut that frees it: one of the two is mistaken.
fn slender(Whole { job, worked, .. }: Whole<'_>, row: &CutRow) -> Option<Problem> {
    let least = row.length.min(row.width);
    let style = LengthStyle::of(job.unit);
    (least < job.cutting.kerf).then(|| {
        let message = format!(
            "`{}` is {} wide, narrower than the saw cut of {}",
            row.name,
            style.text(least),
            style.text(job.cutting.kerf)
        );
        let problem = Problem::advice("slender-part", message)
            .part(row.name.clone())
            .help("see that the part and `kerf` of `cutting` are right; cut it wider and plane it to size");
        match worked.parts.get(row.which[0]) {
            Some(part) => problem.at(part.origin),
            None => problem,
        }
    })
}

/// The layouts of one stock.
fn cut_one(whole: Whole<'_>, sheets: &Sheets<'_>, problems: &mut Vec<Problem>) -> Option<SheetCutting> {
    let rows = sheets.rows.iter().filter_map(|row| row.of(whole.list));
    problems.extend(rows.filter_map(|row| slender(whole, row)));
    let runs = grain_runs(whole, sheets);
    let task = sheet_job(whole, sheets, &runs);
    let plan = match lay_out(&task, longer(EFFORT, whole.job), &|| false) {
        Ok(plan) => plan,
        Err(bad) => {
            problems.push(senseless(sheets.stock, bad));
            return None;
        }
    };
    problems.extend(left_out(whole, sheets, &Laid { task: &task, runs: &runs, plan: &plan }));
    Some(SheetCutting {
        boards: false,
        grid: Grid::of(whole.job.unit),
        stock: sheets.id,
        name: sheets.stock.name.clone(),
        thick: sheets.thick,
        called: sheets.called,
        grained: sheets.grain != Grain::None,
        layouts: sequenced(&task, &plan),
        rows: sheets.rows.clone(),
        sizes: sheets.sizes.to_vec(),
        rest: 0.0,
        job: task,
        plan,
    })
}

/// The rows of a stock as a job for the search.
fn sheet_job(whole: Whole<'_>, sheets: &Sheets<'_>, runs: &Runs) -> SheetJob {
    let (rules, grid) = (&whole.job.cutting, Grid::of(whole.job.unit));
    let priced = sheets.sizes.iter().zip(costs(sheets.sizes));
    SheetJob {
        parts: sheets.rows.iter().filter_map(|row| sheet_part(whole, *row, sheets.grain)).collect(),
        runs: runs.runs.clone(),
        sheets: priced.map(|(size, cost)| sheet_stock(whole.job, size, cost)).collect(),
        kerf: grid.up(rules.kerf),
        levels: Some(rules.levels),
        useful_offcut: grid.up(rules.offcut),
    }
}

/// A job of which the search can make nothing.
fn senseless(stock: &Stock, bad: BadJob) -> Problem {
    Problem::warning("no-layout", format!("`{}` is not laid out: {}", stock.name, bad.message))
        .at(stock.origin)
        .help(bad.help)
}

/// A row of the list as a part to lay out: its grain along the sheet's.
fn sheet_part(whole: Whole<'_>, which: SheetRow, grain: Grain) -> Option<SheetPart> {
    let Whole { job, worked, list } = whole;
    let row = which.of(list)?;
    let folded = match which {
        SheetRow::Part(_) => list.folded_of(job, worked, &row.which),
        SheetRow::Folded(_) | SheetRow::Lipping(_) => 0,
    };
    let [long, wide, _] = row.rough.unwrap_or([row.length, row.width, row.thickness]);
    let steps = Grid::of(job.unit);
    let (long, wide) = (steps.up(long), steps.up(wide));
    Some(SheetPart {
        id: row.name.clone(),
        size: if grain == Grain::Width { [wide, long] } else { [long, wide] },
        quantity: u32::try_from(row.left().saturating_sub(folded)).unwrap_or(u32::MAX),
        may_turn: grain == Grain::None,
    })
}

/// A job as it was laid out.
struct Laid<'a> {
    task: &'a SheetJob,
    runs: &'a Runs,
    plan: &'a SheetPlan,
}

/// What found no place, in words; the same of several is said once.
fn left_out(whole: Whole<'_>, sheets: &Sheets<'_>, laid: &Laid<'_>) -> Vec<Problem> {
    let mut found: Vec<(&Unplaced, usize)> = Vec::new();
    for gap in &laid.plan.unplaced {
        match found.iter_mut().find(|(have, _)| (&have.what, &have.why) == (&gap.what, &gap.why)) {
            Some(have) => have.1 += 1,
            None => found.push((gap, 1)),
        }
    }
    found.into_iter().map(|(gap, times)| no_place(whole, sheets, laid, gap, times)).collect()
}

/// A part or run that found no place, as often as it did not.
fn no_place(whole: Whole<'_>, sheets: &Sheets<'_>, laid: &Laid<'_>, gap: &Unplaced, times: usize) -> Problem {
    let times = if times > 1 { format!(", {times} times") } else { String::new() };
    let reason = gap.reason(|length| shown(whole.job, length));
    let message = format!("`{}`: {reason}{times}; it stands on no layout", sheets.stock.name);
    let mut problem = Problem::warning("no-place", message).help(gap.advice.join("; or "));
    let row = gap.parts.first().and_then(|part| sheets.rows.get(*part)?.of(whole.list));
    if let Some(part) = row.and_then(|row| whole.worked.parts.get(*row.which.first()?)) {
        problem = problem.at(part.origin);
    }
    problem.parts = match gap.run.and_then(|run| laid.runs.names.get(run)) {
        Some(names) => names.clone(),
        None => gap.parts.iter().map(|part| laid.task.parts[*part].id.clone()).collect(),
    };
    problem
}
