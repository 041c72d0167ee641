//! Sheet layouts: parts out of sheets with cuts that go right across, at the
//! least cost, then with the largest offcut left.
//!
//! [`lay_out`] takes a [`SheetJob`] and gives a [`SheetPlan`]; [`cut_sequence()`]
//! turns one layout of it into cuts with fence distances. Nothing here knows
//! of furniture, the clock or chance: the same job, [`Effort`] and stop give
//! the same plan.

mod bounds;
mod check_job;
mod cut_sequence;
mod model;
mod offcut;
mod panel;
mod search;
pub(crate) mod seeded;
mod shop;
mod state;
mod write_out;

pub use cut_sequence::{Becomes, Cut, CutKind, CutPanel, CutSequence, Fence, cut_sequence};
pub use model::{
    Axis, BadJob, Effort, GrainRun, Piece, RunPlace, SheetJob, SheetLayout, SheetPart, SheetPlan, SheetStock,
    Unplaced, What,
};

pub(crate) use check_job::mm;
use search::Search;
use shop::Shop;
use write_out::Writer;

/// Lays the parts out on sheets. `stop` is asked now and then and ends the
/// search early; the plan then says so. A part without a place is listed with
/// the reason and advice, never dropped.
pub fn lay_out(job: &SheetJob, effort: Effort, stop: &dyn Fn() -> bool) -> Result<SheetPlan, BadJob> {
    check_job::check(job)?;
    let whole = Shop::new(job);
    // What fits no sheet is set aside, so that the search is about the rest.
    let fits = |block: &shop::Block| whole.kinds.iter().any(|kind| kind.count > 0 && whole.fits(block, kind));
    let (mut shop, mut hopeless) = (whole.clone(), whole.clone());
    shop.blocks.retain(|block| fits(block));
    hopeless.blocks.retain(|block| !fits(block));
    let bound = bounds::cost_bound(&shop);
    let mut search = Search::new(&shop, effort.seed, stop);
    search.run(effort, bound);
    let useful = i32::try_from(job.useful_offcut + job.kerf).unwrap_or(i32::MAX);
    let mut found = search.finish(effort.offcut_steps, useful);
    found.panels.sort_by_key(|panel| (panel.kind, panel.waste));
    let mut writer = Writer::new(job, &shop);
    let layouts = found.panels.iter().map(|panel| writer.layout(panel)).collect();
    let mut unplaced = Vec::new();
    for &block in &found.out {
        let (is_run, index) = writer.next_copy(block as usize);
        unplaced.push(check_job::explain(job, &shop, &shop.blocks[block as usize], is_run, index));
    }
    let mut aside = Writer::new(job, &hopeless);
    for (block, shape) in hopeless.blocks.iter().enumerate() {
        for _ in 0..shape.count() {
            let (is_run, index) = aside.next_copy(block);
            unplaced.push(check_job::explain(job, &whole, shape, is_run, index));
        }
    }
    let free = job.sheets.iter().all(|sheet| sheet.cost == 0);
    Ok(SheetPlan {
        layouts,
        cost: if free { 0 } else { found.cost },
        bound: if free { 0 } else { bound },
        proven: found.out.is_empty() && found.cost <= bound,
        unplaced,
        steps: found.steps,
        stopped: found.stopped,
    })
}
