//! From the cutting list to the layouts of solid timber: first on boards in the shop,
//! then on boards to buy, those of one sawn thickness together.

use rayon::prelude::*;

use super::board_jobs::{board_part, cut_on_hand};
use super::board_sizes::{boards, sizes};
use super::grain_runs::{fault, to_cut};
use super::grid::{Grid, shown};
use super::laid::{SheetCutting, SheetRow};
use super::lengths::{Length, length_of};
use super::sequenced::OfBoards;
use super::sheet_stock::{Whole, longer};
use crate::cutting::boards::{BoardPlan, lay_on_boards};
use crate::cutting::grain::runs_along;
use crate::cutting::needs::pieces;
use crate::cutting::sheets::{Axis, Effort, GrainRun, SheetJob, SheetPlan, Unplaced, Why};
use crate::cutting::tolerance::APART;
use crate::cutting::units::SQUARE_METRES;
use crate::joinery::WorkedPart;
use crate::model::{Stock, StockKind};
use crate::problem::Problem;

/// What the search may spend on the boards of one thickness: boards cost less than
/// sheets, and the plans it is held against are good ones.
const EFFORT: Effort = Effort { steps: 4_000, offcut_steps: 600, seed: 1, searches: 1 };

/// Parts of the list that follow one another in one board.
struct Run {
    /// Their rows, in order.
    rows: Vec<SheetRow>,
    /// Along the board or across it.
    axis: Axis,
    /// Names of the parts.
    name: String,
}

/// The layouts of every thickness of board.
pub(super) fn cut_boards(whole: Whole<'_>, problems: &mut Vec<Problem>) -> Vec<SheetCutting> {
    let list = whole.list;
    let runs = runs(whole);
    let parts = (0..list.parts.len()).map(SheetRow::Part);
    let lippings = (0..list.lippings.len()).map(SheetRow::Lipping);
    let in_runs = |row: SheetRow| runs.iter().flat_map(|run| &run.rows).filter(|one| **one == row).count();
    let mut lengths: Vec<Length> =
        parts.chain(lippings).filter_map(|row| length_of(whole, row, in_runs(row))).collect();
    let mut all = cut_on_hand(whole.job, &mut lengths);
    problems.extend(lengths.iter_mut().filter_map(|length| length.thin.take()));
    // Each thickness by itself: none waits for another.
    let cut: Vec<_> = by_thickness(lengths)
        .into_par_iter()
        .map(|group| {
            let mut found = Vec::new();
            (Boards { whole, group, runs: &runs }.cut(&mut found), found)
        })
        .collect();
    for (cutting, found) in cut {
        all.extend(cutting);
        problems.extend(found);
    }
    all
}

/// Grain runs of solid parts, one for each copy of their piece.
fn runs(whole: Whole<'_>) -> Vec<Run> {
    let Whole { job, worked, list } = whole;
    let mut all = Vec::new();
    for run in &job.grain_runs {
        let members: Vec<(usize, &WorkedPart)> = to_cut(job, worked, run);
        let Some((_, first)) = members.first() else { continue };
        let kind = job.stock.get(first.stock.0).map(|stock| &stock.kind);
        if !matches!(kind, Some(StockKind::Board { .. })) || fault(whole, &members).is_some() {
            continue;
        }
        let row = |index: &usize| list.parts.iter().position(|row| row.which.contains(index));
        let rows: Vec<SheetRow> =
            members.iter().filter_map(|(index, _)| row(index)).map(SheetRow::Part).collect();
        let axis = if runs_along(&members) { Axis::X } else { Axis::Y };
        let names: Vec<&str> = members.iter().map(|(_, part)| part.name.as_str()).collect();
        let name = names.join(", ");
        let copies = pieces(job, first.piece.0);
        all.extend((0..copies).map(|_| Run { rows: rows.clone(), axis, name: name.clone() }));
    }
    all
}

/// Lengths by stock and sawn thickness, in script order, the thickest first.
fn by_thickness(lengths: Vec<Length>) -> Vec<Vec<Length>> {
    let mut groups: Vec<Vec<Length>> = Vec::new();
    for length in lengths {
        let of_it = |group: &&mut Vec<Length>| {
            group[0].stock == length.stock && (group[0].section.thick - length.section.thick).abs() < APART
        };
        match groups.iter_mut().find(of_it) {
            Some(group) => group.push(length),
            None => groups.push(vec![length]),
        }
    }
    groups
        .sort_by(|a, b| a[0].stock.cmp(&b[0].stock).then(b[0].section.thick.total_cmp(&a[0].section.thick)));
    groups
}

/// Boards of one stock and sawn thickness, and what is cut from them.
struct Boards<'a> {
    whole: Whole<'a>,
    group: Vec<Length>,
    runs: &'a [Run],
}

impl Boards<'_> {
    /// What their lengths are counted in.
    fn grid(&self) -> Grid {
        Grid::of(self.whole.job.unit)
    }

    /// Their layouts.
    fn cut(&self, problems: &mut Vec<Problem>) -> Option<SheetCutting> {
        let first = self.group.first()?;
        let stock = self.whole.job.stock.get(first.stock.0)?;
        let sizes = sizes(self.whole.job, stock, &self.group);
        let task = self.task(boards(self.whole.job, &sizes));
        let BoardPlan { mut plan, rest } = match lay_on_boards(&task, longer(EFFORT, self.whole.job)) {
            Ok(plan) => plan,
            Err(bad) => {
                let message = format!("`{}` is not laid out: {}", stock.name, bad.message);
                problems.push(Problem::warning("no-layout", message).at(stock.origin).help(bad.help));
                return None;
            }
        };
        self.bound(&task, &mut plan);
        problems.extend(self.left_out(stock, &plan));
        let grid = self.grid();
        let of = OfBoards {
            grid,
            stock: (first.stock, stock),
            thick: first.section.thick,
            rows: self.group.iter().map(|length| length.row).collect(),
            sizes,
            rest: grid.square_mm(rest) * SQUARE_METRES,
        };
        Some(of.laid(task, plan))
    }

    /// The parts and their runs on these boards.
    fn task(&self, sheets: Vec<crate::cutting::sheets::SheetStock>) -> SheetJob {
        let (rules, grid) = (&self.whole.job.cutting, self.grid());
        let place = |row: &SheetRow| self.group.iter().position(|length| length.row == *row);
        let run = |run: &Run| {
            let parts: Vec<usize> = run.rows.iter().filter_map(place).collect();
            // Part of a run that is cut of other boards, or of staves, has no grain to
            // run on.
            let whole =
                parts.len() == run.rows.len() && parts.iter().all(|part| self.group[*part].staves == 1);
            let run = GrainRun { id: run.name.clone(), parts, axis: run.axis, gap: None };
            // Side by side the parts need a board that wide: else it is left to the eye.
            (whole && (run.axis == Axis::X || self.wide_enough(&run, &sheets))).then_some(run)
        };
        SheetJob {
            parts: self.group.iter().map(|length| board_part(grid, length)).collect(),
            runs: self.runs.iter().filter_map(run).collect(),
            kerf: grid.up(rules.kerf),
            levels: Some(rules.levels),
            useful_offcut: grid.up(rules.offcut),
            sheets,
        }
    }

    /// Whether any board takes the parts of a run side by side.
    fn wide_enough(&self, run: &GrainRun, boards: &[crate::cutting::sheets::SheetStock]) -> bool {
        let grid = self.grid();
        let kerf = grid.up(self.whole.job.cutting.kerf);
        let wide: i64 = run.parts.iter().map(|part| grid.up(self.group[*part].section.wide) + kerf).sum();
        boards.iter().any(|board| wide - kerf <= board.size[1] - board.trim[2] - board.trim[3])
    }

    /// Where parts are glued up of staves, other staves might do better: what is proven
    /// for these is not proven for the panel, but for its area.
    fn bound(&self, task: &SheetJob, plan: &mut SheetPlan) {
        if self.group.iter().all(|length| length.staves == 1) {
            return;
        }
        let area: i64 = self
            .group
            .iter()
            .zip(&task.parts)
            .map(|(_, part)| part.size[0] * part.size[1] * i64::from(part.quantity))
            .sum();
        let cheapest =
            task.sheets.iter().map(|board| board.cost as f64 / (board.size[0] * board.size[1]) as f64);
        let bound = libm::floor(area as f64 * cheapest.fold(f64::INFINITY, f64::min));
        #[allow(clippy::cast_possible_truncation, reason = "no more than what the boards cost")]
        let bound = bound as i64;
        plan.bound = plan.bound.min(bound);
        plan.proven = plan.unplaced.is_empty() && plan.cost <= plan.bound;
    }

    /// What found no place, in words; the same of several is said once.
    fn left_out(&self, stock: &Stock, plan: &SheetPlan) -> Vec<Problem> {
        let mut found: Vec<(&Unplaced, usize)> = Vec::new();
        for gap in &plan.unplaced {
            match found.iter_mut().find(|(have, _)| (&have.what, &have.why) == (&gap.what, &gap.why)) {
                Some(have) => have.1 += 1,
                None => found.push((gap, 1)),
            }
        }
        found.into_iter().map(|(gap, times)| self.no_place(stock, gap, times)).collect()
    }

    /// Something that found no place, as often as it did not.
    fn no_place(&self, stock: &Stock, gap: &Unplaced, times: usize) -> Problem {
        let times = if times > 1 { format!(", {times} times") } else { String::new() };
        let show = |length: i64| shown(self.whole.job, length);
        let (reason, mut help) = match &gap.why {
            Why::TooLarge { by, .. } => self.too_large(gap, *by),
            _ => (gap.reason(show), gap.advice.join("; or ")),
        };
        if gap.run.is_some() && !help.contains("break the run") {
            help += "; or break the run, so that the grain starts afresh at one of its corners";
        }
        let message = format!("`{}`: {reason}{times}; it stands on no layout", stock.name);
        let mut problem = Problem::warning("no-place", message).help(help);
        let row = gap.parts.first().and_then(|part| self.group[*part].row.of(self.whole.list));
        if let Some(row) = row {
            problem = problem.part(row.name.clone());
            if let Some(part) = self.whole.worked.parts.get(row.which[0]) {
                problem = problem.at(part.origin);
            }
        }
        problem
    }

    /// Longer or wider than every board.
    fn too_large(&self, gap: &Unplaced, [long, wide]: [i64; 2]) -> (String, String) {
        let show = |length: i64| shown(self.whole.job, length);
        let (by, help) = match (long, wide) {
            (_, 0) => (
                format!("{} too long", show(long)),
                "name longer boards in `lengths`; or make it of two pieces with a scarf joint",
            ),
            (0, _) => (format!("{} too wide", show(wide)), "name wider boards in `widths`"),
            _ => (
                format!("{} too long and {} too wide", show(long), show(wide)),
                "name longer and wider boards in `lengths` and `widths`",
            ),
        };
        (format!("{} is {by} for the boards to be had, their ends cut off", gap.what), help.into())
    }
}
