//! Whole-number plans: quick fillings first, then dives from the linear
//! program (whole sticks fixed, the program solved again for the rest), until
//! one costs what the bound says or the dives are spent.

use super::goal::aim;
use super::program::Program;
use super::rest::Rest;
use super::shop::{Filled, Pattern, Shop};
use super::subset::common;
use crate::cutting::sheets::seeded::Seeded;

/// Dives at the most.
const DIVES: usize = 3;
/// Rounds of repair after each dive.
const REPAIRS: usize = 100;

/// Work for aiming at the simple bound before the program is solved, and at the
/// program's bound after it, in words of bits.
const FIRST: usize = 60_000_000;
const WORK: usize = 120_000_000;

/// Sums of costs looked through at the most for the least that is no less than
/// a bound.
const MOST_SUMS: usize = 1_000_000;

/// What of a whole number of sticks the program leaves as noise.
const NOISE: f64 = 1e-6;

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

/// Finds sticks for all that fits.
pub(super) fn search(shop: &Shop, stop: &dyn Fn() -> bool) -> Found {
    let stock: Vec<Option<u32>> = shop.sticks.iter().map(|stick| stick.count).collect();
    let start = Rest { shop, need: shop.demand(), stock, done: Vec::new() };
    let mut best = start.clone();
    best.fill_all(None);
    for stick in 0..shop.sticks.len() {
        let mut other = start.clone();
        other.best_fit(stick);
        keep(&mut best, other);
    }
    let mut bound = simple_bound(shop);
    let mut random = Seeded::new(1);
    // Where the quick plans are a stick off, aiming is quicker than the program.
    if best.cost() > bound
        && let Some(found) = aim(&start, bound, FIRST, &mut random, stop)
    {
        keep(&mut best, found);
    }
    if best.cost() > bound && !stop() {
        let demand = shop.demand();
        let program = Program::new(shop, &demand, &start.stock, Vec::new());
        let (solved, pool) = program.solve(&demand);
        bound = bound.max(rounded_up(shop, solved.bound));
        let dives = Dives { start: &start, used: &solved.used, pool: &pool, bound, stop };
        dives.all(&mut best, &mut random);
    }
    let cost = best.cost();
    Found { sticks: best.done, left: best.need, cost, bound }
}

/// Keeps the plan that leaves less out, then the cheaper.
fn keep<'a>(best: &mut Rest<'a>, other: Rest<'a>) {
    if (other.left(), other.cost()) < (best.left(), best.cost()) {
        *best = other;
    }
}

/// Dives from the solved program.
struct Dives<'s, 'a> {
    /// Nothing cut yet.
    start: &'s Rest<'a>,
    /// Sticks of the solved program with how often each is used.
    used: &'s [(Filled, f64)],
    /// All fillings the program has met.
    pool: &'s [Filled],
    /// No plan costs less.
    bound: i64,
    /// The caller's stop.
    stop: &'s dyn Fn() -> bool,
}

impl<'a> Dives<'_, 'a> {
    /// Dives again and again, later ones at random.
    fn all(&self, best: &mut Rest<'a>, random: &mut Seeded) {
        let &Self { start, bound, stop, .. } = self;
        if best.cost() > bound
            && let Some(found) = aim(start, bound, WORK, random, stop)
        {
            keep(best, found);
        }
        for dive in 0..DIVES {
            if (best.finished() && best.cost() <= bound) || stop() {
                return;
            }
            let other = self.once(dive, random);
            keep(best, other);
            repair(best, bound, random, stop);
            if best.cost() > bound
                && let Some(found) = aim(start, bound, WORK / 5, random, stop)
            {
                keep(best, found);
            }
        }
    }

    /// Fixes whole sticks, solves for the rest, and so on to the end.
    fn once(&self, dive: usize, random: &mut Seeded) -> Rest<'a> {
        let mut rest = self.start.clone();
        let mut used = self.used.to_vec();
        let mut pool = self.pool.to_vec();
        let mut best: Option<Rest<'a>> = None;
        loop {
            let mut fixed = false;
            for (filled, value) in &used {
                let mut whole = value + NOISE;
                while whole >= 1.0 && rest.take(filled) {
                    whole -= 1.0;
                    fixed = true;
                }
            }
            if !fixed {
                used.sort_by(|a, b| b.1.total_cmp(&a.1));
                let pick = if dive == 0 { 0 } else { random.below(used.len().min(4)) };
                fixed = used.get(pick).is_some_and(|(filled, _)| rest.take(filled));
            }
            let mut completed = rest.clone();
            completed.fill_all(None);
            match &mut best {
                Some(best) => keep(best, completed),
                None => best = Some(completed),
            }
            if !fixed || rest.finished() || (self.stop)() {
                return best.unwrap_or(rest);
            }
            let program = Program::new(rest.shop, &rest.need, &rest.stock, std::mem::take(&mut pool));
            let solved = program.solve(&rest.need);
            used = solved.0.used;
            pool = solved.1;
        }
    }
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
fn simple_bound(shop: &Shop) -> i64 {
    let least = shop.setbacks().first().copied().unwrap_or(0);
    let total: i64 =
        shop.kinds.iter().map(|kind| kind.need * i64::try_from(kind.copies.len()).unwrap_or(0)).sum();
    let price = |stick: &super::shop::Stick| stick.cost as f64 / (stick.room - least).max(1) as f64;
    let usable = shop.sticks.iter().filter(|stick| stick.count != Some(0) && stick.room > least);
    let cheapest = usable.map(price).fold(f64::INFINITY, f64::min);
    if cheapest.is_finite() { rounded_up(shop, total as f64 * cheapest) } else { 0 }
}

/// The least cost not below a bound that sticks can add up to.
#[allow(clippy::cast_possible_truncation, reason = "costs stay far below 2^53")]
fn rounded_up(shop: &Shop, bound: f64) -> i64 {
    let unit = shop.sticks.iter().fold(0, |unit, stick| common(unit, stick.cost)).max(1);
    let units = libm::ceil(bound / unit as f64 - NOISE) as i64;
    let usable = shop.sticks.iter().filter(|stick| stick.count != Some(0) && stick.cost > 0);
    let costs: Vec<usize> =
        usable.map(|stick| usize::try_from(stick.cost / unit).unwrap_or(usize::MAX)).collect();
    let (Some(dearest), Ok(from)) = (costs.iter().max(), usize::try_from(units)) else {
        return units * unit;
    };
    if from.saturating_add(*dearest) > MOST_SUMS {
        return units * unit;
    }
    let mut sums = vec![true];
    while sums.len() <= from + dearest {
        let at = sums.len();
        sums.push(costs.iter().any(|cost| at.checked_sub(*cost).is_some_and(|before| sums[before])));
    }
    let least = (from..sums.len()).find(|at| sums[*at]).unwrap_or(from);
    i64::try_from(least).unwrap_or(units) * unit
}
