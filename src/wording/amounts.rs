//! Amounts in words, as a shop that works in the unit of the sheet buys and lifts them:
//! square feet, pounds and board feet in inches, square metres, kilograms and cubic metres
//! else.

use super::Words;
use crate::cutting::{BuyLine, BuyingList, Group, Measure, Note};
use crate::measure::{self, INCH, OUNCES, PINT, POUND, SQUARE_FOOT, Unit, number};

/// Grams to the kilogram.
const GRAMS: f64 = 1000.0;

/// A line of the order as it is asked for at the yard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ordered {
    /// How much.
    pub quantity: f64,
    /// Decimals the quantity is shown to.
    pub decimals: usize,
    /// Of what.
    pub unit: &'static str,
    /// Price of one, if known.
    pub price: Option<f64>,
    /// What it costs: the price as printed by the quantity as printed.
    pub cost: Option<f64>,
}

impl Words {
    fn inches(self) -> bool {
        self.lengths.unit == Unit::Inch
    }

    /// A weight of so many kilograms, and its unit.
    pub fn weight(self, kilos: f64) -> (f64, &'static str) {
        if self.inches() { (kilos / POUND, "lb") } else { (kilos, "kg") }
    }

    /// `18.3 kg`, `40 lb`.
    pub fn mass(self, kilos: f64) -> String {
        if !self.inches() {
            return measure::mass(kilos);
        }
        let pounds = kilos / POUND;
        // A pound is half a kilogram: a decimal less says as much.
        format!("{} lb", number(pounds, usize::from(pounds.abs() < OUNCES)))
    }

    /// `2 off`, `qty 2`.
    pub fn many(self, count: u32) -> String {
        if self.inches() { format!("qty {count}") } else { format!("{count} off") }
    }

    /// The head of a column of how many of each.
    pub fn of_each(self) -> &'static str {
        if self.inches() { "Qty" } else { "Off" }
    }

    /// The thickness of rough boards, mm, by quarters of an inch, `5/4`, where they are sawn
    /// to them and the shop works in inches.
    pub fn quarters(self, thick: f64) -> Option<String> {
        let quarters = thick / INCH * QUARTERS;
        let whole = (quarters - quarters.round()).abs() < NOISE && quarters.round() >= QUARTERS;
        (self.inches() && whole).then(|| format!("{}/4", number(quarters, 0)))
    }

    /// The thickness of rough boards, mm, as they are asked for: `27 sawn`, `5/4 rough`;
    /// `shown` is how the sheet writes it.
    pub fn sawn(self, thick: f64, shown: &str) -> String {
        self.quarters(thick).map_or_else(|| format!("{shown} sawn"), |quarters| format!("{quarters} rough"))
    }

    /// So many square metres, in square feet where the shop works in inches.
    pub fn square(self, metres: f64) -> f64 {
        if self.inches() { metres / SQUARE_FOOT } else { metres }
    }

    /// `1.25 m²`, `13.5 sq ft`.
    pub fn area(self, metres: f64) -> String {
        let feet = metres / SQUARE_FOOT;
        if self.inches() {
            format!("{} sq ft", number(feet, 1))
        } else {
            format!("{} m²", number(metres, 2))
        }
    }

    /// What a litre or a pint covers of so many square metres a litre: `20 m² a litre`.
    pub fn coverage(self, metres: f64) -> String {
        if self.inches() {
            return format!("{} sq ft a pint", number(metres * PINT / SQUARE_FOOT, 0));
        }
        format!("{} m² a litre", number(metres, 1))
    }

    /// How much of something is spread, of so many g/m²: `180 g/m²`, `0.59 oz a sq ft`.
    pub fn spread(self, grams: f64) -> String {
        if self.inches() {
            return format!("{} oz a sq ft", number(grams * SQUARE_FOOT / GRAMS / POUND * OUNCES, 2));
        }
        format!("{} g/m²", number(grams, 0))
    }

    /// `about 0.25 litres`, `about 0.5 pints`, each to the next step up.
    pub fn liquid(self, litres: f64) -> String {
        let up = |value: f64, steps: f64| number(libm::ceil(value * steps) / steps, 2);
        if self.inches() {
            of_one(up(litres / PINT, QUARTERS), "pint")
        } else {
            of_one(up(litres, TWENTIETHS), "litre")
        }
    }

    /// What the lines with a price cost together, as printed, and how many to buy have none.
    pub fn total(self, list: &BuyingList) -> (f64, usize) {
        let to_buy = || list.lines.iter().filter(|line| line.group != Group::FromTheShop);
        let costs = to_buy().filter_map(|line| self.ordered(line).cost);
        (costs.sum(), to_buy().filter(|line| line.price.is_none()).count())
    }

    /// A line of the order. What is sold in packs stays as its maker says; boards are
    /// counted in board feet, with the published rounding, in a shop that works in inches.
    pub fn ordered(self, line: &BuyLine) -> Ordered {
        let plain = Ordered {
            quantity: line.quantity,
            decimals: if matches!(line.unit, Measure::Pieces | Measure::Packs) { 0 } else { 4 },
            unit: line.unit.sign(),
            price: line.price,
            cost: line.cost(),
        };
        if !self.inches() {
            return plain;
        }
        if line.unit == Measure::Pieces {
            return Ordered { unit: "each", ..plain };
        }
        if line.pack.is_some() {
            return plain;
        }
        let (quantity, unit) = match (line.unit, &line.note) {
            (Measure::CubicMetres, Some(Note::Boards(boards))) => (boards.feet, "board ft"),
            (Measure::Kilograms, _) => (needed(line) / POUND * OUNCES, "oz"),
            (Measure::Litres, _) => (needed(line) / PINT, "pints"),
            _ => return plain,
        };
        // What is bought is never less than is needed.
        let quantity = libm::ceil(quantity * TENTHS - NOISE) / TENTHS;
        let to_the_cent = |amount: f64| libm::round(amount * CENTS) / CENTS;
        let price = line.cost().filter(|_| quantity > 0.0).map(|cost| to_the_cent(cost / quantity));
        let cost = price.map(|price| to_the_cent(price * quantity));
        Ordered { quantity, decimals: 1, unit, price, cost }
    }
}

/// How much of a fluid is needed, before it was rounded up to the steps of a metric shop:
/// rounded up twice it could be a tenth more than it should.
fn needed(line: &BuyLine) -> f64 {
    match line.note {
        Some(Note::Glued { area, spread }) => area * spread / GRAMS,
        Some(Note::Coats { area, coats, coverage, .. }) => area * f64::from(coats) / coverage,
        _ => line.quantity,
    }
}

/// Steps of one in which amounts are told.
const QUARTERS: f64 = 4.0;
const TENTHS: f64 = 10.0;
const CENTS: f64 = 100.0;
const TWENTIETHS: f64 = 20.0;
/// Steps that arithmetic leaves, of one.
const NOISE: f64 = 1e-6;

/// An amount with its measure, of which there is one or several: `1 litre`, `0.75 litres`.
fn of_one(amount: impl std::fmt::Display, measure: &str) -> String {
    let amount = amount.to_string();
    let s = if amount == "1" { "" } else { "s" };
    format!("{amount} {measure}{s}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::Bought;

    /// By hand: 5.508 m² in two coats at 12 m² a litre are 0.918 l or 1.94 pints, so 2.0; by
    /// way of 0.95 l it would be 2.008 and so 2.1. 0.62 m² of joint at 180 g are 111.6 g or
    /// 3.94 oz, so 4.0, and not the 5.3 of 150 g.
    #[test]
    fn fluids_are_rounded_once() {
        let line = |unit, quantity, note| BuyLine {
            group: Group::Glue,
            what: Bought::Glue,
            size: Vec::new(),
            quantity,
            unit,
            note: Some(note),
            price: Some(19.0),
            pack: None,
            code: None,
        };
        let inch = Words::of(Unit::Inch);
        let coats = Note::Coats { area: 5.508, coats: 2, coverage: 12.0, stated: true };
        let oil = inch.ordered(&line(Measure::Litres, 0.95, coats));
        assert_eq!((oil.quantity, oil.unit), (2.0, "pints"));
        // 18.05 by 2.0 is 9.03 a pint to the cent; two of them are 18.06, and so is the cost.
        assert_eq!((oil.price, oil.cost), (Some(9.03), Some(18.06)));
        let glue = line(Measure::Kilograms, 0.15, Note::Glued { area: 0.62, spread: 180.0 });
        assert_eq!((inch.ordered(&glue).quantity, inch.ordered(&glue).unit), (4.0, "oz"));
    }

    /// A pound is 0.45359237 kg and a foot 304.8 mm exactly (agreement of 1959); a gallon of
    /// 231 cubic inches has eight pints.
    #[test]
    fn amounts_are_those_of_the_shop() {
        let (inch, mm) = (Words::of(Unit::Inch), Words::of(Unit::Mm));
        assert_eq!((inch.mass(18.143_694_8), mm.mass(18.34)), ("40 lb".into(), "18.3 kg".into()));
        assert_eq!(inch.mass(0.453_592_37 * 2.5), "2.5 lb");
        assert_eq!((inch.area(0.092_903_04 * 13.5), mm.area(1.25)), ("13.5 sq ft".into(), "1.25 m²".into()));
        // 180 g are 6.349 oz, a square metre 10.764 square feet.
        assert_eq!((inch.spread(180.0), mm.spread(180.0)), ("0.59 oz a sq ft".into(), "180 g/m²".into()));
        assert_eq!((inch.liquid(0.25), mm.liquid(0.21)), ("0.75 pints".into(), "0.25 litres".into()));
        assert_eq!(mm.liquid(0.97), "1 litre");
        let pint = 231.0 * 25.4 * 25.4 * 25.4 / 8.0 / 1e6;
        assert!((PINT - pint).abs() < 1e-9);
        assert_eq!(
            (inch.quarters(31.75).as_deref(), inch.quarters(27.0), mm.quarters(25.4)),
            (Some("5/4"), None, None)
        );
        assert_eq!(inch.coverage(20.0), "102 sq ft a pint");
    }
}
