//! Dives from the linear program: a stick of it is fixed, the program solved again for
//! the rest with the columns known by then and new ones, and so on to the end, as long as
//! the rest may still come to the cost aimed at. Near the end of a dive one choice may be
//! other than the first (W. Harvey and M. Ginsberg, "Limited discrepancy search", IJCAI,
//! 1995; R. Sadykov, F. Vanderbeck, A. Pessoa, I. Tahiri and E. Uchoa, "Primal heuristics
//! for branch and price", INFORMS Journal on Computing, 2019); each dive after the first
//! begins with a few sticks by lot.

use super::program::{Pool, Program, Solved};
use super::rest::{Rest, keep};
use super::shop::Filled;
use super::sums::{NOISE, Sums};
use crate::cutting::sheets::seeded::Seeded;

/// Choices other than the first in one dive.
const SLIPS: usize = 1;
/// Sticks by lot that a dive begins with, at the most.
const BY_LOT: usize = 3;

/// Dives whose rests are filled quickly on their way: they come to little less later.
const FILLED: usize = 3;

/// Work that a dive counts at the least.
const A_DIVE: u64 = 100_000;

/// What dives aim at, and what they have found.
pub(super) struct Dive<'s, 'a> {
    /// The cost aimed at.
    pub(super) cost: i64,
    /// What sticks can come to.
    pub(super) sums: &'s Sums,
    /// All fillings met.
    pub(super) pool: Pool,
    /// Work left, in entries looked at.
    pub(super) work: u64,
    /// The caller's stop.
    pub(super) stop: &'s dyn Fn() -> bool,
    /// The best plan.
    pub(super) best: Rest<'a>,
}

impl<'a> Dive<'_, 'a> {
    /// Dives from the solved program until a plan costs no more than is aimed at.
    pub(super) fn search(&mut self, start: &Rest<'a>, root: &Solved, random: &mut Seeded) {
        let mut from = (start.clone(), root.clone());
        for dive in 0.. {
            self.below(&from, SLIPS, &[], dive < FILLED);
            if self.over() {
                return;
            }
            from = self.begin(start, root, random);
            // A dive that ends at once is not free, or there would be no end of them.
            self.work = self.work.saturating_sub(A_DIVE);
        }
    }

    /// Whether what is aimed at is found, or the search is at its end.
    fn over(&self) -> bool {
        let found = self.best.finished() && self.best.cost() <= self.cost;
        found || self.work == 0 || (self.stop)()
    }

    /// Fixes a few sticks of the program by lot.
    fn begin(&mut self, start: &Rest<'a>, root: &Solved, random: &mut Seeded) -> (Rest<'a>, Solved) {
        let (mut rest, mut from) = (start.clone(), root.clone());
        for _ in 0..=random.below(BY_LOT) {
            let parts: Vec<&Filled> =
                from.used.iter().filter(|(_, n)| *n < 1.0 - NOISE).map(|(filled, _)| filled).collect();
            let mut child = rest.clone();
            if !parts.get(random.below(parts.len())).is_some_and(|filled| child.take(filled)) {
                continue;
            }
            if let Some(solved) = self.solve(&child, &from) {
                (rest, from) = (child, solved);
            }
        }
        (rest, from)
    }

    /// The program for what is left, where that may still come to the cost aimed at.
    fn solve(&mut self, rest: &Rest<'_>, before: &Solved) -> Option<Solved> {
        let left = self.cost - rest.cost();
        let mut program = Program::new(rest, &self.pool);
        program.warm(before);
        let sums = self.sums;
        let solved = program.solve(&mut self.pool, &|bound| sums.up(bound) > left);
        self.work = self.work.saturating_sub(solved.work as u64);
        (sums.up(solved.bound) <= left).then_some(solved)
    }

    /// Fixes whole sticks, then the one used most and as many others in its stead as
    /// there are slips left, but none of those barred: with them all was looked through.
    fn below(&mut self, from: &(Rest<'a>, Solved), slips: usize, barred: &[Filled], fill: bool) {
        let mut rest = from.0.clone();
        let mut used = from.1.used.clone();
        for (filled, value) in &mut used {
            while *value > 1.0 - NOISE && rest.take(filled) {
                *value -= 1.0;
            }
        }
        if fill || rest.finished() {
            let mut filled = rest.clone();
            filled.fill_all(None);
            keep(&mut self.best, filled);
        }
        used.retain(|(filled, value)| *value > NOISE && !barred.contains(filled));
        used.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| b.0.pattern.cmp(&a.0.pattern)));
        let mut barred = barred.to_vec();
        for (at, (filled, _)) in used.into_iter().take(slips + 1).enumerate() {
            if rest.finished() || self.over() {
                return;
            }
            let mut child = rest.clone();
            if child.take(&filled)
                && let Some(solved) = self.solve(&child, &from.1)
            {
                self.below(&(child, solved), slips - at, &barred, fill && at == 0);
            }
            barred.push(filled);
        }
    }
}
