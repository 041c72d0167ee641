//! From the cutting list to the layouts of each section of solid timber.

use super::board_jobs::cut_on_hand;
use super::laid::{Alike, SheetCutting, StickCutting, StickMember, StickRow, together};
use super::lengths::{Length, one_length, run_length};
use super::sheet_stock::Whole;
use super::tenths::{shown, tenths};
use crate::cutting::grain::runs_along;
use crate::cutting::needs::pieces;
use crate::cutting::sticks::{
    StickJob, StickLayout, StickPart, StickPlan, StickStock, UnplacedStick, cut_sticks,
};
use crate::cutting::tolerance::APART;
use crate::geometry::trig;
use crate::joinery::WorkedPart;
use crate::model::{BOARD_LENGTH, Stock, StockId, StockKind};
use crate::problem::Problem;

/// The least share of itself that the width of a saw cut is counted with as it leans:
/// no cut leans more than the saw tilts.
const LEAST_LEAN: f64 = 0.1;

/// The layouts of every section.
pub(super) fn cut_boards(
    whole: Whole<'_>,
    problems: &mut Vec<Problem>,
) -> (Vec<SheetCutting>, Vec<StickCutting>) {
    let list = whole.list;
    let mut lengths = Vec::new();
    let mut taken = vec![0_usize; list.parts.len()];
    for run in runs(whole) {
        for &row in &run {
            taken[row] += 1;
        }
        lengths.extend(run_length(whole, &run));
    }
    let parts = list.parts.iter().enumerate().map(|(i, row)| (StickRow::Part(i), row, taken[i]));
    let lippings = list.lippings.iter().enumerate().map(|(i, row)| (StickRow::Lipping(i), row, 0));
    for (which, row, taken) in parts.chain(lippings) {
        lengths.extend(one_length(whole, which, row, taken));
    }
    let boards = cut_on_hand(whole.job, &mut lengths);
    problems.extend(lengths.iter_mut().filter_map(|length| length.thin.take()));
    (boards, sections(whole, lengths, problems))
}

/// Grain runs of solid parts that follow one another along their grain, as
/// rows of the list, one for each copy. Parts side by side of one board are
/// left to the maker's eye.
fn runs(whole: Whole<'_>) -> Vec<Vec<usize>> {
    let Whole { job, worked, list } = whole;
    let mut all = Vec::new();
    for run in &job.grain_runs {
        let members: Vec<(usize, &WorkedPart)> =
            run.parts.iter().filter_map(|part| Some((part.0, worked.parts.get(part.0)?))).collect();
        let solid =
            |stock: StockId| matches!(job.stock.get(stock.0).map(|s| &s.kind), Some(StockKind::Board { .. }));
        let Some((_, first)) = members.first() else { continue };
        let one = members.iter().all(|(_, part)| part.stock == first.stock && part.piece == first.piece);
        if !one || !solid(first.stock) || !runs_along(&members) {
            continue;
        }
        let row = |index: &usize| list.parts.iter().position(|row| row.which.contains(index));
        let rows: Vec<usize> = members.iter().filter_map(|(index, _)| row(index)).collect();
        all.extend(std::iter::repeat_n(rows, pieces(job, first.piece.0)));
    }
    all
}

/// Groups lengths by section and lays each section out.
fn sections(whole: Whole<'_>, lengths: Vec<Length>, problems: &mut Vec<Problem>) -> Vec<StickCutting> {
    let mut groups: Vec<Vec<Length>> = Vec::new();
    for length in lengths {
        let alike = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < APART && (a.1 - b.1).abs() < APART;
        match groups.iter_mut().find(|g| g[0].stock == length.stock && alike(g[0].section, length.section)) {
            Some(group) => group.push(length),
            None => groups.push(vec![length]),
        }
    }
    groups.sort_by(|a, b| {
        let key = |g: &[Length]| (g[0].stock, g[0].section);
        let ((s, p), (t, q)) = (key(a), key(b));
        s.cmp(&t).then(q.0.total_cmp(&p.0)).then(q.1.total_cmp(&p.1))
    });
    groups.into_iter().filter_map(|group| cut_section(whole, group, problems)).collect()
}

/// The layouts of one section.
fn cut_section(whole: Whole<'_>, group: Vec<Length>, problems: &mut Vec<Problem>) -> Option<StickCutting> {
    let (stock, (thick, width)) = group.first().map(|first| (first.stock, first.section))?;
    let rules = &whole.job.cutting;
    let declared = whole.job.stock.get(stock.0)?;
    let steepest = group.iter().fold(0.0_f64, |most, length| most.max(length.slope));
    let (_, lean) = trig::sin_cos(steepest.to_radians());
    let may_turn_over = group.iter().all(|length| length.plain);
    let (members, parts): (Vec<StickMember>, Vec<StickPart>) =
        group.into_iter().map(|length| (length.member, length.part)).unzip();
    let task = StickJob {
        parts,
        sticks: board_lengths(declared),
        kerf: tenths(rules.kerf / lean.max(LEAST_LEAN)),
        end_trim: tenths(rules.end_trim),
        may_turn_over,
    };
    let plan = match cut_sticks(&task, &|| false) {
        Ok(plan) => plan,
        Err(bad) => {
            let message = format!("`{}` is not laid out: {}", declared.name, bad.message);
            problems.push(Problem::warning("no-layout", message).at(declared.origin).help(bad.help));
            return None;
        }
    };
    problems.extend(left_out(whole, declared, &members, &plan));
    let layouts: Vec<Alike<StickLayout>> = together(plan.layouts.clone(), |a, b| a == b);
    Some(StickCutting { stock, name: declared.name.clone(), thick, width, job: task, members, plan, layouts })
}

/// The lengths of board to be had.
fn board_lengths(stock: &Stock) -> Vec<StickStock> {
    let StockKind::Board { lengths, longest, .. } = &stock.kind else { return Vec::new() };
    let usual = [longest.unwrap_or(BOARD_LENGTH)];
    let lengths = if lengths.is_empty() { &usual[..] } else { lengths };
    let stick = |length: &f64| StickStock {
        id: format!("{length}"),
        length: tenths(*length),
        count: None,
        // A longer board costs as much more as it is longer.
        cost: tenths(*length),
    };
    lengths.iter().map(stick).collect()
}

/// What found no place, in words.
fn left_out(whole: Whole<'_>, stock: &Stock, members: &[StickMember], plan: &StickPlan) -> Vec<Problem> {
    let problem = |gap: &UnplacedStick| {
        let row = members.get(gap.part).and_then(|member| member.rows.first()?.of(whole.list));
        let times = if gap.quantity > 1 { format!(", {} times", gap.quantity) } else { String::new() };
        let reason = gap.reason(|length| shown(whole.job, length));
        let message = format!("`{}`: {reason}{times}; it stands on no layout", stock.name);
        let mut problem = Problem::warning("no-place", message).help(gap.advice.join("; or "));
        if let Some(row) = row {
            problem = problem.part(row.name.clone());
            if let Some(part) = whole.worked.parts.get(row.which[0]) {
                problem = problem.at(part.origin);
            }
        }
        problem
    };
    plan.unplaced.iter().map(problem).collect()
}
