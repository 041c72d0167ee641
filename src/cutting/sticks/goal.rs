//! Aiming at a cost: the sticks that add up to it are chosen first, parts that
//! do not go in stay out, and a few sticks at a time are emptied and filled
//! anew, each as full as its parts can make it, until all parts are in. Among
//! plans that all leave something out, those with full sticks beside one nearly
//! empty are nearer to the goal than those with a little left on each.

use super::rest::Rest;
use super::shop::{Filled, Shop};
use super::subset::{Subsets, common};
use crate::cutting::sheets::seeded::Seeded;

/// Choices of sticks tried at the most.
const CHOICES: usize = 12;
/// Sticks emptied in one round: this many or one or two more.
const EMPTIED: usize = 2;
/// Rounds after which the other way of judging has its turn.
const LOT: usize = 1_000;
/// How much worse a plan may be, in the mean, judged by the eighth root of what
/// is left over on each stick (best where all must be full) and by the square
/// root (best where some may be left): nearly empty sticks gained.
const WORSE: [f64; 2] = [0.05, 0.02];

/// Difference of two sums of roots that is noise.
const NO_WORSE: f64 = 1e-12;

/// Looks for a plan from `start` that costs just `cost`, with so much
/// work, in words of bits looked at, for all choices of sticks together.
pub(super) fn aim<'a>(
    start: &Rest<'a>,
    cost: i64,
    work: usize,
    random: &mut Seeded,
    stop: &dyn Fn() -> bool,
) -> Option<Rest<'a>> {
    let choices = choices(start, cost);
    let work = work / choices.len().max(1);
    choices.iter().find_map(|choice| fit(start, choice, work, random, stop))
}

/// How many of each stick add up to the cost and have room for all, those with
/// most room first.
fn choices(start: &Rest<'_>, cost: i64) -> Vec<Vec<u32>> {
    let mut found = Vec::new();
    let mut counts = vec![0; start.shop.sticks.len()];
    count_from(start, 0, cost, &mut counts, &mut found);
    let need = start.left();
    let room = |counts: &[u32]| -> i64 {
        counts.iter().zip(&start.shop.sticks).map(|(&n, stick)| i64::from(n) * stick.room).sum()
    };
    found.retain(|counts| room(counts) >= need);
    found.sort_by_key(|counts| std::cmp::Reverse(room(counts)));
    found.truncate(CHOICES);
    found
}

/// Counts of the sticks from `at` on that add up to `cost`.
fn count_from(start: &Rest<'_>, at: usize, cost: i64, counts: &mut Vec<u32>, found: &mut Vec<Vec<u32>>) {
    // More would all be tried too shortly to tell.
    if found.len() >= 64 * CHOICES {
        return;
    }
    let Some(stick) = start.shop.sticks.get(at) else {
        if cost == 0 {
            found.push(counts.clone());
        }
        return;
    };
    let most = u32::try_from(cost / stick.cost.max(1)).unwrap_or(u32::MAX);
    let most = start.stock[at].map_or(most, |count| count.min(most));
    let last = at + 1 == start.shop.sticks.len();
    for n in (if last { most } else { 0 })..=most {
        counts[at] = n;
        count_from(start, at + 1, cost - i64::from(n) * stick.cost, counts, found);
    }
    counts[at] = 0;
}

/// A stick of the choice with its parts.
#[derive(Clone, Debug)]
struct Bin {
    stick: usize,
    /// The kind of each part on it.
    parts: Vec<usize>,
    /// The eighth and the square root of the share left over: their sums over
    /// all sticks are least where what is left over is together.
    slack: [f64; 2],
}

/// Fills the chosen sticks until all is in or the work is spent.
fn fit<'a>(
    start: &Rest<'a>,
    choice: &[u32],
    work: usize,
    random: &mut Seeded,
    stop: &dyn Fn() -> bool,
) -> Option<Rest<'a>> {
    let mut filling = Filling::new(start, choice, work);
    for round in 0.. {
        if filling.out.is_empty() {
            return filling.plan(start);
        }
        if filling.bins.is_empty() || filling.subsets.work == 0 || (round % 64 == 0 && stop()) {
            return None;
        }
        filling.turn(round / LOT % 2, random);
    }
    None
}

/// Sticks being filled, and the parts that are out.
struct Filling<'a> {
    shop: &'a Shop,
    setbacks: Vec<i64>,
    subsets: Subsets,
    bins: Vec<Bin>,
    out: Vec<usize>,
}

impl<'a> Filling<'a> {
    /// The longest first, each on the fullest stick it fits.
    fn new(start: &Rest<'a>, choice: &[u32], work: usize) -> Self {
        let shop = start.shop;
        let unit = shop.kinds.iter().fold(0, |unit, kind| common(unit, kind.need)).max(1);
        let count = choice.iter().enumerate();
        let sticks = count.flat_map(|(stick, &n)| std::iter::repeat_n(stick, n as usize));
        let mut bins: Vec<Bin> =
            sticks.map(|stick| Bin { stick, parts: Vec::new(), slack: [1.0; 2] }).collect();
        let mut left: Vec<(i64, i64)> = bins.iter().map(|bin| (shop.sticks[bin.stick].room, 0)).collect();
        let mut out = Vec::new();
        for (at, kind) in shop.kinds.iter().enumerate() {
            for _ in 0..start.needed(at) {
                let after = |&(room, setback): &(i64, i64)| room - kind.need - kind.setback.max(setback);
                let fits = left.iter_mut().zip(&mut bins).filter(|(room, _)| after(room) >= 0);
                if let Some((room, bin)) = fits.min_by_key(|(room, _)| after(room)) {
                    *room = (room.0 - kind.need, room.1.max(kind.setback));
                    bin.parts.push(at);
                } else {
                    out.push(at);
                }
            }
        }
        let mut filling =
            Self { shop, setbacks: shop.setbacks(), subsets: Subsets::new(unit, work), bins, out };
        for at in 0..filling.bins.len() {
            filling.bins[at].slack = filling.slack(filling.bins[at].stick, &filling.bins[at].parts);
        }
        filling
    }

    /// The eighth and the square root of the share of a stick that is left over.
    fn slack(&self, stick: usize, parts: &[usize]) -> [f64; 2] {
        let room = self.shop.sticks[stick].room.max(1);
        let used: i64 = parts.iter().map(|&part| self.shop.kinds[part].need).sum();
        let root = ((room - used).max(0) as f64 / room as f64).sqrt();
        [root.sqrt().sqrt(), root]
    }

    /// Empties a few sticks and fills them anew; keeps what is better, or not
    /// much worse.
    fn turn(&mut self, by: usize, random: &mut Seeded) {
        let picked = self.pick(random);
        let mut pool = self.out.clone();
        for &at in &picked {
            pool.extend(&self.bins[at].parts);
        }
        let before: f64 = picked.iter().map(|&at| self.bins[at].slack[by]).sum();
        let mut fresh = Vec::new();
        for &at in &picked {
            let stick = self.bins[at].stick;
            let parts = self.fill(&mut pool, stick, random);
            fresh.push((at, Bin { stick, slack: self.slack(stick, &parts), parts }));
        }
        let worse = fresh.iter().map(|(_, bin)| bin.slack[by]).sum::<f64>() - before;
        let chance = (random.below(1 << 20) as f64 + 0.5) / f64::from(1 << 20);
        if pool.is_empty() || worse <= NO_WORSE || chance < libm::exp(-worse / WORSE[by]) {
            for (at, bin) in fresh {
                self.bins[at] = bin;
            }
            self.out = pool;
        }
    }

    /// Sticks to empty: the first the emptiest of four, the others by lot.
    fn pick(&self, random: &mut Seeded) -> Vec<usize> {
        let count = (EMPTIED + random.below(3)).min(self.bins.len());
        let mut picked: Vec<usize> = Vec::with_capacity(count);
        while picked.len() < count {
            let mut at = random.below(self.bins.len());
            if picked.is_empty() {
                for _ in 0..3 {
                    let other = random.below(self.bins.len());
                    if self.bins[other].slack[1] > self.bins[at].slack[1] {
                        at = other;
                    }
                }
            }
            if !picked.contains(&at) {
                picked.push(at);
            }
        }
        picked
    }

    /// Takes out of the pool what fills a stick most.
    fn fill(&mut self, pool: &mut Vec<usize>, stick: usize, random: &mut Seeded) -> Vec<usize> {
        for at in (1..pool.len()).rev() {
            pool.swap(at, random.below(at + 1));
        }
        let kinds = &self.shop.kinds;
        let mut best: (i64, Vec<usize>) = (-1, Vec::new());
        for &setback in &self.setbacks {
            // A limit no part of the pool has is no other choice of parts.
            if !pool.iter().any(|&part| kinds[part].setback == setback) {
                continue;
            }
            let may: Vec<usize> = (0..pool.len()).filter(|&at| kinds[pool[at]].setback <= setback).collect();
            let needs: Vec<i64> = may.iter().map(|&at| kinds[pool[at]].need).collect();
            let (sum, taken) = self.subsets.fullest(&needs, self.shop.sticks[stick].room - setback, random);
            if sum > best.0 {
                best = (sum, taken.into_iter().map(|at| may[at]).collect());
            }
        }
        best.1.sort_unstable();
        best.1.iter().rev().map(|&at| pool.swap_remove(at)).collect()
    }

    /// The plan, once all parts are in.
    fn plan(&self, start: &Rest<'a>) -> Option<Rest<'a>> {
        let mut plan = start.clone();
        for bin in self.bins.iter().filter(|bin| !bin.parts.is_empty()) {
            let mut pattern = vec![0; self.shop.kinds.len()];
            bin.parts.iter().for_each(|&part| pattern[part] += 1);
            plan.take(&Filled { stick: bin.stick, pattern });
        }
        plan.finished().then_some(plan)
    }
}
