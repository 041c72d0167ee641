//! From what a job costs to what is asked for it.

use rust_decimal::Decimal;

use super::goods::GoodsLine;
use super::hours::HourLine;
use super::money::{PER_CENT, share};
use super::rates::{Profit, Rates, Rounding, Stage, Way};
use crate::cutting::Group;

/// The sums of an estimate, each rounded once to what can be paid, so that they add up
/// as they are printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    /// Materials.
    pub materials: Decimal,
    /// Inserts and fittings.
    pub fittings: Decimal,
    /// Spoilt material.
    pub waste: Decimal,
    /// Small things without a price of their own.
    pub sundries: Decimal,
    /// Minutes of work.
    pub minutes: Decimal,
    /// What they cost.
    pub labour: Decimal,
    /// Overhead.
    pub overhead: Decimal,
    /// All of these together.
    pub cost: Decimal,
    /// Profit.
    pub profit: Decimal,
    /// What rounding the price adds or takes off.
    pub rounding: Decimal,
    /// The price before tax.
    pub net: Decimal,
    /// Tax.
    pub tax: Decimal,
    /// What the client pays.
    pub total: Decimal,
    /// When it is paid.
    pub stages: Vec<StageSum>,
}

/// What is paid at a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StageSum {
    /// When it is due.
    pub what: String,
    /// Per cent of the total.
    pub per_cent: Decimal,
    /// The amount.
    pub amount: Decimal,
}

/// The sums of some lines.
pub(super) fn price(goods: &[GoodsLine], hours: &[HourLine], rates: &Rates) -> Price {
    let round = |amount| rates.currency.round(amount);
    let of = |fitting: bool| -> Decimal {
        goods.iter().filter(|line| (line.group == Group::Fittings) == fitting).map(|line| line.cost).sum()
    };
    let (materials, fittings) = (round(of(false)), round(of(true)));
    let waste = round(share(materials, rates.waste));
    let sundries = round(share(materials + fittings, rates.sundries));
    let bought = materials + fittings + waste + sundries;
    let labour = round(hours.iter().map(|line| line.cost).sum());
    let overhead = round(share(labour, rates.on_labour) + share(bought, rates.on_materials));
    let cost = bought + labour + overhead;
    let profit = round(match rates.profit {
        Profit::Markup(per_cent) => share(cost, per_cent),
        // A margin is a share of the price: what is left of it is the cost.
        Profit::Margin(per_cent) => cost * per_cent / (PER_CENT - per_cent),
    });
    let net = round(rounded(cost + profit, rates.rounding));
    let tax = rates.tax.as_ref().map_or_else(|| round(Decimal::ZERO), |tax| round(share(net, tax.per_cent)));
    let total = net + tax;
    Price {
        materials,
        fittings,
        waste,
        sundries,
        minutes: hours.iter().map(|line| line.minutes).sum(),
        labour,
        overhead,
        cost,
        profit,
        rounding: net - cost - profit,
        net,
        tax,
        total,
        stages: stages(total, rates),
    }
}

/// A price rounded to whole multiples.
fn rounded(amount: Decimal, rounding: Rounding) -> Decimal {
    let steps = amount / rounding.to;
    let whole = match rounding.way {
        Way::Nearest => (steps + Decimal::new(5, 1)).floor(),
        Way::Up => steps.ceil(),
    };
    whole * rounding.to
}

/// The stages: each its share of the total, the last what is left, so that together
/// they are the total.
fn stages(total: Decimal, rates: &Rates) -> Vec<StageSum> {
    let mut left = total;
    let count = rates.stages.len();
    let stage = |(at, stage): (usize, &Stage)| {
        let last = at + 1 == count;
        let amount = if last { left } else { rates.currency.round(share(total, stage.per_cent)) };
        left -= amount;
        StageSum { what: stage.what.clone(), per_cent: stage.per_cent, amount }
    };
    rates.stages.iter().enumerate().map(stage).collect()
}
