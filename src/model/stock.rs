//! What parts are cut from.

use crate::measure::{INCH, Unit};
use crate::source::Origin;
use crate::timber::{self, Species};

/// Index into [`super::Job::stock`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StockId(pub usize);

/// One material of the job.
#[derive(Clone, Debug)]
pub struct Stock {
    /// The name as written.
    pub name: String,
    /// Sheet, board, round, glass or bought.
    pub kind: StockKind,
    /// Mean density, kg/m3, if known.
    pub density: Option<f64>,
    /// Where it was declared.
    pub origin: Origin,
}

/// Grain of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// No grain: parts may turn.
    None,
    /// Along the sheet's length.
    Length,
    /// Across it.
    Width,
}

/// A sheet to be had: to buy, or an offcut on hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetSize {
    /// Length, mm.
    pub length: f64,
    /// Width, mm.
    pub width: f64,
    /// Price of one sheet, if given.
    pub price: Option<f64>,
    /// How many there are; `None` when any number can be bought.
    pub count: Option<u32>,
    /// Whether it lies in the shop: it is used first, costs nothing and has no
    /// edges to trim.
    pub on_hand: bool,
    /// Sapwood or wane left away along each long edge of a board, mm.
    pub edge: f64,
}

/// A board in the shop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardSize {
    /// Sawn thickness, mm.
    pub thick: f64,
    /// Length and width, what of it is left away along its edges, and how many there are.
    pub size: SheetSize,
}

/// Length of boards where the script does not say, mm (common practice, no
/// source).
pub const BOARD_LENGTH: f64 = 2400.0;

/// The same in a job in `unit`, mm: eight feet in a shop that works in inches (common practice,
/// no source).
pub fn board_length(unit: Unit) -> f64 {
    if unit == Unit::Inch { 96.0 * INCH } else { BOARD_LENGTH }
}

/// What kind of stock.
#[derive(Clone, Debug, PartialEq)]
pub enum StockKind {
    /// Plywood and other boards in sheets.
    Sheet {
        /// Thickness as it measures, mm.
        thick: f64,
        /// The thickness it is sold by where that is another, mm.
        called: Option<f64>,
        /// Sizes to be had.
        sizes: Vec<SheetSize>,
        /// Grain.
        grain: Grain,
    },
    /// Solid timber.
    Board {
        /// Sawn thicknesses to buy, mm, rising.
        thick: Vec<f64>,
        /// Lengths to buy, mm, rising; empty where the script does not say.
        lengths: Vec<f64>,
        /// Longest length to buy, mm.
        longest: Option<f64>,
        /// Widest board to buy, mm.
        widest: Option<f64>,
        /// Usual width of boards to buy, which are sawn as the log allows, mm.
        usual: Option<f64>,
        /// Widths to buy, mm, rising: boards are then bought whole, each of one of these.
        /// Empty where the script does not say.
        widths: Vec<f64>,
        /// Sapwood or wane left away along each long edge of a board to buy, mm.
        edge: f64,
        /// Boards in the shop, used first.
        on_hand: Vec<BoardSize>,
        /// What they cost, if known.
        price: Option<BoardPrice>,
        /// Species name for density and movement.
        species: Option<String>,
    },
    /// Round or square blanks for the lathe.
    Blank {
        /// Species name.
        species: Option<String>,
        /// Thicknesses to be had, mm, rising; empty where any can be.
        square: Vec<f64>,
        /// Longest blank to be had, mm.
        longest: Option<f64>,
    },
    /// Glass or mirror, cut to size by the glazier.
    Glass {
        /// Thickness, mm.
        thick: f64,
    },
    /// Bought finished.
    Bought,
}

/// The boards that a wide part is glued up of edge to edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Staves {
    /// How many.
    pub count: usize,
    /// How wide each is when it is jointed, mm.
    pub wide: f64,
}

/// Steps that staves are wide in, mm, and in a job in inches (common practice, no source).
const STAVE: f64 = 1.0;
/// See `STAVE`.
const STAVE_INCH: f64 = INCH / 8.0;

/// How far a width may be over its board by reckoning alone, mm.
const SAME: f64 = 1e-6;

/// What boards cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BoardPrice {
    /// For a cubic metre.
    CubicMetre(f64),
    /// For a board foot as the yard tallies it.
    BoardFoot(f64),
}

/// What of a count of staves is the noise of a division.
const NOISE: f64 = 1e-9;

/// Most staves of one part: more is a slip of the script.
const MOST_STAVES: f64 = 1000.0;

/// More staves than the fewest that are tried.
const MORE_STAVES: usize = 4;

/// The number of staves that takes least of boards of the widths to be had, each stave
/// from the narrowest that holds it: of those alike the fewest. `wide` says how wide a
/// board a stave takes where they are so many.
fn suited(widths: &[f64], fewest: usize, wide: impl Fn(usize) -> f64) -> usize {
    let taken = |staves: &usize| {
        let board = widths.iter().find(|board| **board + SAME >= wide(*staves));
        board.map_or(f64::INFINITY, |board| board * *staves as f64)
    };
    let tried = fewest..=fewest + MORE_STAVES;
    tried.min_by(|a, b| taken(a).total_cmp(&taken(b))).unwrap_or(fewest)
}

impl Stock {
    /// The one thickness a panel of this stock must have, mm; `None` where the
    /// maker planes to thickness.
    pub fn fixed_thickness(&self) -> Option<f64> {
        match self.kind {
            StockKind::Sheet { thick, .. } | StockKind::Glass { thick } => Some(thick),
            StockKind::Board { .. } | StockKind::Blank { .. } | StockKind::Bought => None,
        }
    }

    /// The widest board of it to be had in a job in `unit`, mm: as told, else as is usual for
    /// its species. `None` for what is not sold in boards.
    pub fn widest(&self, unit: Unit) -> Option<f64> {
        let StockKind::Board { widest, usual, widths, species, .. } = &self.kind else { return None };
        let told = widths.last().or(widest.as_ref()).or(usual.as_ref()).copied();
        Some(told.unwrap_or_else(|| timber::usual_widest(species.as_deref(), unit)))
    }

    /// What of its widest board is left between the edges that are left away, mm. `None` for
    /// what is not sold in boards.
    pub fn widest_clear(&self, unit: Unit) -> Option<f64> {
        let StockKind::Board { edge, .. } = &self.kind else { return None };
        Some(self.widest(unit)? - 2.0 * edge)
    }

    /// The boards a part `width` mm wide is glued up of in a job in `unit`, edge to edge, with
    /// `left_on` mm on each board to joint it; `None` where a board is wide enough. Where
    /// several widths are told, staves are made to suit them. They are as wide as a rule shows
    /// and together no less than the part, to whose width they are sawn when they are glued.
    pub fn staves(&self, unit: Unit, width: f64, left_on: f64) -> Option<Staves> {
        let StockKind::Board { widths, edge, .. } = &self.kind else { return None };
        let board = self.widest_clear(unit).filter(|board| width + left_on > *board + SAME)?;
        let room = (board - left_on).max(1.0);
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a small whole number above nothing"
        )]
        let staves = libm::ceil(width / room - NOISE).clamp(1.0, MOST_STAVES) as usize;
        let rough = |wide: f64| wide + left_on + 2.0 * edge;
        let count = suited(widths, staves, |staves| rough(width / staves as f64));
        let exact = width / count as f64;
        let step = if unit == Unit::Inch { STAVE_INCH } else { STAVE };
        let wide = libm::ceil(exact / step - NOISE) * step;
        // Never wider than the boards it was suited to.
        let widest = board + 2.0 * edge;
        let of = widths.iter().copied().find(|board| *board + SAME >= rough(exact)).unwrap_or(widest);
        Some(Staves { count, wide: if rough(wide) > of + SAME { exact } else { wide } })
    }

    /// Mean density, kg/m3: as the script says, else from the table of species
    /// or glass; `None` where neither knows.
    pub fn mean_density(&self) -> Option<f64> {
        self.density.or_else(|| match &self.kind {
            StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
                Species::named(species.as_deref()?).map(Species::density)
            }
            StockKind::Glass { .. } => Some(timber::GLASS),
            StockKind::Sheet { .. } | StockKind::Bought => None,
        })
    }
}
