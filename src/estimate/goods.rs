//! Materials and fittings with their prices.

use rust_decimal::Decimal;

use super::basis::Goods;
use super::money::printed;
use super::rates::{Per, PriceOf, Rates};
use crate::cutting::{Bought, BuyLine, Group, Measure, Note};
use crate::problem::Problem;
use crate::problem::wording::count;

/// Decimals of quantities: small boards are hundred thousandths of a cubic metre.
const QUANTITY: usize = 5;

/// Square and cubic millimetres in a metre.
const SQUARE: f64 = 1e6;
const CUBIC: f64 = 1e9;

/// A line of materials.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GoodsLine {
    /// What it is.
    pub name: String,
    /// Its heading on the buying list.
    pub group: Group,
    /// How much, as printed.
    pub quantity: Decimal,
    /// Of what: `off`, `m³`.
    pub unit: &'static str,
    /// Price of one; `None` where the cost is set by hand.
    pub price: Option<Decimal>,
    /// What it costs.
    pub cost: Decimal,
}

/// Materials with their prices; and the names of what has none.
pub(super) fn priced(goods: &[Goods<'_>], rates: &Rates) -> (Vec<GoodsLine>, Vec<Problem>) {
    let (mut lines, mut problems, mut missing) = (Vec::new(), Vec::new(), Vec::new());
    for one in goods {
        let set = rates.overrules.iter().find(|over| !over.minutes && over.line == one.name);
        let given = rates.price_of(&one.name);
        let quantity = match given.map(|given| quantity(one.line, given)).transpose() {
            Ok(found) => found.unwrap_or_else(|| plain(one.line)),
            Err(problem) => {
                problems.push(problem);
                continue;
            }
        };
        let price = given.map(|given| given.price).or_else(|| one.line.price.map(|p| printed(p, QUANTITY)));
        let line = |quantity: (Decimal, &'static str), price: Option<Decimal>, cost: Decimal| GoodsLine {
            name: one.name.clone(),
            group: one.line.group,
            quantity: quantity.0,
            unit: quantity.1,
            price,
            cost: rates.currency.round(cost),
        };
        match (set, price) {
            (Some(over), _) => lines.push(line(quantity, None, over.amount)),
            (None, Some(price)) => lines.push(line(quantity, Some(price), price * quantity.0)),
            (None, None) if small(&one.line.what) && !rates.sundries.is_zero() => {}
            (None, None) => missing.push(one),
        }
    }
    problems.extend(unpriced(&missing));
    (lines, problems)
}

/// What a line of the buying list called `name` costs by the rates, or by its own price;
/// `None` where neither tells.
pub fn line_cost(line: &BuyLine, name: &str, rates: Option<&Rates>) -> Option<Decimal> {
    match rates.and_then(|rates| rates.price_of(name)) {
        Some(given) => Some(quantity(line, given).ok()?.0 * given.price),
        None => line.cost().map(|cost| printed(cost, QUANTITY)),
    }
}

/// Whether a thing may go with the sundries where it has no price of its own: glue,
/// abrasives, what is cut or driven by the handful.
fn small(what: &Bought) -> bool {
    match what {
        Bought::Glue | Bought::Disc { .. } | Bought::RubbingSheet { .. } | Bought::Filling(_) => true,
        Bought::Fitting(item) => item.is_sundry(),
        Bought::Stock(_) | Bought::Ready { .. } | Bought::Finish(_) => false,
    }
}

/// How much of a line, in its own unit.
fn plain(line: &BuyLine) -> (Decimal, &'static str) {
    (printed(line.quantity, QUANTITY), line.unit.sign())
}

/// How much of a line, in what its price is for.
fn quantity(line: &BuyLine, given: &PriceOf) -> Result<(Decimal, &'static str), Problem> {
    let own = match line.unit {
        Measure::Pieces => Per::Each,
        Measure::CubicMetres => Per::CubicMetre,
        Measure::Kilograms => Per::Kilogram,
        Measure::Litres => Per::Litre,
        // Fillings are measured out by hand: a price is for the whole amount shown.
        Measure::CubicCentimetres | Measure::Packs => return Ok(plain(line)),
    };
    let Some(per) = given.per.filter(|per| *per != own) else { return Ok(plain(line)) };
    let many = |each: f64| printed(each * line.quantity, QUANTITY);
    match (per, line.unit, line.size.as_slice(), &line.note) {
        (Per::SquareMetre, Measure::Pieces, [long, wide, ..], _) => Ok((many(long * wide / SQUARE), "m²")),
        (Per::CubicMetre, Measure::Pieces, [long, wide, thick, ..], _) => {
            Ok((many(long * wide * thick / CUBIC), "m³"))
        }
        // A finish may be priced by what it covers once, as a shop reckons it.
        (Per::SquareMetre, Measure::Litres, _, Some(Note::Coats { area, coats, .. })) => {
            Ok((printed(area * f64::from(*coats), QUANTITY), "m²"))
        }
        (Per::BoardFoot, _, _, Some(Note::Boards(boards))) => Ok((printed(boards.feet, 1), "board ft")),
        _ => Err(Problem::error(
            "price-for-another-unit",
            format!("`{}` is priced per {}, but bought per {}", given.name, name(per), line.unit.sign()),
        )
        .place(given.span, "priced here")
        .help(format!("give the price per {}: `per = \"{}\"`", line.unit.sign(), name(own)))),
    }
}

fn name(per: Per) -> &'static str {
    Per::ALL.iter().find(|(known, _)| *known == per).map_or("", |(_, name)| name)
}

/// What has no price, with lines that can be put into the rates file as they stand.
fn unpriced(missing: &[&Goods<'_>]) -> Option<Problem> {
    let (first, rest) = missing.split_first()?;
    let message = match rest.len() {
        0 => format!("`{}` has no price, so nothing can be quoted", first.name),
        more => {
            let more = count(more, "more line", "more lines");
            format!("`{}` and {more} have no price, so nothing can be quoted", first.name)
        }
    };
    let one = |goods: &&Goods<'_>| {
        let (_, unit) = plain(goods.line);
        // No figure: what is pasted and forgotten must not become a price of nothing.
        format!("\n          {:?} = ...  # for one {unit}", goods.name)
    };
    let lines: String = missing.iter().map(one).collect();
    Some(Problem::error("no-price", message).help(format!(
        "give each its price under `[prices]` in the rates file, or its `price` in the script; what the client \
         brings costs 0:{lines}"
    )))
}
