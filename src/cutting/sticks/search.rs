//! Whole-number plans: quick fillings first, then plans aimed at the simple bound, then
//! dives from the linear program, until one costs what the bound says or the steps are
//! spent.

use super::dive::Dive;
use super::goal::aim;
use super::program::{Pool, Program};
use super::rest::{Rest, keep};
use super::shop::{Filled, Pattern, Shop};
use super::sums::Sums;
use crate::cutting::sheets::seeded::Seeded;

/// Work for aiming at the simple bound before the program is solved, and at the
/// program's bound after it, in words of bits.
const FIRST: usize = 60_000_000;
const WORK: usize = 120_000_000;

/// Work for dives in one step of the effort: a few thousand steps take as long as the rest.
const STEP: u64 = 50_000;

/// Rounds of repair at the end.
const REPAIRS: usize = 100;

/// A plan in the making.
#[derive(Clone, Debug)]
pub(super) struct Found {
    /// The sticks used.
    pub(super) sticks: Vec<Filled>,
    /// What has no place.
    pub(super) left: Pattern,
    /// What the sticks cost.
    pub(super) cost: i64,
    /// No plan costs less.
    pub(super) bound: i64,
}

/// Finds sticks for all that fits, with so many steps of dives.
pub(super) fn search(shop: &Shop, steps: u64, stop: &dyn Fn() -> bool) -> Found {
    let stock: Vec<Option<u32>> = shop.sticks.iter().map(|stick| stick.count).collect();
    let start = Rest { shop, need: shop.demand(), stock, done: Vec::new() };
    let mut best = start.clone();
    best.fill_all(None);
    for stick in 0..shop.sticks.len() {
        let mut other = start.clone();
        other.best_fit(stick);
        keep(&mut best, other);
    }
    let sums = Sums::new(shop, best.cost());
    let mut bound = sums.up(simple_bound(shop));
    let mut random = Seeded::new(1);
    // Where the quick plans are a stick off, aiming is quicker than the program.
    if best.cost() > bound
        && let Some(found) = aim(&start, bound, FIRST, &mut random, stop)
    {
        keep(&mut best, found);
    }
    if (best.cost() > bound || !best.finished()) && !stop() {
        let mut pool = Pool::default();
        let mut program = Program::new(&start, &pool);
        best.done.iter().for_each(|filled| program.bring(filled));
        let root = program.solve(&mut pool, &|_| stop());
        bound = bound.max(sums.up(root.bound));
        if best.cost() > bound
            && let Some(found) = aim(&start, bound, WORK, &mut random, stop)
        {
            keep(&mut best, found);
        }
        if best.cost() > bound || !best.finished() {
            let work = steps.saturating_mul(STEP);
            let mut dive = Dive { cost: bound, sums: &sums, pool, work, stop, best };
            dive.search(&start, &root, &mut random);
            best = dive.best;
            repair(&mut best, bound, &mut random, stop);
        }
    }
    let cost = best.cost();
    Found { sticks: best.done, left: best.need, cost, bound }
}

/// Takes a few sticks apart and fills them anew in another order.
fn repair(best: &mut Rest<'_>, bound: i64, random: &mut Seeded, stop: &dyn Fn() -> bool) {
    for round in 0..REPAIRS {
        if best.cost() <= bound || best.done.is_empty() || (round % 16 == 0 && stop()) {
            return;
        }
        let mut other = best.clone();
        for _ in 0..2 + random.below(4) {
            if other.done.is_empty() {
                break;
            }
            let filled = other.done.swap_remove(random.below(other.done.len()));
            other.give_back(&filled);
        }
        other.fill_all(Some(&mut *random));
        // Among plans of one cost, a full stick beside an emptier one is nearer
        // to doing without the emptier one than two half full.
        if (!other.finished(), other.cost(), -other.unevenness())
            <= (!best.finished(), best.cost(), -best.unevenness())
        {
            *best = other;
        }
    }
}

/// The bound of plain length at the cheapest price per length.
fn simple_bound(shop: &Shop) -> f64 {
    let least = shop.setbacks().first().copied().unwrap_or(0);
    let total: i64 =
        shop.kinds.iter().map(|kind| kind.need * i64::try_from(kind.copies.len()).unwrap_or(0)).sum();
    let price = |stick: &super::shop::Stick| stick.cost as f64 / (stick.room - least).max(1) as f64;
    let usable = shop.sticks.iter().filter(|stick| stick.count != Some(0) && stick.room > least);
    let cheapest = usable.map(price).fold(f64::INFINITY, f64::min);
    if cheapest.is_finite() { total as f64 * cheapest } else { 0.0 }
}
