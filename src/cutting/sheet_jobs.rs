//! From the cutting list to the layouts of each sheet stock.

use super::layouts::{Alike, SheetCutting, SheetRow, in_unit_of, tenths, together};
use super::needs::pieces;
use super::sheets::{
    Axis, Effort, GrainRun, Piece, SheetJob, SheetLayout, SheetPart, SheetPlan, SheetStock, What,
    cut_sequence, lay_out,
};
use super::{CutRow, CuttingList};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::{Grain, Job, SheetSize, Stock, StockId, StockKind};
use crate::problem::Problem;

/// Steps of the search for a cheaper plan: plenty for the few sheets of a
/// piece of furniture, and soon over for many.
pub(super) const STEPS: u64 = 4_000;
/// Steps for a larger offcut at the same cost.
pub(super) const OFFCUT_STEPS: u64 = 1_200;

/// What is known of a sheet stock.
struct Sheets<'a> {
    id: StockId,
    stock: &'a Stock,
    thick: f64,
    sizes: &'a [SheetSize],
    grain: Grain,
    rows: Vec<SheetRow>,
}

/// The layouts of every sheet stock that parts are cut from.
pub(super) fn cut_sheets(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    problems: &mut Vec<Problem>,
) -> Vec<SheetCutting> {
    let mut all = Vec::new();
    for (index, stock) in job.stock.iter().enumerate() {
        let StockKind::Sheet { thick, sizes, grain } = &stock.kind else { continue };
        let id = StockId(index);
        let rows = rows_of(job, worked, list, id);
        if rows.is_empty() {
            continue;
        }
        if sizes.is_empty() {
            problems.push(no_size(stock));
            continue;
        }
        let sizes = usable(job, stock, sizes, problems);
        let sheets = Sheets { id, stock, thick: *thick, sizes: &sizes, grain: *grain, rows };
        all.extend(cut_one(job, worked, list, &sheets, problems));
    }
    all
}

/// What is cut from a stock: its parts, but for those that come folded out of
/// one panel, and those panels.
fn rows_of(job: &Job, worked: &WorkedJob, list: &CuttingList, stock: StockId) -> Vec<SheetRow> {
    let of_it = |row: &CutRow| worked.parts.get(row.which[0]).is_some_and(|part| part.stock == stock);
    let loose = |row: &CutRow| list.folded_of(job, worked, &row.which) < row.quantity;
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
    let style = crate::measure::LengthStyle::of(job.unit);
    for size in sizes.iter().filter(|size| !left(size)) {
        let says = format!(
            "trimming leaves nothing of the sheet {} × {} of `{}`",
            style.text(size.length),
            style.text(size.width),
            stock.name
        );
        problems.push(Problem::warning("sheet-too-small", says).at(stock.origin).help("leave the size out"));
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
fn slender(job: &Job, worked: &WorkedJob, row: &CutRow) -> Option<Problem> {
    let least = row.length.min(row.width);
    let style = crate::measure::LengthStyle::of(job.unit);
    (least < job.cutting.kerf).then(|| {
        let says = format!(
            "`{}` is {} wide, narrower than the saw cut of {}",
            row.name,
            style.text(least),
            style.text(job.cutting.kerf)
        );
        let problem = Problem::advice("slender-part", says)
            .part(row.name.clone())
            .help("see that the part and `kerf` of `cutting` are right; cut it wider and plane it to size");
        match worked.parts.get(row.which[0]) {
            Some(part) => problem.at(part.origin),
            None => problem,
        }
    })
}

/// The layouts of one stock.
fn cut_one(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    sheets: &Sheets<'_>,
    problems: &mut Vec<Problem>,
) -> Option<SheetCutting> {
    let parts: Vec<SheetPart> =
        sheets.rows.iter().filter_map(|row| sheet_part(job, worked, list, *row, sheets.grain)).collect();
    let rows = sheets.rows.iter().filter_map(|row| row.of(list));
    problems.extend(rows.filter_map(|row| slender(job, worked, row)));
    let (runs, run_names) = grain_runs(job, worked, list, sheets, problems);
    let rules = &job.cutting;
    let task = SheetJob {
        parts,
        runs,
        sheets: sheets
            .sizes
            .iter()
            .zip(costs(sheets.sizes))
            .map(|(s, cost)| sheet_stock(job, s, cost))
            .collect(),
        kerf: tenths(rules.kerf),
        levels: Some(rules.levels),
        useful_offcut: tenths(rules.offcut),
    };
    let effort = Effort { steps: STEPS, offcut_steps: OFFCUT_STEPS, seed: 1 };
    let plan = match lay_out(&task, effort, &|| false) {
        Ok(plan) => plan,
        Err(bad) => {
            problems.push(
                Problem::warning(
                    "no-layout",
                    format!("`{}` is not laid out: {}", sheets.stock.name, bad.message),
                )
                .at(sheets.stock.origin)
                .help(bad.help),
            );
            return None;
        }
    };
    problems.extend(left_out((job, worked), list, sheets, (&task, &run_names), &plan));
    let alike = |a: &SheetLayout, b: &SheetLayout| a.sheet == b.sheet && same(&task, &a.usable, &b.usable);
    let layouts = together(plan.layouts.clone(), alike);
    let sequenced = |one: Alike<SheetLayout>| {
        let cuts = cut_sequence(&task, &one.layout);
        (one, cuts)
    };
    Some(SheetCutting {
        boards: false,
        stock: sheets.id,
        name: sheets.stock.name.clone(),
        thick: sheets.thick,
        grained: sheets.grain != Grain::None,
        layouts: layouts.into_iter().map(sequenced).collect(),
        rows: sheets.rows.clone(),
        sizes: sheets.sizes.to_vec(),
        job: task,
        plan,
    })
}

/// A row of the list as a part to lay out: its grain along the sheet's.
fn sheet_part(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    which: SheetRow,
    grain: Grain,
) -> Option<SheetPart> {
    let row = which.of(list)?;
    let folded = match which {
        SheetRow::Part(_) => list.folded_of(job, worked, &row.which),
        SheetRow::Folded(_) | SheetRow::Lipping(_) => 0,
    };
    let [long, wide, _] = row.rough.unwrap_or([row.length, row.width, row.thickness]);
    let (long, wide) = (tenths(long), tenths(wide));
    Some(SheetPart {
        id: row.name.clone(),
        size: if grain == Grain::Width { [wide, long] } else { [long, wide] },
        quantity: u32::try_from(row.quantity.saturating_sub(folded)).unwrap_or(u32::MAX),
        may_turn: grain == Grain::None,
    })
}

/// A size to be had as a kind of sheet.
pub(super) fn sheet_stock(job: &Job, size: &SheetSize, cost: i64) -> SheetStock {
    let trim = if size.on_hand { 0 } else { tenths(job.cutting.edge_trim) };
    let style = crate::measure::LengthStyle::of(job.unit);
    let hand = if size.on_hand { " on hand" } else { "" };
    SheetStock {
        id: format!("{} × {}{hand}", style.text(size.length), style.text(size.width)),
        size: [floor(size.length), floor(size.width)],
        count: size.count,
        cost,
        trim: [trim; 4],
    }
}

/// A length of stock in 0.1 mm, rounded down.
#[allow(clippy::cast_possible_truncation, reason = "sheets are shorter than 10 m")]
fn floor(mm: f64) -> i64 {
    libm::floor(mm * 10.0 + 1e-6) as i64
}

/// What the search counts for each sheet: hundredths of the price where every
/// sheet to buy has one, else the area in cm². What lies in the shop counts a
/// hundredth of its area's worth, so that it is used first and the smallest
/// that does is taken.
#[allow(clippy::cast_possible_truncation, reason = "prices and areas are checked where they are read")]
pub(super) fn costs(sizes: &[SheetSize]) -> Vec<i64> {
    let to_buy = || sizes.iter().filter(|size| !size.on_hand);
    let priced =
        to_buy().next().is_some() && to_buy().all(|size| size.price.is_some_and(|price| price > 0.0));
    let area = |size: &SheetSize| size.length * size.width / 100.0;
    let (money, of) = to_buy()
        .fold((0.0, 0.0), |(money, of), size| (money + 100.0 * size.price.unwrap_or(0.0), of + area(size)));
    let rate = if priced { money / of } else { 1.0 };
    let cost = |size: &SheetSize| match (size.on_hand, priced) {
        (true, _) => 0.01 * rate * area(size),
        (false, true) => 100.0 * size.price.unwrap_or(0.0),
        (false, false) => area(size),
    };
    sizes.iter().map(|size| (cost(size).round() as i64).max(1)).collect()
}

/// The runs of this stock, one for each copy of their piece, with the names of
/// their parts.
fn grain_runs(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    sheets: &Sheets<'_>,
    problems: &mut Vec<Problem>,
) -> (Vec<GrainRun>, Vec<Vec<String>>) {
    let (mut runs, mut all_names) = (Vec::new(), Vec::new());
    for run in &job.grain_runs {
        let members: Vec<(usize, &WorkedPart)> =
            run.parts.iter().filter_map(|part| Some((part.0, worked.parts.get(part.0)?))).collect();
        let here = members.iter().filter(|(_, part)| part.stock == sheets.id).count();
        if here == 0 {
            continue;
        }
        let copies: Vec<usize> = members.iter().map(|(_, part)| pieces(job, part.piece.0)).collect();
        let names = names(&members);
        if here < members.len() || copies.windows(2).any(|two| two[0] != two[1]) {
            let says = format!(
                "the grain cannot run through {names}: they are not cut from one stock in equal number"
            );
            problems.push(
                Problem::warning("run-broken", says)
                    .at(run.origin)
                    .help("name parts of one stock and one piece"),
            );
            continue;
        }
        if let Some((_, part)) = members.iter().find(|(index, _)| list.folded_of(job, worked, &[*index]) > 0)
        {
            let says =
                format!("`{}` is folded out of one panel with others, so it lies in no run", part.name);
            problems.push(
                Problem::warning("run-broken", says)
                    .at(run.origin)
                    .help("leave it out: the figure runs on over the folds by itself"),
            );
            continue;
        }
        let holds = |row: &SheetRow, index: &usize| row.of(list).is_some_and(|row| row.which.contains(index));
        let place = |index: &usize| sheets.rows.iter().position(|row| holds(row, index));
        let parts: Vec<usize> = members.iter().filter_map(|(index, _)| place(index)).collect();
        let along = runs_along(&members);
        let axis = if along == (sheets.grain == Grain::Width) { Axis::Y } else { Axis::X };
        for _ in 0..copies.first().copied().unwrap_or(1) {
            runs.push(GrainRun { id: names.clone(), parts: parts.clone(), axis, gap: None });
            all_names.push(members.iter().map(|(_, part)| part.name.clone()).collect());
        }
    }
    (runs, all_names)
}

/// The names of a run's parts: `Left side, Top, Right side`.
fn names(members: &[(usize, &WorkedPart)]) -> String {
    members.iter().map(|(_, part)| part.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Whether the parts of a run follow one another along their grain, as the
/// sides and top of a case do, or side by side across it, as doors do. Read
/// from where they stand: seen from one, the next lies further off in the
/// direction the run goes.
pub(super) fn runs_along(members: &[(usize, &WorkedPart)]) -> bool {
    let centre = |part: &WorkedPart| part.at.point(0.5 * part.size);
    let (mut along, mut across) = (0.0, 0.0);
    for pair in members.windows(2) {
        let (a, b) = (pair[0].1, pair[1].1);
        let step = centre(b) - centre(a);
        for part in [a, b] {
            along += part.at.local_dir(step).x.abs();
            across += part.at.local_dir(step).y.abs();
        }
    }
    along >= across
}

/// What found no place, in words.
fn left_out(
    (job, worked): (&Job, &WorkedJob),
    list: &CuttingList,
    sheets: &Sheets<'_>,
    (task, run_names): (&SheetJob, &[Vec<String>]),
    plan: &SheetPlan,
) -> Vec<Problem> {
    let mut said: Vec<(String, usize, Problem)> = Vec::new();
    for gap in &plan.unplaced {
        if let Some(have) = said.iter_mut().find(|have| have.0 == gap.reason) {
            have.1 += 1;
            continue;
        }
        let mut problem = Problem::warning("no-place", String::new()).help(gap.advice.join("; or "));
        let first =
            gap.parts.first().and_then(|part| worked.parts.get(sheets.rows.get(*part)?.of(list)?.which[0]));
        if let Some(part) = first {
            problem = problem.at(part.origin);
        }
        problem.parts = match gap.run.and_then(|run| run_names.get(run)) {
            Some(names) => names.clone(),
            None => gap.parts.iter().map(|part| task.parts[*part].id.clone()).collect(),
        };
        said.push((gap.reason.clone(), 1, problem));
    }
    let finish = |(reason, times, problem): (String, usize, Problem)| {
        let times = if times > 1 { format!(", {times} times") } else { String::new() };
        Problem {
            message: format!(
                "`{}`: {}{times}; it stands on no layout",
                sheets.stock.name,
                in_unit_of(job, &reason)
            ),
            ..problem
        }
    };
    said.into_iter().map(finish).collect()
}

/// Whether two pieces of layouts are cut alike; the runs of two copies of a
/// piece are alike.
pub(super) fn same(job: &SheetJob, a: &Piece, b: &Piece) -> bool {
    let parts = |run: usize| job.runs.get(run).map(|run| &run.parts);
    a.at == b.at
        && a.size == b.size
        && match (&a.what, &b.what) {
            (What::Offcut, What::Offcut) => true,
            (What::Part { part: p, turned: t, run: r }, What::Part { part: q, turned: u, run: s }) => {
                p == q
                    && t == u
                    && match (r, s) {
                        (Some(r), Some(s)) => r.member == s.member && parts(r.run) == parts(s.run),
                        (None, None) => true,
                        _ => false,
                    }
            }
            (What::Divided { along: d, pieces: p }, What::Divided { along: e, pieces: q }) => {
                d == e && p.len() == q.len() && p.iter().zip(q).all(|(p, q)| same(job, p, q))
            }
            _ => false,
        }
}
