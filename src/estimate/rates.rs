//! What a shop takes for its work: the rates file as it is understood.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::currency::Currency;
use super::minutes::MINUTES;
use crate::source::{Source, Sources, Span};

/// The rates of a shop. Percentages are as written: 20 is 20 %.
#[derive(Clone, Debug)]
pub struct Rates {
    /// The currency of every amount.
    pub currency: &'static Currency,
    /// What an hour is charged at before overhead.
    pub hourly: Decimal,
    /// For how many days a quote holds.
    pub valid_days: u32,
    /// The head of the quote.
    pub shop: Shop,
    /// Prices of materials and fittings.
    pub prices: Vec<PriceOf>,
    /// Spoilt material, per cent.
    pub waste: Decimal,
    /// Small things without a price of their own, per cent of all materials.
    pub sundries: Decimal,
    /// Minutes by `table.key`; what is not there takes the usual.
    pub minutes: BTreeMap<String, Decimal>,
    /// Overhead on labour, per cent.
    pub on_labour: Decimal,
    /// Overhead on materials, per cent.
    pub on_materials: Decimal,
    /// Profit.
    pub profit: Profit,
    /// Tax on the price, if there is one.
    pub tax: Option<Tax>,
    /// How the price is rounded.
    pub rounding: Rounding,
    /// In what stages it is paid.
    pub stages: Vec<Stage>,
    /// What is in the price, besides what the job says.
    pub includes: Vec<String>,
    /// What is not.
    pub excludes: Vec<String>,
    /// Terms.
    pub terms: Vec<String>,
    /// Lines that the maker sets by hand.
    pub overrules: Vec<Overrule>,
    /// The file, for messages.
    pub sources: Sources,
}

/// What the head of a quote says of the shop.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shop {
    /// Its name; the owner of the script where it is not said.
    pub name: Option<String>,
    /// Address, telephone and so on, a line each.
    pub lines: Vec<String>,
}

/// A price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceOf {
    /// What it is of: a line of the buying list, or the beginning of several.
    pub name: String,
    /// The price.
    pub price: Decimal,
    /// What it is for, where the file says so.
    pub per: Option<Per>,
    /// Where it stands in the file.
    pub span: Span,
}

/// What a price is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Per {
    /// A piece.
    Each,
    /// A square metre.
    SquareMetre,
    /// A cubic metre.
    CubicMetre,
    /// A board foot.
    BoardFoot,
    /// A kilogram.
    Kilogram,
    /// A litre.
    Litre,
}

/// Profit: one of the two ways in which shops count it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Profit {
    /// Per cent of the cost.
    Markup(Decimal),
    /// Per cent of the price.
    Margin(Decimal),
}

/// A tax.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tax {
    /// Its name: `VAT`.
    pub name: String,
    /// Per cent of the price.
    pub per_cent: Decimal,
}

/// How a price is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rounding {
    /// To whole multiples of this.
    pub to: Decimal,
    /// Which way.
    pub way: Way,
}

/// Which way a price is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To the nearest, halves up.
    Nearest,
    /// Up.
    Up,
}

/// A stage of payment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stage {
    /// When it is due: `with the order`.
    pub what: String,
    /// Per cent of the total.
    pub per_cent: Decimal,
}

/// A line set by hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Overrule {
    /// The line: `cut.mortise`, or a line of materials.
    pub line: String,
    /// Minutes, or what it costs.
    pub amount: Decimal,
    /// Whether it is minutes.
    pub minutes: bool,
    /// Where it stands in the file.
    pub span: Span,
}

impl Per {
    /// All, with the names they are written by.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::Each, "each"),
        (Self::SquareMetre, "m2"),
        (Self::CubicMetre, "m3"),
        (Self::BoardFoot, "board foot"),
        (Self::Kilogram, "kg"),
        (Self::Litre, "l"),
    ];
}

impl Rates {
    /// Minutes of a line: the file's, else the usual.
    pub fn minutes(&self, line: &str) -> Decimal {
        self.minutes.get(line).copied().unwrap_or_else(|| {
            let row = MINUTES.iter().find(|row| row.line() == line);
            row.and_then(|row| row.usual.parse().ok()).unwrap_or_default()
        })
    }

    /// The price of what has the name `name` on the buying list: of all that are
    /// meant by it the one that says most.
    pub fn price_of(&self, name: &str) -> Option<&PriceOf> {
        let meant = self.prices.iter().filter(|price| means(&price.name, name));
        meant.max_by_key(|price| price.name.len())
    }

    /// The file under its name.
    pub(super) fn sources_of(name: &str, text: &str) -> Sources {
        Sources { list: vec![Source { name: name.into(), text: text.into(), library: false }] }
    }
}

/// Whether a price of `short` is meant for `name`: the same, or with sizes after it.
/// `Oak` is not meant for `Oak plywood 2440 × 1220 × 18`.
fn means(short: &str, name: &str) -> bool {
    // Few keyboards have the sign that sizes are multiplied with.
    let typed = short.trim().to_lowercase().replace(" x ", " × ");
    let (short, name) = (typed.as_str(), name.to_lowercase());
    name.strip_prefix(short).is_some_and(|rest| {
        let open = rest.is_empty() || rest.starts_with(|c: char| !c.is_alphanumeric());
        open && !rest.trim_start().starts_with(char::is_alphabetic)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_means_all_sizes_and_nothing_else() {
        assert!(means("Oak", "Oak 27"));
        assert!(means("loose tenon", "loose tenon 8 × 40"));
        assert!(means("ash plywood 2440 x 1220 x 6", "Ash plywood 2440 × 1220 × 6"));
        assert!(means("loose tenon 8 × 40", "Loose tenon 8 × 40"));
        assert!(!means("Oak", "Oak plywood 2440 × 1220 × 18"));
        assert!(!means("Oak", "Oakum 27"));
        assert!(!means("screw 4 × 4", "screw 4 × 40"));
    }
}
