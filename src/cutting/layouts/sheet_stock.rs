//! Sheets and boards to be had, as the search counts them, and when two pieces cut
//! from them are alike.

use super::grid::Grid;
use super::laid::SheetRow;
use crate::cutting::CuttingList;
use crate::cutting::proof::PER_PRICE;
use crate::cutting::sheets::{Effort, Piece, SheetJob, SheetStock, What};
use crate::joinery::WorkedJob;
use crate::measure::LengthStyle;
use crate::model::{Grain, Job, SheetSize, Stock, StockId};

/// What the search may spend on one stock: plenty of steps for a cheaper plan of the
/// few sheets of a piece of furniture, and soon over for many; fewer for a larger
/// offcut at the same cost.
pub(super) const EFFORT: Effort = Effort { steps: 4_000, offcut_steps: 1_200, seed: 1, searches: 1 };

/// Searches made side by side where a longer one is asked for.
const PAIR: u32 = 2;

/// So many times as long as usual, as the job is set out.
pub(super) fn longer(usual: Effort, job: &Job) -> Effort {
    let times = u64::from(job.cutting.effort.max(1));
    Effort {
        steps: usual.steps.saturating_mul(times),
        offcut_steps: usual.offcut_steps.saturating_mul(times),
        // Who asks for more waits for it: two searches find more than one twice as long.
        searches: if times > 1 { PAIR } else { usual.searches },
        ..usual
    }
}

/// Square millimetres in a square centimetre.
const SQUARE_CENTIMETRE: f64 = 100.0;

/// What a sheet in the shop counts of its worth: so little that it is used before one
/// is bought, and so much that the smallest that does is taken.
const ON_HAND: f64 = 0.01;

/// What layouts are made from.
#[derive(Clone, Copy)]
pub(super) struct Whole<'a> {
    /// The job.
    pub(super) job: &'a Job,
    /// Its worked parts.
    pub(super) worked: &'a WorkedJob,
    /// Its cutting list.
    pub(super) list: &'a CuttingList,
}

/// What is known of a sheet stock.
pub(super) struct Sheets<'a> {
    pub(super) id: StockId,
    pub(super) stock: &'a Stock,
    pub(super) thick: f64,
    pub(super) called: Option<f64>,
    pub(super) sizes: &'a [SheetSize],
    pub(super) grain: Grain,
    pub(super) rows: Vec<SheetRow>,
}

/// A size to be had as a kind of sheet.
pub(super) fn sheet_stock(job: &Job, size: &SheetSize, cost: i64) -> SheetStock {
    let grid = Grid::of(job.unit);
    let trim = if size.on_hand { 0 } else { grid.up(job.cutting.edge_trim) };
    let style = LengthStyle::of(job.unit);
    let hand = if size.on_hand { " on hand" } else { "" };
    SheetStock {
        id: format!("{} × {}{hand}", style.text(size.length), style.text(size.width)),
        size: [grid.down(size.length), grid.down(size.width)],
        count: size.count,
        cost,
        trim: [trim; 4],
    }
}

/// What the search counts for each sheet: hundredths of the price where every
/// sheet to buy has one, else the area in cm². What lies in the shop counts a
/// hundredth of its area's worth, so that it is used first and the smallest
/// that does is taken.
#[allow(clippy::cast_possible_truncation, reason = "prices and areas are checked where they are read")]
pub(super) fn costs(sizes: &[SheetSize]) -> Vec<i64> {
    let to_buy = || sizes.iter().filter(|size| !size.on_hand);
    let priced =
        to_buy().next().is_some() && to_buy().all(|size| size.price.is_some_and(|price| price > 0.0));
    let area = |size: &SheetSize| size.length * size.width / SQUARE_CENTIMETRE;
    let (money, of) = to_buy().fold((0.0, 0.0), |(money, of), size| {
        (money + PER_PRICE * size.price.unwrap_or(0.0), of + area(size))
    });
    let rate = if priced { money / of } else { 1.0 };
    let cost = |size: &SheetSize| match (size.on_hand, priced) {
        (true, _) => ON_HAND * rate * area(size),
        (false, true) => PER_PRICE * size.price.unwrap_or(0.0),
        (false, false) => area(size),
    };
    sizes.iter().map(|size| (cost(size).round() as i64).max(1)).collect()
}

/// Whether two pieces of layouts are cut alike; the runs of two copies of a
/// piece are alike.
pub(super) fn same(job: &SheetJob, a: &Piece, b: &Piece) -> bool {
    let parts = |run: usize| job.runs.get(run).map(|run| &run.parts);
    a.at == b.at
        && a.size == b.size
        && match (&a.what, &b.what) {
            (What::Offcut, What::Offcut) => true,
            (What::Part { part: p, turned: t, run: r }, What::Part { part: q, turned: u, run: s }) => {
                p == q
                    && t == u
                    && match (r, s) {
                        (Some(r), Some(s)) => r.member == s.member && parts(r.run) == parts(s.run),
                        (None, None) => true,
                        _ => false,
                    }
            }
            (What::Divided { along: d, pieces: p }, What::Divided { along: e, pieces: q }) => {
                d == e && p.len() == q.len() && p.iter().zip(q).all(|(p, q)| same(job, p, q))
            }
            _ => false,
        }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(sides: [f64; 2], price: Option<f64>, on_hand: bool) -> SheetSize {
        SheetSize { length: sides[0], width: sides[1], price, count: None, on_hand, edge: 0.0 }
    }

    /// By hand: 96 for 29,768 cm² is 0.3225 hundredths a cm², of which what lies in the
    /// shop counts a hundredth.
    #[test]
    fn sheets_count_by_price_and_those_on_hand_by_next_to_nothing() {
        let bought = size([2440.0, 1220.0], Some(96.0), false);
        let offcut = size([1200.0, 610.0], None, true);
        assert_eq!(costs(&[bought, offcut]), [9600, 24]);
        // One without a price: all by their areas.
        let unpriced = size([3050.0, 1525.0], None, false);
        assert_eq!(costs(&[bought, unpriced, offcut]), [29_768, 46_513, 73]);
        let given_away = size([2440.0, 1220.0], Some(0.0), false);
        assert_eq!(costs(&[given_away, offcut]), [29_768, 73]);
    }
}
