//! A plan of sticks in the making: what is still needed, what is still there, and
//! the quick ways to fill sticks with it.

use super::knapsack::{Offer, fill};
use super::shop::{Filled, Pattern, Shop};
use crate::cutting::sheets::seeded::Seeded;

/// Fillings looked at for one stick at the most.
const LOOKS: u32 = 3_000;

/// What is still needed and still there.
#[derive(Clone, Debug)]
pub(super) struct Rest<'a> {
    pub(super) shop: &'a Shop,
    pub(super) need: Pattern,
    pub(super) stock: Vec<Option<u32>>,
    pub(super) done: Vec<Filled>,
}

impl Rest<'_> {
    /// The length of all that is still needed.
    pub(super) fn left(&self) -> i64 {
        self.need.iter().zip(&self.shop.kinds).map(|(&n, kind)| i64::from(n) * kind.need).sum()
    }

    /// How many of a kind are still needed.
    pub(super) fn needed(&self, kind: usize) -> u32 {
        self.need[kind]
    }

    /// Takes a stick and its parts out of the plan again.
    pub(super) fn give_back(&mut self, filled: &Filled) {
        self.need.iter_mut().zip(&filled.pattern).for_each(|(need, n)| *need += n);
        if let Some(count) = &mut self.stock[filled.stick] {
            *count += 1;
        }
    }

    /// Uses one stick, as far as its parts are still needed.
    pub(super) fn take(&mut self, filled: &Filled) -> bool {
        let part = |(&n, &need): (&u32, &u32)| n.min(need);
        let pattern: Pattern = filled.pattern.iter().zip(&self.need).map(part).collect();
        if pattern.iter().all(|&n| n == 0) || self.stock[filled.stick] == Some(0) {
            return false;
        }
        self.need.iter_mut().zip(&pattern).for_each(|(need, n)| *need -= n);
        if let Some(count) = &mut self.stock[filled.stick] {
            *count -= 1;
        }
        self.done.push(Filled { stick: filled.stick, pattern });
        true
    }

    pub(super) fn finished(&self) -> bool {
        self.need.iter().all(|&n| n == 0)
    }

    pub(super) fn cost(&self) -> i64 {
        self.done.iter().map(|filled| self.shop.sticks[filled.stick].cost).sum()
    }

    /// The sum of the squares of the lengths used on each stick.
    pub(super) fn unevenness(&self) -> i64 {
        let used = |filled: &Filled| -> i64 {
            let parts = filled.pattern.iter().zip(&self.shop.kinds);
            parts.map(|(&n, kind)| i64::from(n) * kind.need).sum()
        };
        self.done.iter().map(|filled| used(filled) * used(filled)).sum()
    }

    /// Fills a stick to the most, the longest part needed always on it.
    fn fill_one(&self, stick: usize, random: &mut Option<&mut Seeded>) -> Option<(i64, Filled)> {
        let kinds = &self.shop.kinds;
        let room = self.shop.sticks[stick].room;
        let fits = |&at: &usize| self.need[at] > 0 && Shop::fits(&kinds[at], &self.shop.sticks[stick]);
        let first = (0..kinds.len()).find(fits)?;
        // At random some lengths are liked better, so that sticks differ.
        let favour: Vec<f64> = match random {
            Some(random) => kinds.iter().map(|_| 1.0 + random.below(100) as f64 / 1000.0).collect(),
            None => vec![1.0; kinds.len()],
        };
        let mut best: Option<(i64, Filled)> = None;
        for setback in self.shop.setbacks() {
            if setback < kinds[first].setback {
                continue;
            }
            let offers = (0..kinds.len()).filter(|&at| kinds[at].setback <= setback).map(|at| Offer {
                kind: at,
                need: kinds[at].need,
                worth: kinds[at].need as f64 * favour[at],
                most: self.need[at] - u32::from(at == first),
            });
            let space = room - setback - kinds[first].need;
            if space < 0 {
                continue;
            }
            let filling = fill(offers.collect(), space, LOOKS);
            let mut pattern = vec![0; kinds.len()];
            filling.taken.iter().for_each(|&(kind, n)| pattern[kind] = n);
            pattern[first] += 1;
            let used: i64 = pattern.iter().zip(kinds).map(|(&n, kind)| i64::from(n) * kind.need).sum();
            if best.as_ref().is_none_or(|(most, _)| used > *most) {
                best = Some((used, Filled { stick, pattern }));
            }
        }
        best
    }

    /// Fills stick after stick to the most, the cheapest for what it holds; at
    /// random sometimes another.
    pub(super) fn fill_all(&mut self, mut random: Option<&mut Seeded>) {
        while !self.finished() {
            let mut best: Option<(f64, Filled)> = None;
            let only =
                random.as_mut().and_then(|random| random.chance(40).then(|| random.below(self.stock.len())));
            for stick in 0..self.stock.len() {
                if self.stock[stick] == Some(0) || only.is_some_and(|only| only != stick) {
                    continue;
                }
                if let Some((used, filled)) = self.fill_one(stick, &mut random) {
                    let price = self.shop.sticks[stick].cost as f64 / used as f64;
                    if best.as_ref().is_none_or(|(least, _)| price < *least) {
                        best = Some((price, filled));
                    }
                }
            }
            match best {
                Some((_, filled)) if self.take(&filled) => {}
                _ if only.is_some() => {}
                _ => return,
            }
        }
    }

    /// Longest first, each on the fullest stick it fits, on sticks of one kind.
    pub(super) fn best_fit(&mut self, stick: usize) {
        let room = self.shop.sticks[stick].room;
        let mut open: Vec<(i64, i64, Pattern)> = Vec::new();
        for (at, kind) in self.shop.kinds.iter().enumerate() {
            for _ in 0..self.need[at] {
                let after = |(used, setback, _): &(i64, i64, Pattern)| {
                    room - used - kind.need - kind.setback.max(*setback)
                };
                let fits = open.iter_mut().filter(|bin| after(bin) >= 0);
                if let Some(bin) = fits.min_by_key(|bin| after(bin)) {
                    bin.0 += kind.need;
                    bin.1 = bin.1.max(kind.setback);
                    bin.2[at] += 1;
                } else if kind.need + kind.setback <= room {
                    let mut pattern = vec![0; self.need.len()];
                    pattern[at] = 1;
                    open.push((kind.need, kind.setback, pattern));
                }
            }
        }
        for (_, _, pattern) in open {
            self.take(&Filled { stick, pattern });
        }
        self.fill_all(None);
    }
}

/// Keeps the plan that leaves less out, then the cheaper.
pub(super) fn keep<'a>(best: &mut Rest<'a>, other: Rest<'a>) {
    if (other.left(), other.cost()) < (best.left(), best.cost()) {
        *best = other;
    }
}
