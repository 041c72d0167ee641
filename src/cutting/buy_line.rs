//! The lines of the order.

use crate::joinery::Item;

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

/// What a line is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Bought {
    /// Sheets or boards of a stock.
    Stock(String),
    /// What comes ready to size: the stock, and the row of the list it is for.
    Ready {
        /// The stock.
        stock: String,
        /// The mark of the row.
        mark: String,
        /// The name of the row.
        name: String,
    },
    /// What joints need: an insert, a screw, a fitting.
    Fitting(Item),
    /// Wood glue.
    Glue,
    /// The finish.
    Finish(String),
    /// What inlays are filled with.
    Filling(String),
    /// Discs to sand bare wood with.
    Disc {
        /// How fine.
        grit: u32,
    },
    /// Sheets to rub down with between coats.
    RubbingSheet {
        /// How fine.
        grit: u32,
    },
}

/// What a quantity counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Pieces.
    Pieces,
    /// Cubic metres.
    CubicMetres,
    /// Cubic centimetres.
    CubicCentimetres,
    /// Kilograms.
    Kilograms,
    /// Litres.
    Litres,
    /// Packs; a line says what they hold.
    Packs,
}

/// How a quantity comes about. Areas in m², volumes in cm³.
#[derive(Clone, Debug, PartialEq)]
pub enum Note {
    /// Sheets sold by another thickness than they measure, mm.
    SoldAs(f64),
    /// Boards: what the layouts take, with the waste.
    Boards(Boards),
    /// Glue by the joints it wets.
    Glued {
        /// Area of the joints.
        area: f64,
        /// Spread, g/m².
        spread: f64,
    },
    /// Finish by surface and coats.
    Coats {
        /// Area of one coat.
        area: f64,
        /// How many coats.
        coats: u32,
        /// What a litre covers, m².
        coverage: f64,
        /// Whether the script tells it, as its maker does.
        stated: bool,
    },
    /// Abrasives by the area they sand.
    Sanded {
        /// The area.
        area: f64,
        /// What one sands.
        each: f64,
    },
    /// A filling by the inlays it fills.
    Inlays {
        /// How many.
        count: usize,
        /// What they hold.
        volume: f64,
        /// Waste in the quantity, per cent.
        waste: f64,
        /// Density, kg/m³, where it is weighed out.
        density: Option<f64>,
        /// Whether the script states the density.
        stated: bool,
    },
}

/// How a quantity of boards comes about.
#[derive(Clone, Debug, PartialEq)]
pub struct Boards {
    /// In board feet, as they are ordered: tenths, rounded up.
    pub feet: f64,
    /// Waste that the script tells, per cent.
    pub waste: f64,
    /// How many of what length and width, mm, those for waste included.
    pub sizes: Vec<(usize, [f64; 2])>,
    /// How many of them are for the waste alone.
    pub spare: usize,
    /// Whether they are bought whole, as widths to be had are told; else by the volume
    /// that the layouts take.
    pub whole: bool,
    /// The widest board there usually is, mm, where parts are glued up of staves and the
    /// script tells no width.
    pub glued_over: Option<f64>,
    /// How much of the boards that are laid out becomes parts, per cent.
    pub parts: f64,
    /// Sapwood or wane that is left away along each long edge of them, mm: it is bought
    /// with them.
    pub edge: f64,
    /// Whether a rest that comes off one of them in one piece is not bought.
    pub less_rest: bool,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct BuyLine {
    /// Its heading.
    pub group: Group,
    /// What it is.
    pub what: Bought,
    /// Its size, mm: length and width, or length, width and thickness, or the
    /// thickness alone; empty where its name says it.
    pub size: Vec<f64>,
    /// How much.
    pub quantity: f64,
    /// Of what.
    pub unit: Measure,
    /// How the quantity comes about, where that is not plain.
    pub note: Option<Note>,
    /// Price of one unit, if known.
    pub price: Option<f64>,
    /// What a pack holds, where it is sold in packs.
    pub pack: Option<Pack>,
    /// What the maker orders it by.
    pub code: Option<String>,
}

/// A pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pack {
    /// How much it holds.
    pub holds: f64,
    /// Of what.
    pub of: Measure,
    /// How much the job needs, of all packs together.
    pub needed: f64,
}

/// A size near by with which less is bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearby {
    /// The size, by the name it is declared with.
    pub size: String,
    /// What it is now, mm.
    pub now: f64,
    /// What saves, mm.
    pub instead: f64,
    /// What is saved.
    pub saves: Vec<Saved>,
    /// What that is worth, where all sheets and boards have a price.
    pub money: Option<f64>,
}

/// Sheets or boards that need not be bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Saved {
    /// The stock.
    pub stock: String,
    /// Its thickness, mm: of boards as sawn.
    pub thick: f64,
    /// Whether it is boards of solid timber.
    pub boards: bool,
    /// How many.
    pub fewer: usize,
}

/// The whole order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BuyingList {
    /// Its lines, group by group.
    pub lines: Vec<BuyLine>,
    /// Sizes near by with which less is bought, where they are asked for.
    pub nearby: Vec<Nearby>,
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

impl Measure {
    /// Its sign.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Pieces => "off",
            Self::CubicMetres => "m³",
            Self::CubicCentimetres => "cm³",
            Self::Kilograms => "kg",
            Self::Litres => "l",
            Self::Packs => "packs",
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
