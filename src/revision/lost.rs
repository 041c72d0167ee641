//! What lost parts were worth: material, money, minutes.

use super::Standing;
use crate::cutting::{Bought, BuyLine, Group, Measure};
use crate::estimate::{Decimal, Rates, part_minutes, printed};
use crate::machining::Machined;
use crate::machining::rough::rough;
use crate::model::StockKind;

/// Square and cubic millimetres in a metre.
const SQUARE: f64 = 1e6;
const CUBIC: f64 = 1e9;

/// Decimals of areas and volumes that money is worked out from.
const SHOWN: usize = 4;

/// What a material costs by its area or volume.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    /// Its name.
    stock: String,
    /// Thickness of a sheet, mm; `None` for boards.
    thick: Option<f64>,
    /// What a square metre of sheet, or a cubic metre of boards costs.
    per: Decimal,
}

/// What has been lost.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lost {
    /// Sheets, m², to a hundredth.
    pub sheet: Decimal,
    /// Solid timber, m³.
    pub solid: Decimal,
    /// What that cost.
    pub money: Decimal,
    /// Materials without a price, each once.
    pub unpriced: Vec<String>,
    /// Minutes of work at the machines.
    pub minutes: Decimal,
    /// Parts.
    pub parts: usize,
}

/// What materials cost, from a buying list whose lines `cost` knows.
pub fn values(lines: &[BuyLine], cost: &dyn Fn(&BuyLine) -> Option<Decimal>) -> Vec<Value> {
    let mut all: Vec<(String, Option<f64>, Decimal, Decimal)> = Vec::new();
    for line in lines.iter().filter(|line| line.group != Group::FromTheShop) {
        let Bought::Stock(stock) = &line.what else { continue };
        let (thick, amount) = match (line.unit, line.size.as_slice()) {
            (Measure::Pieces, [long, wide, thick]) => (Some(*thick), line.quantity * long * wide / SQUARE),
            (Measure::CubicMetres, _) => (None, line.quantity),
            _ => continue,
        };
        let Some(cost) = cost(line) else { continue };
        let amount = printed(amount, SHOWN);
        match all.iter_mut().find(|known| known.0 == *stock && known.1 == thick) {
            Some(known) => {
                known.2 += amount;
                known.3 += cost;
            }
            None => all.push((stock.clone(), thick, amount, cost)),
        }
    }
    let value = |(stock, thick, amount, cost): (String, Option<f64>, Decimal, Decimal)| {
        Some(Value { stock, thick, per: cost.checked_div(amount)? })
    };
    all.into_iter().filter_map(value).collect()
}

/// What some parts, so many of each, were worth.
pub fn lost(
    of: (Standing<'_>, &Machined<'_>),
    parts: &[(usize, usize)],
    values: &[Value],
    rates: Option<&Rates>,
) -> Lost {
    let (standing, machined) = of;
    let mut all = Lost::default();
    for (index, count) in parts {
        let Some(part) = standing.part(*index) else { continue };
        let Some(stock) = standing.job.stock.get(part.stock.0) else { continue };
        let [long, wide, thick] =
            rough(standing.job, standing.worked, *index).unwrap_or(part.size.to_array());
        let times = *count as f64;
        let (amount, thickness) = match &stock.kind {
            StockKind::Sheet { thick, .. } => (printed(times * long * wide / SQUARE, SHOWN), Some(*thick)),
            StockKind::Board { .. } => (printed(times * long * wide * thick / CUBIC, SHOWN), None),
            StockKind::Blank { .. } | StockKind::Glass { .. } | StockKind::Bought => continue,
        };
        match thickness {
            Some(_) => all.sheet += amount,
            None => all.solid += amount,
        }
        match values.iter().find(|value| value.stock == stock.name && value.thick == thickness) {
            Some(value) => all.money += amount * value.per,
            None if !all.unpriced.contains(&stock.name) => all.unpriced.push(stock.name.clone()),
            None => {}
        }
        if let Some(rates) = rates {
            all.minutes += part_minutes(machined, *index, rates) * Decimal::from(*count);
        }
        all.parts += count;
    }
    all
}
