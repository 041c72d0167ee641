//! Aiming at a cost: the sticks that add up to it are chosen first, parts that
//! do not go in stay out, and a few sticks at a time are emptied and filled
//! anew until all parts are in. What is out tells how near a plan is, where
//! plans of one cost all look alike.

use super::search::Rest;
use super::shop::Filled;
use crate::cutting::sheets::seeded::Seeded;

/// Choices of sticks tried at the most.
const CHOICES: usize = 12;
/// Rounds of emptying and filling for all choices together.
pub(super) const ROUNDS: usize = 6_000;

/// Looks for a plan from `start` that costs just `cost`, for so many rounds.
pub(super) fn aim<'a>(
    start: &Rest<'a>,
    cost: i64,
    rounds: usize,
    random: &mut Seeded,
    stop: &dyn Fn() -> bool,
) -> Option<Rest<'a>> {
    let choices = choices(start, cost);
    let rounds = rounds / choices.len().max(1);
    choices.iter().find_map(|choice| fit(start, choice, rounds, random, stop))
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

/// Fills the chosen sticks until all is in or the rounds are over.
fn fit<'a>(
    start: &Rest<'a>,
    choice: &[u32],
    rounds: usize,
    random: &mut Seeded,
    stop: &dyn Fn() -> bool,
) -> Option<Rest<'a>> {
    let mut now = start.clone();
    let mut sticks: Vec<usize> =
        choice.iter().enumerate().flat_map(|(stick, &n)| vec![stick; n as usize]).collect();
    refill(&mut now, &mut sticks, random);
    for round in 0..rounds {
        if now.finished() {
            return Some(now);
        }
        if round % 16 == 0 && stop() {
            return None;
        }
        let mut next = now.clone();
        let mut emptied = sticks.clone();
        for turn in 0..2 + random.below(3) {
            if next.done.is_empty() {
                break;
            }
            // The first is the emptier of two.
            let mut at = random.below(next.done.len());
            if turn == 0 {
                let other = random.below(next.done.len());
                if next.spare(other) > next.spare(at) {
                    at = other;
                }
            }
            let filled = next.done.swap_remove(at);
            next.give_back(&filled);
            emptied.push(filled.stick);
        }
        refill(&mut next, &mut emptied, random);
        if next.left() <= now.left() {
            (now, sticks) = (next, emptied);
        }
    }
    None
}

/// Fills sticks in an order by lot; leaves those that stayed empty in the list.
fn refill(rest: &mut Rest<'_>, sticks: &mut Vec<usize>, random: &mut Seeded) {
    for at in (1..sticks.len()).rev() {
        sticks.swap(at, random.below(at + 1));
    }
    let mut empty = Vec::new();
    for &stick in sticks.iter() {
        let filled: Option<(i64, Filled)> = rest.fill_one(stick, &mut Some(&mut *random));
        if !filled.is_some_and(|(_, filled)| rest.take(&filled)) {
            empty.push(stick);
        }
    }
    *sticks = empty;
}
