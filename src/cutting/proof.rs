//! What was found for a stock, and what is proven of it.

use super::{SheetCutting, StickCutting};

/// What the search counts for a unit of money: hundredths.
pub(super) const PER_PRICE: f64 = 100.0;

/// What the search counts for a square metre: square centimetres.
const PER_SQUARE_METRE: f64 = 10_000.0;

/// What the search counts for a millimetre of stick: tenths.
const PER_MM: f64 = 10.0;

/// How good the layouts of a stock are: no plan comes to less than the bound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// Sheets, boards or sticks of the plan.
    pub count: usize,
    /// The fewest that can do, where all are alike.
    pub least_count: Option<usize>,
    /// What the plan comes to, in `unit`.
    pub found: f64,
    /// What every plan comes to at the least, in `unit`.
    pub bound: f64,
    /// Whether the plan is proven to come to the least.
    pub proven: bool,
    /// `price`, `m2` of sheet or `mm` of stick; what lies in the shop counts a
    /// hundredth of it.
    pub unit: &'static str,
}

impl SheetCutting {
    /// How good the layouts are; nothing where no bound was worked out.
    pub fn proof(&self) -> Option<Proof> {
        let plan = &self.plan;
        if plan.layouts.is_empty() || plan.bound <= 0 {
            return None;
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
}

impl StickCutting {
    /// How good the layouts are; nothing where no bound was worked out.
    pub fn proof(&self) -> Option<Proof> {
        let plan = &self.plan;
        if plan.layouts.is_empty() || plan.bound <= 0 {
            return None;
        }
        Some(Proof {
            count: plan.layouts.len(),
            least_count: None,
            found: plan.cost as f64 / PER_MM,
            bound: plan.bound as f64 / PER_MM,
            proven: plan.proven,
            unit: "mm",
        })
    }
}
