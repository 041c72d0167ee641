//! The lines of the order.

/// Under what heading a line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// Sheets to buy.
    Sheets,
    /// Boards to buy.
    Boards,
    /// Glass, cut by the glazier.
    Glass,
    /// Blanks and what is bought finished.
    Bought,
    /// Inserts, screws and fittings.
    Fittings,
    /// Glue and finish.
    Glue,
    /// Abrasives.
    Abrasives,
    /// What lies in the shop and is used up.
    FromTheShop,
}

/// One line.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct BuyLine {
    /// Its heading.
    pub group: Group,
    /// What it is.
    pub what: String,
    /// Its size, mm: length and width, or length, width and thickness, or the
    /// thickness alone; empty where its name says it.
    pub size: Vec<f64>,
    /// How much.
    pub quantity: f64,
    /// Of what: `off`, `m³`, `kg`.
    pub unit: &'static str,
    /// How the quantity comes about, where that is not plain.
    pub note: String,
    /// Price of one unit, if known.
    pub price: Option<f64>,
}

/// The whole order.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize)]
pub struct BuyingList {
    /// Its lines, group by group.
    pub lines: Vec<BuyLine>,
}

impl Group {
    /// All groups in order.
    pub const ALL: [Self; 8] = [
        Self::Sheets,
        Self::Boards,
        Self::Glass,
        Self::Bought,
        Self::Fittings,
        Self::Glue,
        Self::Abrasives,
        Self::FromTheShop,
    ];

    /// Its heading.
    pub fn name(self) -> &'static str {
        match self {
            Self::Sheets => "Sheets",
            Self::Boards => "Boards",
            Self::Glass => "Glass",
            Self::Bought => "Blanks and bought parts",
            Self::Fittings => "Inserts and fixings",
            Self::Glue => "Glue and finish",
            Self::Abrasives => "Abrasives",
            Self::FromTheShop => "From the shop, not to buy",
        }
    }
}

impl BuyLine {
    /// What it costs, if its price is known.
    pub fn cost(&self) -> Option<f64> {
        Some(self.price? * self.quantity)
    }
}

impl BuyingList {
    /// What the lines with a price cost together, and how many to buy have
    /// none.
    pub fn total(&self) -> (f64, usize) {
        let to_buy = || self.lines.iter().filter(|line| line.group != Group::FromTheShop);
        (to_buy().filter_map(BuyLine::cost).sum(), to_buy().filter(|line| line.price.is_none()).count())
    }
}
