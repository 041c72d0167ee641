//! Goal-driven ruin and recreate: aim at plans that cost less than the best,
//! with parts left out at first, and work until all are in again. After
//! S. Gardeyn and T. Wauters, "A goal-driven ruin and recreate heuristic for
//! the 2D variable-sized bin packing problem with guillotine constraints",
//! European Journal of Operational Research, 2022; acceptance by E. Burke and
//! Y. Bykov's late acceptance (EJOR 2017).

use super::model::Effort;
use super::panel::{Kind, Panel};
use super::seeded::Seeded;
use super::shop::Shop;
use super::state::{Rule, State};
use std::sync::atomic::{AtomicBool, Ordering};

/// Plans remembered by the acceptance rule, of the first search and of each second: with
/// more a search goes on longer before it settles, which pays where it has the steps, so
/// that the two find different plans.
const HISTORY: [usize; 2] = [120, 200];
/// Steps without progress before some sheets are emptied.
const PATIENCE: u64 = 3_000;
/// How many plans are built from nothing before the search.
const STARTS: usize = 20;
/// With more blocks than this the quick building rule is used alone.
const MANY: usize = 400;
/// Chance in a hundred that a good sheet is overlooked.
const BLINK: usize = 5;

/// Share of the value of its rests that a plan may lose in one step as parts are moved
/// about: without it the first plan could not be left.
const NO_WORSE: f64 = 0.9995;

/// What the search found.
#[derive(Clone, Debug)]
pub(super) struct Found {
    /// The open sheets.
    pub(super) panels: Vec<Panel>,
    /// Blocks for which there is no place.
    pub(super) out: Vec<u32>,
    /// What the sheets cost.
    pub(super) cost: i64,
    /// Steps taken.
    pub(super) steps: u64,
    /// Whether the caller stopped it.
    pub(super) stopped: bool,
}

/// How good a plan in the making is: weight left out, then value of the rest.
type Score = (f64, f64);

fn better(a: Score, b: Score) -> bool {
    a.0 < b.0 || (a.0 <= b.0 && a.1 > b.1)
}

fn at_least_as_good(a: Score, b: Score) -> bool {
    !better(b, a)
}

/// Asked now and then whether a search is to end early.
pub type Stop<'a> = &'a (dyn Fn() -> bool + Sync);

/// What a search goes by.
#[derive(Clone, Copy)]
pub(super) struct Terms<'a> {
    /// Seed of the generator.
    pub(super) seed: u64,
    /// Which of several searches it is, from 0.
    pub(super) place: u32,
    /// The caller's stop.
    pub(super) stop: Stop<'a>,
    /// Set once the first of several searches has a plan that costs no more than the
    /// bound: the others are then in vain.
    pub(super) done: &'a AtomicBool,
}

impl Terms<'_> {
    /// Whether the search is to end. Only the first search ends others, with a plan that
    /// would be taken before theirs anyhow: so what is found hangs on no clock.
    fn is_over(&self) -> bool {
        (self.stop)() || (self.place > 0 && self.done.load(Ordering::Relaxed))
    }
}

/// Builds plans from nothing and keeps the best.
fn construct<'a>(shop: &'a Shop, random: &mut Seeded, stop: Stop<'_>) -> State<'a> {
    let total: usize = shop.blocks.iter().map(super::shop::Block::count).sum();
    let mut best: Option<(f64, i64, State<'a>)> = None;
    for start in 0..STARTS {
        let mut state = State::new(shop);
        let rule = match start % 4 {
            _ if total > MANY && start == 0 => Rule::Area,
            0 => Rule::FewestPlaces,
            1 => Rule::Area,
            2 => Rule::LongSide,
            _ => Rule::ShortSide,
        };
        let rule = if total > MANY && rule == Rule::FewestPlaces { Rule::Area } else { rule };
        state.begin();
        state.put_back(rule, if start < 4 { 0 } else { BLINK }, true, random);
        drop_empty(&mut state);
        let (left, cost) = (state.left_out(), state.cost);
        let wins = best
            .as_ref()
            .is_none_or(|(least, cheapest, _)| left < *least || (left <= *least && cost < *cheapest));
        if wins {
            best = Some((left, cost, state));
        }
        if stop() || (total > 4 * MANY && start >= 3) {
            break;
        }
    }
    best.map_or_else(|| State::new(shop), |(_, _, state)| state)
}

/// Takes sheets on which nothing lies out of the plan.
fn drop_empty(state: &mut State<'_>) {
    for index in 0..state.panels.len() {
        if state.panels[index].open && state.panels[index].is_empty() {
            state.close(index);
        }
    }
}

/// The search.
pub(super) struct Search<'a> {
    /// The plan in the making.
    pub(super) state: State<'a>,
    /// The generator.
    pub(super) random: Seeded,
    /// What it goes by.
    terms: Terms<'a>,
    /// Steps taken.
    pub(super) steps: u64,
    /// Whether the caller stopped it.
    pub(super) stopped: bool,
    /// The best plan with nothing left out, or with the least left out.
    pub(super) best: Found,
    /// The weight that plan leaves out.
    pub(super) best_left: f64,
    several: bool,
}

impl<'a> Search<'a> {
    /// Builds the first plan.
    pub(super) fn new(shop: &'a Shop, terms: Terms<'a>) -> Self {
        let mut random = Seeded::new(terms.seed.wrapping_add(u64::from(terms.place)));
        let state = construct(shop, &mut random, terms.stop);
        let best = Found { panels: Vec::new(), out: Vec::new(), cost: i64::MAX, steps: 0, stopped: false };
        let mut search = Self {
            state,
            random,
            terms,
            steps: 0,
            stopped: false,
            best,
            best_left: f64::INFINITY,
            several: shop.kinds.len() > 1,
        };
        search.keep();
        search
    }

    /// A search that goes on from another plan, as far as this one has come.
    pub(super) fn with<'b>(&self, state: State<'b>) -> Search<'b>
    where
        'a: 'b,
    {
        let best = Found { panels: Vec::new(), out: Vec::new(), cost: i64::MAX, steps: 0, stopped: false };
        Search {
            state,
            random: self.random.clone(),
            terms: self.terms,
            steps: self.steps,
            stopped: self.stopped,
            best,
            best_left: f64::INFINITY,
            several: self.several,
        }
    }

    /// Keeps the present plan as the best.
    pub(super) fn keep(&mut self) {
        drop_empty(&mut self.state);
        let open = self.state.panels.iter().filter(|panel| panel.open);
        self.best.panels = open.cloned().collect();
        self.best.out.clone_from(&self.state.out);
        self.best.cost = self.state.cost;
        self.best_left = self.state.left_out();
    }

    /// Lowers the cost goal by goal until the bound, the steps or the caller
    /// end it.
    pub(super) fn run(&mut self, effort: Effort, bound: i64) {
        while self.steps < effort.steps && !self.stopped {
            let all_in = self.best.out.is_empty();
            if all_in && self.best.cost <= bound {
                break;
            }
            if all_in {
                self.aim_below(self.best.cost - 1);
            }
            if !self.reach(effort.steps) {
                break;
            }
            self.keep();
        }
        if self.terms.place == 0 && self.best.out.is_empty() && self.best.cost <= bound {
            self.terms.done.store(true, Ordering::Relaxed);
        }
        self.best.steps = self.steps;
        self.best.stopped = self.stopped;
    }

    /// Closes the poorest sheets until the plan costs no more than the limit.
    fn aim_below(&mut self, limit: i64) {
        self.state.limit = limit;
        while self.state.cost > limit {
            let poor = |panel: &Panel| {
                let kind = &self.state.shop.kinds[panel.kind];
                (kind.area - panel.waste) as f64 / kind.cost.max(1) as f64
            };
            let open = (0..self.state.panels.len()).filter(|&index| self.state.panels[index].open);
            let poorest =
                open.min_by(|&a, &b| poor(&self.state.panels[a]).total_cmp(&poor(&self.state.panels[b])));
            let Some(index) = poorest else { return };
            self.state.begin();
            self.state.close(index);
        }
    }

    /// Works until nothing is left out (or less than ever, when it cannot all
    /// be in); false when the steps are spent.
    pub(super) fn reach(&mut self, last_step: u64) -> bool {
        let target = if self.best.out.is_empty() { 0.0 } else { self.best_left };
        let mut now = self.score();
        let mut history = vec![now; HISTORY[self.terms.place as usize % HISTORY.len()]];
        let mut least = now;
        let mut progress = self.steps;
        while self.steps < last_step {
            if self.steps.is_multiple_of(64) && self.terms.is_over() {
                self.stopped = true;
                return false;
            }
            self.steps += 1;
            self.state.begin();
            self.ruin();
            self.recreate();
            let next = self.score();
            if next.0 <= 0.0 || next.0 < target {
                return true;
            }
            let turn = usize::try_from(self.steps % history.len() as u64).unwrap_or(0);
            if at_least_as_good(next, now) || at_least_as_good(next, history[turn]) {
                now = next;
            } else {
                self.state.undo();
            }
            if better(now, history[turn]) {
                history[turn] = now;
            }
            if better(now, least) {
                if now.0 < least.0 {
                    progress = self.steps;
                }
                least = now;
            }
            if self.steps - progress > PATIENCE {
                self.upset();
                now = self.score();
                if now.0 <= 0.0 {
                    return true;
                }
                history.fill(now);
                least = now;
                progress = self.steps;
            }
        }
        false
    }

    fn score(&self) -> Score {
        (self.state.left_out(), self.state.value())
    }

    /// Takes out one to six nodes, mostly from two wasteful sheets.
    fn ruin(&mut self) {
        let open: Vec<usize> =
            (0..self.state.panels.len()).filter(|&index| self.state.panels[index].open).collect();
        if open.is_empty() {
            return;
        }
        if self.several && self.random.chance(8) {
            let index = self.wasteful(&open);
            self.state.close(index);
            return;
        }
        let near = self.random.chance(80);
        let pair = [self.wasteful(&open), self.wasteful(&open)];
        let count = 1 + self.random.below(6);
        for turn in 0..count {
            let index = if near { pair[turn % 2] } else { open[self.random.below(open.len())] };
            self.take_one(index);
        }
    }

    /// The more wasteful of two sheets drawn at random.
    fn wasteful(&mut self, open: &[usize]) -> usize {
        let a = open[self.random.below(open.len())];
        let b = open[self.random.below(open.len())];
        if self.state.panels[a].waste >= self.state.panels[b].waste { a } else { b }
    }

    /// Takes one node of the sheet, drawn at random, with all under it.
    fn take_one(&mut self, index: usize) {
        let panel = &self.state.panels[index];
        if !panel.open || panel.is_empty() {
            return;
        }
        for _ in 0..8 {
            let at = self.random.below(panel.nodes.len());
            let whole = at == 0 && panel.nodes.len() > 1;
            if !whole && panel.nodes[at].kind != Kind::Free {
                let link = u32::try_from(at).unwrap_or(0);
                self.state.take(index, link);
                return;
            }
        }
    }

    /// Puts back what finds a place.
    fn recreate(&mut self) {
        let rule = match self.random.below(6) {
            0..3 => Rule::FewestPlaces,
            3 => Rule::Area,
            4 => Rule::LongSide,
            _ => Rule::ShortSide,
        };
        self.state.put_back(rule, BLINK, self.several, &mut self.random);
        if self.several {
            drop_empty(&mut self.state);
        }
    }

    /// Empties one to four sheets, to get out of a dead end.
    fn upset(&mut self) {
        self.state.begin();
        let count = 1 + self.random.below(4);
        for _ in 0..count {
            let index = self.random.below(self.state.panels.len());
            if !self.state.panels[index].open {
                continue;
            }
            if self.several {
                self.state.close(index);
            } else {
                self.state.clear(index);
            }
        }
        self.recreate();
    }

    /// One step as the search takes it, for tests that look at every plan.
    #[cfg(test)]
    pub(super) fn step(&mut self, upset: bool) {
        if upset {
            self.upset();
        } else {
            self.state.begin();
            self.ruin();
            self.recreate();
        }
    }

    /// Moves parts about as long as the largest rest does not get smaller.
    pub(super) fn rearrange(&mut self, steps: u64, useful: i32) {
        self.restore();
        let mut now = self.offcut(useful);
        let first = self.steps;
        while self.best.out.is_empty() && self.steps < first + steps {
            if self.stopped || (self.steps.is_multiple_of(64) && self.terms.is_over()) {
                break;
            }
            self.steps += 1;
            self.state.begin();
            self.ruin_for_offcut();
            let rule = if self.random.chance(50) { Rule::FewestPlaces } else { Rule::Area };
            self.state.put_back(rule, BLINK, false, &mut self.random);
            let next = self.offcut(useful);
            if self.state.out.is_empty() && better((0.0, next.0), (0.0, now.0))
                || (self.state.out.is_empty() && next.0 >= now.0 && next.1 >= now.1 * NO_WORSE)
            {
                now = next;
            } else {
                self.state.undo();
            }
        }
        if self.best.out.is_empty() && self.state.out.is_empty() {
            self.keep();
        }
    }

    /// Takes nodes from the sheet with the largest rest and from another.
    fn ruin_for_offcut(&mut self) {
        let open: Vec<usize> =
            (0..self.state.panels.len()).filter(|&index| self.state.panels[index].open).collect();
        if open.is_empty() {
            return;
        }
        let most = self.wasteful(&open);
        let other = open[self.random.below(open.len())];
        for turn in 0..=self.random.below(6) {
            self.take_one(if turn % 2 == 0 { most } else { other });
        }
    }

    /// Goes back to the best plan.
    fn restore(&mut self) {
        let mut state = State::new(self.state.shop);
        state.adopt(&self.best.panels, &self.best.out);
        self.state = state;
    }

    /// The largest useful rest, and the value of all rests.
    fn offcut(&self, useful: i32) -> (f64, f64) {
        let open = self.state.panels.iter().filter(|panel| panel.open);
        let largest = open.map(|panel| panel.largest_rest(useful)).max().unwrap_or(0);
        (largest as f64, self.state.value())
    }
}
