//! The linear program over all ways to fill a stick, its columns made as they
//! are needed (P. Gilmore and R. Gomory, "A linear programming approach to the
//! cutting-stock problem", Operations Research, 1961 and 1963), and the bound
//! it proves (A. Farley, "A note on bounding a class of linear programming
//! problems", Operations Research, 1990).

use super::knapsack::{Best, Offer, fill};
use super::shop::{Filled, Pattern, Shop};

/// A column of the program.
#[derive(Clone, Debug)]
struct Column {
    /// Entries by row: parts first, then sticks of limited number.
    rows: Vec<f64>,
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
}

/// Rounds of making columns at the most.
const ROUNDS: usize = 3_000;
/// Fillings looked at for one column at the most.
const LOOKS: u32 = 200_000;
/// Smaller than this counts as nothing.
const NOTHING: f64 = 1e-9;
/// The least change of a row that a column may leave the basis by: with less the
/// inverse would be divided by noise.
const NO_STEP: f64 = 1e-7;
/// The least gain, by the price of a stick, for which a column is brought in.
const NO_GAIN: f64 = 1e-7;
/// The same for a column that is known already: it has been passed over before.
const POOL_GAIN: f64 = 1e-6;
/// Ratios no further apart than this are tied.
const TIED: f64 = 1e-12;
/// How many times the dearest stick a part costs that is left to no stick: enough that
/// none is left where one can be cut.
const DEAR: f64 = 20.0;

/// A program in the making: a basis with its inverse.
pub(super) struct Program<'a> {
    shop: &'a Shop,
    limited: Vec<usize>,
    demand: Vec<f64>,
    basis: Vec<Column>,
    inverse: Vec<Vec<f64>>,
    values: Vec<f64>,
    /// All columns ever made, for the next dive.
    pool: Vec<Filled>,
    /// What parts lie on each of them, by kind and how many.
    parts: Vec<Vec<(usize, u32)>>,
}

/// The parts on a stick, by kind and how many.
fn parts_on(filled: &Filled) -> Vec<(usize, u32)> {
    filled.pattern.iter().copied().enumerate().filter(|(_, n)| *n > 0).collect()
}

impl<'a> Program<'a> {
    /// The program for what is still needed from what is still there.
    pub(super) fn new(shop: &'a Shop, demand: &Pattern, stock: &[Option<u32>], pool: Vec<Filled>) -> Self {
        let limited: Vec<usize> = (0..stock.len()).filter(|&at| stock[at].is_some()).collect();
        let rows = demand.len() + limited.len();
        let dear: f64 = shop.sticks.iter().map(|stick| stick.cost as f64).fold(1.0, f64::max) * DEAR;
        let unit = |row: usize, cost: f64| {
            let mut rows = vec![0.0; rows];
            rows[row] = 1.0;
            Column { rows, cost, filled: None }
        };
        let basis = (0..rows).map(|row| unit(row, if row < demand.len() { dear } else { 0.0 })).collect();
        let inverse = (0..rows).map(|row| unit(row, 0.0).rows).collect();
        let mut values: Vec<f64> = demand.iter().map(|&n| f64::from(n)).collect();
        values.extend(limited.iter().map(|&at| f64::from(stock[at].unwrap_or(0))));
        let parts = pool.iter().map(parts_on).collect();
        Self { shop, limited, demand: values.clone(), basis, inverse, values, pool, parts }
    }

    /// What each row is worth now: row by row of the inverse, as it lies in memory.
    fn duals(&self) -> Vec<f64> {
        let mut worth = vec![0.0; self.basis.len()];
        for (basic, row) in self.basis.iter().zip(&self.inverse).filter(|(basic, _)| basic.cost != 0.0) {
            worth.iter_mut().zip(row).for_each(|(sum, entry)| *sum += basic.cost * entry);
        }
        worth
    }

    /// The column of a filled stick.
    fn column(&self, filled: &Filled) -> Column {
        let mut rows: Vec<f64> = filled.pattern.iter().map(|&n| f64::from(n)).collect();
        rows.extend(self.limited.iter().map(|&at| if at == filled.stick { 1.0 } else { 0.0 }));
        let cost = self.shop.sticks[filled.stick].cost as f64;
        Column { rows, cost, filled: Some(filled.clone()) }
    }

    /// Brings a column into the basis.
    fn enter(&mut self, column: Column) -> bool {
        // Few parts lie on a stick: nearly all of a column is nothing.
        let taken: Vec<(usize, f64)> =
            column.rows.iter().copied().enumerate().filter(|(_, entry)| *entry != 0.0).collect();
        let change: Vec<f64> =
            self.inverse.iter().map(|row| taken.iter().map(|&(at, n)| row[at] * n).sum()).collect();
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
        for (row, &step) in change.iter().enumerate() {
            if row != out && step != 0.0 {
                for (entry, &main) in self.inverse[row].iter_mut().zip(&lead) {
                    *entry -= step * main;
                }
                self.values[row] -= step * ratio;
            }
        }
        self.values[out] = ratio;
        self.basis[out] = column;
        true
    }

    /// The stick of greatest value of each kind, and the bound these duals
    /// prove.
    fn price(&self, duals: &[f64], demand: &Pattern) -> (Option<(f64, Filled)>, f64) {
        let mut best: Option<(f64, Filled)> = None;
        let mut scale = f64::INFINITY;
        for (index, stick) in self.shop.sticks.iter().enumerate() {
            let limit = self.limited.iter().position(|&at| at == index);
            let rent = limit.map_or(0.0, |at| duals[demand.len() + at].min(0.0));
            let price = stick.cost as f64 - rent;
            let mut ceiling = 0.0_f64;
            for setback in self.shop.setbacks() {
                let Best { worth, ceiling: top, taken } = self.fill(duals, demand, stick.room, setback);
                ceiling = ceiling.max(top);
                let gain = worth - price;
                if gain > NO_GAIN * (1.0 + price) && best.as_ref().is_none_or(|(most, _)| gain > *most) {
                    let mut pattern = vec![0; demand.len()];
                    for (kind, n) in taken {
                        pattern[kind] = n;
                    }
                    best = Some((gain, Filled { stick: index, pattern }));
                }
            }
            if ceiling > NOTHING {
                scale = scale.min(price / ceiling);
            }
        }
        let mut bound = 0.0;
        if scale.is_finite() {
            let parts = demand.len();
            bound = (0..parts).map(|row| duals[row].max(0.0) * self.demand[row]).sum::<f64>() * scale;
            bound += (parts..duals.len()).map(|row| duals[row].min(0.0) * self.demand[row]).sum::<f64>();
        }
        (best, bound)
    }

    /// The best filling with parts of at most this set-back.
    fn fill(&self, duals: &[f64], demand: &Pattern, room: i64, setback: i64) -> Best {
        let offers = self.shop.kinds.iter().enumerate().filter(|(_, kind)| kind.setback <= setback);
        let offer = |(index, kind): (usize, &super::shop::Kind)| Offer {
            kind: index,
            need: kind.need,
            worth: duals[index],
            most: demand[index],
        };
        fill(offers.map(offer).collect(), room - setback, LOOKS)
    }

    /// Solves the program; gives also the columns made.
    pub(super) fn solve(mut self, demand: &Pattern) -> (Solved, Vec<Filled>) {
        let mut bound = 0.0_f64;
        for round in 0..ROUNDS {
            let duals = self.duals();
            if let Some(column) = self.cheap_move(&duals, demand) {
                if self.enter(column) {
                    continue;
                }
                break;
            }
            let (best, proven) = self.price(&duals, demand);
            if proven.is_finite() {
                bound = bound.max(proven);
            }
            let Some((_, filled)) = best else { break };
            let column = self.column(&filled);
            self.parts.push(parts_on(&filled));
            self.pool.push(filled);
            if !self.enter(column) || round + 1 == ROUNDS {
                break;
            }
        }
        let used = self.basis.iter().zip(&self.values).filter_map(|(column, &value)| {
            let filled = column.filled.clone()?;
            (value > NOTHING).then_some((filled, value))
        });
        (Solved { used: used.collect(), bound }, self.pool)
    }

    /// A column that helps and is already known: one of the pool, or surplus
    /// of a part, or an unused limited stick.
    fn cheap_move(&self, duals: &[f64], demand: &Pattern) -> Option<Column> {
        let rows = duals.len();
        for row in 0..demand.len() {
            if duals[row] < -NO_GAIN {
                let mut entries = vec![0.0; rows];
                entries[row] = -1.0;
                return Some(Column { rows: entries, cost: 0.0, filled: None });
            }
        }
        for row in demand.len()..rows {
            if duals[row] > NO_GAIN {
                let mut entries = vec![0.0; rows];
                entries[row] = 1.0;
                return Some(Column { rows: entries, cost: 0.0, filled: None });
            }
        }
        let mut best: Option<(f64, usize)> = None;
        for (at, (filled, parts)) in self.pool.iter().zip(&self.parts).enumerate() {
            if parts.iter().any(|&(kind, n)| n > demand[kind]) {
                continue;
            }
            let worth: f64 = parts.iter().map(|&(kind, n)| f64::from(n) * duals[kind]).sum();
            let limit = self.limited.iter().position(|&row| row == filled.stick);
            let rent = limit.map_or(0.0, |row| duals[demand.len() + row]);
            let gain = worth + rent - self.shop.sticks[filled.stick].cost as f64;
            if gain > POOL_GAIN && best.is_none_or(|(most, _)| gain > most) {
                best = Some((gain, at));
            }
        }
        best.map(|(_, at)| self.column(&self.pool[at]))
    }
}
