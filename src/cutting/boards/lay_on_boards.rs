//! The plan for the boards of one thickness: the best of all ways tried.

use super::choose::{First, by_strips};
use super::lengths_alone::by_lengths;
use super::pieces::clear_rest;
use crate::cutting::sheets::{BadJob, Effort, SheetJob, SheetLayout, SheetPlan, lay_out};

/// A plan, and what of it need not be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoardPlan {
    /// The boards to cut.
    pub plan: SheetPlan,
    /// The largest rest that comes off a board in one piece: by so much that board
    /// could be shorter or narrower, in squares of 0.1 mm.
    pub rest: i64,
}

/// Lays parts out on boards: the cheapest plan found; of plans that cost the same the
/// one of fewest boards, then the one that leaves the largest rest.
pub fn lay_on_boards(job: &SheetJob, effort: Effort) -> Result<BoardPlan, BadJob> {
    let mut plan = lay_out(job, effort, &|| false)?;
    let mut placed = job.clone();
    for part in plan.unplaced.iter().flat_map(|gap| &gap.parts) {
        placed.parts[*part].quantity -= 1;
    }
    for first in [First::Either, First::Rip, First::Crosscut] {
        if let Some(layouts) = by_strips(&placed, first) {
            better_of(&placed, &mut plan, layouts);
        }
    }
    if let Some((layouts, proven)) = by_lengths(&placed, effort.steps) {
        better_of(&placed, &mut plan, layouts);
        if proven && plan.unplaced.is_empty() {
            plan.bound = plan.cost;
        }
    }
    plan.proven = plan.unplaced.is_empty() && plan.cost <= plan.bound;
    let rest = plan.layouts.iter().map(|one| clear_rest(job, one)).max().unwrap_or(0);
    Ok(BoardPlan { plan, rest })
}

/// Takes other layouts into the plan where they are better.
fn better_of(job: &SheetJob, plan: &mut SheetPlan, mut layouts: Vec<SheetLayout>) {
    let cost =
        |layouts: &[SheetLayout]| -> i64 { layouts.iter().map(|one| job.sheets[one.sheet].cost).sum() };
    let rest = |layouts: &[SheetLayout]| layouts.iter().map(|one| clear_rest(job, one)).max().unwrap_or(0);
    let key = |layouts: &[SheetLayout]| (cost(layouts), layouts.len(), std::cmp::Reverse(rest(layouts)));
    if !layouts.is_empty() && key(&layouts) < key(&plan.layouts) {
        layouts.sort_by_key(|one| (one.sheet, clear_rest(job, one)));
        plan.cost = cost(&layouts);
        plan.layouts = layouts;
    }
}
