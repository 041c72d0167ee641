//! The linear program over all ways to fill a stick, its columns made as they
//! are needed (P. Gilmore and R. Gomory, "A linear programming approach to the
//! cutting-stock problem", Operations Research, 1961 and 1963), and the bound
//! it proves (A. Farley, "A note on bounding a class of linear programming
//! problems", Operations Research, 1990). Columns are priced between the worths that
//! proved most and those of now, else the worths swing from one end to the other (P.
//! Wentges, "Weighted Dantzig-Wolfe decomposition for linear mixed-integer
//! programming", International Transactions in Operational Research, 1997).

use super::knapsack::{Best, Level, Offer, fill_above};
use super::rest::Rest;
use super::shop::{Filled, Shop};

/// A column of the program.
#[derive(Clone, Debug)]
struct Column {
    /// What is not nothing, by row: parts first, then sticks of limited number.
    rows: Vec<(usize, f64)>,
    cost: f64,
    /// The stick it stands for; `None` for slack and stand-ins.
    filled: Option<Filled>,
}

/// The solved program.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    /// Sticks with how often each is used.
    pub(super) used: Vec<(Filled, f64)>,
    /// No whole-number plan costs less than this.
    pub(super) bound: f64,
    /// What each kind of part is worth where most is proven.
    pub(super) worth: Vec<f64>,
    /// Entries looked at.
    pub(super) work: usize,
}

/// Rounds of making columns at the most.
const ROUNDS: usize = 20_000;
/// How a column is looked for: soon, where fractions tell much, else on a coarse and on
/// a fine grid.
const LEVELS: [Level; 3] = [
    Level { cells: 0, looks: 1_000 },
    Level { cells: 1_000, looks: 20_000 },
    Level { cells: 16_384, looks: 200_000 },
];
/// Smaller than this counts as nothing.
const NOTHING: f64 = 1e-9;
/// The least change of a row that a column may leave the basis by: with less the
/// inverse would be divided by noise.
const NO_STEP: f64 = 1e-7;
/// The least worth of a row on its own for which its slack is brought in.
const NO_GAIN: f64 = 1e-7;
/// The least gain, by the price of a stick, for which a column is made: the bound is
/// short by as much.
const NEW_GAIN: f64 = 1e-8;
/// The same for a column that is known already: it has been passed over before.
const POOL_GAIN: f64 = 1e-6;
/// Ratios no further apart than this are tied.
const TIED: f64 = 1e-12;
/// Changes smaller than this are noise.
const NO_CHANGE: f64 = 1e-13;
/// What a part costs that is left to no stick, by its share of the cheapest stick: little
/// more than on a full stick, so that worths are fair from the start.
const FIRST_DEAR: f64 = 1.1;
/// The same by the dearest stick, once nothing else helps: enough that none is left
/// where one can be cut.
const DEAR: f64 = 20.0;
/// By how much the demands of rows differ from whole numbers while the program is
/// solved: tied rows would let it go round in circles.
const APART: f64 = 1e-6;
/// How many such steps there are, and two primes that scatter them over the rows.
const STEPS: usize = 101;
const SCATTER: usize = 7_919;
/// The weight of the worths that proved most when a column is priced.
const STEADY: f64 = 0.7;
/// Entries of a row that are looked at in the time of one step elsewhere.
const AT_ONCE: usize = 4;

/// Fillings met, to be used again.
#[derive(Clone, Debug, Default)]
pub(super) struct Pool {
    all: Vec<(Filled, Vec<(usize, u32)>)>,
}

impl Pool {
    fn add(&mut self, filled: Filled) {
        let parts = parts_on(&filled);
        self.all.push((filled, parts));
    }
}

/// The parts on a stick, by kind and how many.
fn parts_on(filled: &Filled) -> Vec<(usize, u32)> {
    filled.pattern.iter().copied().enumerate().filter(|(_, n)| *n > 0).collect()
}

/// A program in the making: a basis with its inverse, of a row for each kind of part
/// that is still needed and each kind of stick there is a limited number of.
pub(super) struct Program<'a> {
    shop: &'a Shop,
    limited: Vec<usize>,
    kinds: Vec<usize>,
    /// The row of each kind of part still needed.
    row_of: Vec<Option<usize>>,
    need: &'a [u32],
    demand: Vec<f64>,
    basis: Vec<Column>,
    inverse: Vec<Vec<f64>>,
    values: Vec<f64>,
    /// Fillings of the pool that may be used, with their rows.
    open: Vec<(usize, Vec<(usize, f64)>)>,
    /// The worths of rows that proved most.
    steady: Vec<f64>,
    bound: f64,
    work: usize,
}

impl<'a> Program<'a> {
    /// The program for what is still needed from what is still there.
    pub(super) fn new(rest: &'a Rest<'_>, pool: &Pool) -> Self {
        let shop = rest.shop;
        let limited: Vec<usize> = (0..rest.stock.len()).filter(|&at| rest.stock[at].is_some()).collect();
        let kinds: Vec<usize> = (0..rest.need.len()).filter(|&at| rest.need[at] > 0).collect();
        let mut row_of = vec![None; rest.need.len()];
        kinds.iter().enumerate().for_each(|(row, &kind)| row_of[kind] = Some(row));
        let rows = kinds.len() + limited.len();
        let price = |stick: &super::shop::Stick| stick.cost as f64 / stick.room.max(1) as f64;
        // Not of what is free: parts left to no stick must cost something.
        let cheapest = shop.sticks.iter().map(price).filter(|price| *price > 0.0);
        let cheapest = cheapest.fold(f64::INFINITY, f64::min).min(f64::MAX);
        let mut steady: Vec<f64> =
            kinds.iter().map(|&kind| cheapest * shop.kinds[kind].need as f64).collect();
        steady.resize(rows, 0.0);
        let basis = steady.iter().enumerate().map(|(row, share)| Column {
            rows: vec![(row, 1.0)],
            cost: share * FIRST_DEAR,
            filled: None,
        });
        let unit = |row: usize| (0..rows).map(|at| if at == row { 1.0 } else { 0.0 }).collect();
        let mut demand: Vec<f64> = kinds.iter().map(|&kind| f64::from(rest.need[kind])).collect();
        demand.extend(limited.iter().map(|&at| f64::from(rest.stock[at].unwrap_or(0))));
        let apart = |row: usize| if row < kinds.len() { 1 + row * SCATTER % STEPS } else { 0 };
        let mut program = Self {
            shop,
            need: &rest.need,
            row_of,
            basis: basis.collect(),
            inverse: (0..rows).map(unit).collect(),
            values: demand.iter().enumerate().map(|(row, n)| n + APART * apart(row) as f64).collect(),
            limited,
            kinds,
            demand,
            open: Vec::new(),
            steady,
            bound: 0.0,
            work: pool.all.len(),
        };
        for (at, (filled, parts)) in pool.all.iter().enumerate() {
            if rest.stock[filled.stick] != Some(0)
                && let Some(rows) = program.rows(filled.stick, parts)
            {
                program.open.push((at, rows));
            }
        }
        program
    }

    /// The rows of parts on a stick; `None` where there are more than are needed.
    fn rows(&self, stick: usize, parts: &[(usize, u32)]) -> Option<Vec<(usize, f64)>> {
        let mut rows = Vec::with_capacity(parts.len() + 1);
        for &(kind, n) in parts {
            rows.push((self.row_of[kind].filter(|_| n <= self.need[kind])?, f64::from(n)));
        }
        rows.extend(self.limit(stick).map(|row| (row, 1.0)));
        Some(rows)
    }

    /// The row of a stick there is a limited number of.
    fn limit(&self, stick: usize) -> Option<usize> {
        self.limited.iter().position(|&at| at == stick).map(|at| self.kinds.len() + at)
    }

    fn column(&self, filled: &Filled, rows: Vec<(usize, f64)>) -> Column {
        Column { rows, cost: self.shop.sticks[filled.stick].cost as f64, filled: Some(filled.clone()) }
    }

    /// Brings in fillings that were good for more parts, and what parts were worth there.
    pub(super) fn warm(&mut self, before: &Solved) {
        for (filled, _) in &before.used {
            self.bring(filled);
        }
        self.kinds.iter().zip(&mut self.steady).for_each(|(&kind, worth)| *worth = before.worth[kind]);
    }

    /// Brings in a filling, where no more is on it than is needed.
    pub(super) fn bring(&mut self, filled: &Filled) {
        if let Some(rows) = self.rows(filled.stick, &parts_on(filled)) {
            let column = self.column(filled, rows);
            self.enter(column);
        }
    }

    /// What each row is worth now: row by row of the inverse, as it lies in memory.
    fn duals(&mut self) -> Vec<f64> {
        let mut worth = vec![0.0; self.basis.len()];
        for (basic, row) in self.basis.iter().zip(&self.inverse).filter(|(basic, _)| basic.cost != 0.0) {
            worth.iter_mut().zip(row).for_each(|(sum, entry)| *sum += basic.cost * entry);
        }
        self.work += worth.len() * worth.len() / AT_ONCE;
        worth
    }

    /// Brings a column into the basis.
    fn enter(&mut self, column: Column) -> bool {
        let change: Vec<f64> =
            self.inverse.iter().map(|row| column.rows.iter().map(|&(at, n)| row[at] * n).sum()).collect();
        let mut leaves: Option<(f64, usize)> = None;
        for (row, (&step, value)) in change.iter().zip(&self.values).enumerate() {
            if step > NO_STEP {
                let ratio = value.max(0.0) / step;
                if leaves.is_none_or(|(least, at): (f64, usize)| {
                    ratio < least - TIED || (ratio <= least + TIED && step > change[at])
                }) {
                    leaves = Some((ratio, row));
                }
            }
        }
        let Some((ratio, out)) = leaves else { return false };
        let pivot = change[out];
        self.inverse[out].iter_mut().for_each(|entry| *entry /= pivot);
        let lead = self.inverse[out].clone();
        let mut touched = 1;
        for (row, &step) in change.iter().enumerate() {
            if row != out && step.abs() > NO_CHANGE {
                for (entry, &main) in self.inverse[row].iter_mut().zip(&lead) {
                    *entry -= step * main;
                }
                self.values[row] -= step * ratio;
                touched += 1;
            }
        }
        self.work += touched * change.len() / AT_ONCE;
        self.values[out] = ratio;
        self.basis[out] = column;
        true
    }

    /// The stick that gains most by these worths; the bound they prove is kept where it
    /// is more than was proven before.
    fn price(&mut self, duals: &[f64]) -> Option<Filled> {
        let mut best: Option<(f64, Filled)> = None;
        let mut scale = f64::INFINITY;
        for (index, stick) in self.shop.sticks.iter().enumerate() {
            let rent = self.limit(index).map_or(0.0, |row| duals[row].min(0.0));
            let price = stick.cost as f64 - rent;
            let least = NEW_GAIN * (1.0 + price);
            let mut ceiling = 0.0_f64;
            for setback in self.shop.setbacks() {
                let most = best.as_ref().map_or(least, |(most, _)| *most);
                let filling = self.fill(duals, stick.room - setback, setback, price + most);
                self.work += filling.work;
                ceiling = ceiling.max(filling.ceiling);
                let gain = filling.worth - price;
                if gain > most + NOTHING && !filling.taken.is_empty() {
                    let mut pattern = vec![0; self.need.len()];
                    filling.taken.iter().for_each(|&(kind, n)| pattern[kind] = n);
                    best = Some((gain, Filled { stick: index, pattern }));
                }
            }
            if ceiling > NOTHING {
                scale = scale.min(price / ceiling);
            }
        }
        if scale.is_finite() {
            let (parts, rents) = duals.split_at(self.kinds.len());
            let (needs, counts) = self.demand.split_at(self.kinds.len());
            let parts: f64 = parts.iter().zip(needs).map(|(worth, n)| worth.max(0.0) * n).sum();
            let rents: f64 = rents.iter().zip(counts).map(|(rent, n)| rent.min(0.0) * n).sum();
            if parts * scale + rents > self.bound {
                self.bound = parts * scale + rents;
                self.steady = duals.to_vec();
            }
        }
        best.map(|(_, filled)| filled)
    }

    /// The best filling worth more than `above` with parts of at most this set-back.
    fn fill(&self, duals: &[f64], room: i64, setback: i64, above: f64) -> Best {
        let kinds = self.kinds.iter().zip(duals).map(|(&kind, &worth)| (kind, worth));
        let offers = kinds.filter(|(kind, _)| self.shop.kinds[*kind].setback <= setback);
        let offer = |(kind, worth): (usize, f64)| Offer {
            kind,
            need: self.shop.kinds[kind].need,
            worth,
            most: self.need[kind],
        };
        fill_above(offers.map(offer).collect(), room, above, &LEVELS)
    }

    /// Solves the program, until it is asked no further for what is proven by now. New
    /// columns go to the pool.
    pub(super) fn solve(mut self, pool: &mut Pool, enough: &dyn Fn(f64) -> bool) -> Solved {
        for _ in 0..ROUNDS {
            let duals = self.duals();
            if let Some(column) = self.cheap_move(&duals, pool) {
                if self.enter(column) {
                    continue;
                }
                break;
            }
            let between: Vec<f64> = self
                .steady
                .iter()
                .zip(&duals)
                .map(|(old, now)| STEADY * old + (1.0 - STEADY) * now)
                .collect();
            let mut best = self.price(&between).filter(|filled| self.gain(filled, &duals) > POOL_GAIN);
            if best.is_none() && !enough(self.bound) {
                best = self.price(&duals);
            }
            if enough(self.bound) {
                break;
            }
            let Some(filled) = best else {
                if self.make_dear() {
                    continue;
                }
                break;
            };
            let Some(rows) = self.rows(filled.stick, &parts_on(&filled)) else { break };
            self.open.push((pool.all.len(), rows.clone()));
            let column = self.column(&filled, rows);
            pool.add(filled);
            if !self.enter(column) {
                break;
            }
        }
        self.solved()
    }

    /// What stands at the end, for demands of whole numbers again.
    fn solved(self) -> Solved {
        let value = |row: &Vec<f64>| row.iter().zip(&self.demand).map(|(entry, n)| entry * n).sum::<f64>();
        let used = self.basis.iter().zip(&self.inverse).filter_map(|(column, row)| {
            let filled = column.filled.clone()?;
            let value = value(row);
            (value > NOTHING).then_some((filled, value))
        });
        let mut worth = vec![0.0; self.need.len()];
        self.kinds.iter().zip(&self.steady).for_each(|(&kind, &steady)| worth[kind] = steady);
        Solved { used: used.collect(), bound: self.bound, worth, work: self.work }
    }

    /// Makes parts that are left to no stick dear; false where none is left or they are.
    fn make_dear(&mut self) -> bool {
        let sticks = self.shop.sticks.iter().map(|stick| stick.cost as f64);
        let dear = sticks.fold(1.0, f64::max) * DEAR;
        let stands_in = |column: &Column| column.filled.is_none() && column.cost > 0.0;
        let mut left = self.basis.iter().zip(&self.values);
        if !left.any(|(column, value)| stands_in(column) && column.cost < dear && *value > NO_STEP) {
            return false;
        }
        self.basis.iter_mut().filter(|column| stands_in(column)).for_each(|column| column.cost = dear);
        true
    }

    /// What a filling saves by these worths.
    fn gain(&self, filled: &Filled, duals: &[f64]) -> f64 {
        let kinds = self.kinds.iter().zip(duals);
        let worth: f64 = kinds.map(|(&kind, worth)| f64::from(filled.pattern[kind]) * worth).sum();
        let rent = self.limit(filled.stick).map_or(0.0, |row| duals[row]);
        worth + rent - self.shop.sticks[filled.stick].cost as f64
    }

    /// A column that helps and is already known: one of the pool, or surplus
    /// of a part, or an unused limited stick.
    fn cheap_move(&mut self, duals: &[f64], pool: &Pool) -> Option<Column> {
        let parts = self.kinds.len();
        if let Some(row) = (0..parts).find(|&row| duals[row] < -NO_GAIN) {
            return Some(Column { rows: vec![(row, -1.0)], cost: 0.0, filled: None });
        }
        if let Some(row) = (parts..duals.len()).find(|&row| duals[row] > NO_GAIN) {
            return Some(Column { rows: vec![(row, 1.0)], cost: 0.0, filled: None });
        }
        self.work += self.open.len() * AT_ONCE;
        let mut best: Option<(f64, usize)> = None;
        for (at, (which, rows)) in self.open.iter().enumerate() {
            let worth: f64 = rows.iter().map(|&(row, n)| n * duals[row]).sum();
            let gain = worth - self.shop.sticks[pool.all[*which].0.stick].cost as f64;
            if gain > POOL_GAIN && best.is_none_or(|(most, _)| gain > most) {
                best = Some((gain, at));
            }
        }
        let (which, rows) = &self.open[best?.1];
        Some(self.column(&pool.all[*which].0, rows.clone()))
    }
}
