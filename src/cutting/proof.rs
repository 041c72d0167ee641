//! What was found for a stock, and what is proven of it.

use super::SheetCutting;
use super::units::PER_CENT;

/// What the search counts for a unit of money: hundredths.
pub(super) const PER_PRICE: f64 = 100.0;

/// What the search counts for a square metre: square centimetres.
const PER_SQUARE_METRE: f64 = 10_000.0;

/// How good the layouts of a stock are: no plan comes to less than the bound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// Sheets or boards of the plan.
    pub count: usize,
    /// The fewest that can do, where all are alike.
    pub least_count: Option<usize>,
    /// What the plan comes to, in `unit`.
    pub found: f64,
    /// What every plan comes to at the least, in `unit`.
    pub bound: f64,
    /// Whether the plan is proven to come to the least.
    pub proven: bool,
    /// `price`, or `m2` of sheet or board; what lies in the shop counts a hundredth of
    /// it.
    pub unit: &'static str,
}

impl SheetCutting {
    /// How good the layouts are; nothing where no bound was worked out.
    pub fn proof(&self) -> Option<Proof> {
        let plan = &self.plan;
        if plan.layouts.is_empty() || plan.bound <= 0 {
            return None;
        }
        if self.boards_to_buy() {
            return Some(self.of_boards());
        }
        let mut to_buy = self.sizes.iter().filter(|size| !size.on_hand).peekable();
        let priced =
            to_buy.peek().is_some() && to_buy.all(|size| size.price.is_some_and(|price| price > 0.0));
        let (per, unit) = if priced { (PER_PRICE, "price") } else { (PER_SQUARE_METRE, "m2") };
        let mut costs = self.job.sheets.iter().map(|sheet| sheet.cost);
        let first = costs.next().filter(|cost| *cost > 0 && costs.all(|other| other == *cost));
        Some(Proof {
            count: plan.layouts.len(),
            least_count: first.map(|cost| usize::try_from((plan.bound + cost - 1) / cost).unwrap_or(0)),
            found: plan.cost as f64 / per,
            bound: plan.bound as f64 / per,
            proven: plan.proven,
            unit,
        })
    }

    /// Of boards to buy: their area. The search counts one more for each board, which
    /// is taken off the bound as often as boards of the smallest size could be meant.
    fn of_boards(&self) -> Proof {
        let plan = &self.plan;
        let (found, _) = self.areas();
        let smallest = self.job.sheets.iter().map(|board| board.cost - 1).min().unwrap_or(1).max(1) as f64;
        let least = plan.bound as f64 * smallest / (smallest + 1.0) / PER_SQUARE_METRE;
        Proof {
            count: plan.layouts.len(),
            least_count: None,
            found,
            bound: if plan.proven { found } else { least.min(found) },
            proven: plan.proven,
            unit: "m2",
        }
    }
}

impl Proof {
    /// By how much the plan is over the bound at the most, per cent.
    pub fn over(&self) -> f64 {
        if self.bound > 0.0 { PER_CENT * (self.found / self.bound - 1.0).max(0.0) } else { 0.0 }
    }
}
