//! What sticks can come to in sum: a plan costs no sum that no sticks add up to.

use super::shop::Shop;
use super::subset::common;

/// Sums looked through at the most.
const MOST_SUMS: usize = 1_000_000;

/// What of a whole number of sticks the program leaves as noise.
pub(super) const NOISE: f64 = 1e-6;

/// The sums of costs, in the greatest unit that divides all costs.
#[derive(Clone, Debug)]
pub(super) struct Sums {
    unit: i64,
    /// The least sum no less than each number of units, as far as was looked.
    next: Vec<usize>,
}

impl Sums {
    /// Those up to what a plan at hand costs.
    pub(super) fn new(shop: &Shop, most: i64) -> Self {
        let unit = shop.sticks.iter().fold(0, |unit, stick| common(unit, stick.cost)).max(1);
        let usable = shop.sticks.iter().filter(|stick| stick.count != Some(0) && stick.cost > 0);
        let costs: Vec<usize> =
            usable.map(|stick| usize::try_from(stick.cost / unit).unwrap_or(usize::MAX)).collect();
        let most = usize::try_from(most / unit).unwrap_or(usize::MAX);
        if most > MOST_SUMS {
            return Self { unit, next: Vec::new() };
        }
        let mut sums = vec![true];
        while sums.len() <= most {
            let at = sums.len();
            sums.push(costs.iter().any(|cost| at.checked_sub(*cost).is_some_and(|before| sums[before])));
        }
        let mut next = vec![most; most + 1];
        for at in (0..most).rev() {
            next[at] = if sums[at] { at } else { next[at + 1] };
        }
        Self { unit, next }
    }

    /// The least cost not below a bound that sticks can add up to.
    #[allow(clippy::cast_possible_truncation, reason = "costs stay far below 2^53")]
    pub(super) fn up(&self, bound: f64) -> i64 {
        let units = libm::ceil(bound / self.unit as f64 - NOISE) as i64;
        let sum = usize::try_from(units).ok().and_then(|at| self.next.get(at));
        sum.map_or(units, |&sum| i64::try_from(sum).unwrap_or(units)) * self.unit
    }
}
