//! Parts laid out on sheets: the job checked, the search run, the plan written out.

use super::bounds::cost_bound;
use super::check_job::check;
use super::explain::explain;
use super::model::{BadJob, Effort, SheetJob, SheetPlan};
use super::offcut::enlarge;
use super::search::{Found, Search, Stop, Terms};
use super::shop::{Block, Shop};
use super::write_out::Writer;
use rayon::prelude::*;
use std::sync::atomic::AtomicBool;

/// Lays the parts out on sheets. `stop` is asked now and then and ends the
/// search early; the plan then says so. A part without a place is listed with
/// the reason and advice, never dropped.
pub fn lay_out(job: &SheetJob, effort: Effort, stop: Stop<'_>) -> Result<SheetPlan, BadJob> {
    check(job)?;
    let whole = Shop::new(job);
    // What fits no sheet is set aside, so that the search is about the rest.
    let fits = |block: &Block| whole.kinds.iter().any(|kind| kind.count > 0 && whole.fits(block, kind));
    let (mut shop, mut hopeless) = (whole.clone(), whole.clone());
    shop.blocks.retain(|block| fits(block));
    hopeless.blocks.retain(|block| !fits(block));
    let bound = cost_bound(&shop);
    let done = AtomicBool::new(false);
    let search = |place: u32| {
        let mut search = Search::new(&shop, Terms { seed: effort.seed, place, stop, done: &done });
        search.run(effort, bound);
        search
    };
    let search = if effort.searches > 1 { best_of(effort.searches, search) } else { search(0) };
    let useful = i32::try_from(job.useful_offcut + job.kerf).unwrap_or(i32::MAX);
    let mut found = settled(search, effort.offcut_steps, useful);
    found.panels.sort_by_key(|panel| (panel.kind, panel.waste));
    let mut writer = Writer::new(job, &shop);
    let layouts = found.panels.iter().map(|panel| writer.layout(panel)).collect();
    let mut unplaced = Vec::new();
    for &block in &found.out {
        let (is_run, index) = writer.next_copy(block as usize);
        unplaced.push(explain(job, &shop, &shop.blocks[block as usize], is_run, index));
    }
    let mut aside = Writer::new(job, &hopeless);
    for (block, shape) in hopeless.blocks.iter().enumerate() {
        for _ in 0..shape.count() {
            let (is_run, index) = aside.next_copy(block);
            unplaced.push(explain(job, &whole, shape, is_run, index));
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

/// The cheapest of several searches made side by side, of those alike the first.
fn best_of<'a>(searches: u32, search: impl Fn(u32) -> Search<'a> + Sync) -> Search<'a> {
    let first = || search(0);
    let others = || (1..searches).into_par_iter().map(&search).collect::<Vec<_>>();
    let (first, others) = rayon::join(first, others);
    let is_better = |one: &Search<'_>, best: &Search<'_>| {
        let left = one.best_left.total_cmp(&best.best_left);
        left.then(one.best.cost.cmp(&best.best.cost)).is_lt()
    };
    others.into_iter().fold(first, |best, one| if is_better(&one, &best) { one } else { best })
}

/// One step in so many moves parts about at the same cost, before the largest rest
/// is aimed at: it mends what the search left in passing.
const REARRANGING: u64 = 5;

/// The plan of a search at its end, rearranged at the same cost until its largest
/// rest is as large as the steps allow.
fn settled(mut search: Search<'_>, steps: u64, useful: i32) -> Found {
    search.rearrange(steps / REARRANGING, useful);
    if search.best.out.is_empty() {
        enlarge(&mut search, steps - steps / REARRANGING, useful);
    }
    search.best.steps = search.steps;
    search.best
}
