//! What is laid out on what.

use super::grid::Grid;
use crate::cutting::sheets::{CutSequence, SheetJob, SheetLayout, SheetPart, SheetPlan};
use crate::cutting::units::SQUARE_METRES;
use crate::cutting::{CutRow, CuttingList};
use crate::model::{SheetSize, StockId};

/// All layouts of a job.
#[derive(Clone, Debug, Default)]
pub struct Layouts {
    /// One for each sheet stock that parts are cut from, in script order.
    pub sheets: Vec<SheetCutting>,
    /// One for each sawn thickness of boards that parts are cut from: those in the
    /// shop, then those to buy, in script order, the thickest first.
    pub boards: Vec<SheetCutting>,
}

/// A layout that is cut one or more times.
#[derive(Clone, Debug)]
pub struct Alike<T> {
    /// The layout.
    pub layout: T,
    /// How many sheets or boards are cut by it.
    pub count: usize,
}

/// The layouts of one sheet stock, or of boards of one thickness.
#[derive(Clone, Debug)]
pub struct SheetCutting {
    /// Whether these are boards of solid timber.
    pub boards: bool,
    /// What lengths of `job` and `plan` are counted in.
    pub grid: Grid,
    /// The stock.
    pub stock: StockId,
    /// Its name.
    pub name: String,
    /// Its thickness, mm.
    pub thick: f64,
    /// The thickness it is sold by where that is another, mm.
    pub called: Option<f64>,
    /// Whether it has a grain.
    pub grained: bool,
    /// The job as it was laid out; its parts are rows of the cutting list.
    pub job: SheetJob,
    /// For each part of `job`, its row of the cutting list.
    pub rows: Vec<SheetRow>,
    /// For each sheet of `job`, what it is.
    pub sizes: Vec<SheetSize>,
    /// The plan.
    pub plan: SheetPlan,
    /// The largest rest that comes off a board to buy in one piece, m²: by so much it
    /// could be shorter or narrower.
    pub rest: f64,
    /// Its layouts, each once, with the cuts of each.
    pub layouts: Vec<(Alike<SheetLayout>, CutSequence)>,
}

/// A row of the cutting list that is cut from a sheet or board as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetRow {
    /// A row of [`CuttingList::parts`].
    Part(usize),
    /// A panel of [`CuttingList::folded`].
    Folded(usize),
    /// A row of [`CuttingList::lippings`].
    Lipping(usize),
}

impl SheetCutting {
    /// Whether these are boards to buy.
    pub fn boards_to_buy(&self) -> bool {
        self.boards && !self.sizes.iter().any(|size| size.on_hand)
    }

    /// The kinds of sheet or board that are cut, with how many of each.
    pub fn used(&self) -> impl Iterator<Item = (usize, &SheetSize)> {
        let count = |kind| self.plan.layouts.iter().filter(|one| one.sheet == kind).count();
        self.sizes.iter().enumerate().map(move |(kind, size)| (count(kind), size)).filter(|(n, _)| *n > 0)
    }

    /// Area of all sheets or boards cut, and of the parts cut from them, m².
    pub fn areas(&self) -> (f64, f64) {
        let whole = self.used().map(|(count, size)| count as f64 * size.length * size.width).sum::<f64>();
        let placed = |part: usize| {
            let gaps = self.plan.unplaced.iter().flat_map(|gap| &gap.parts);
            gaps.filter(|gap| **gap == part).count()
        };
        let part = |(index, part): (usize, &SheetPart)| {
            let count = (part.quantity as usize).saturating_sub(placed(index)) as f64;
            part.size.iter().map(|side| self.grid.mm(*side)).product::<f64>() * count
        };
        let parts = self.job.parts.iter().enumerate().map(part).sum::<f64>();
        (whole * SQUARE_METRES, parts * SQUARE_METRES)
    }

    /// The row of the cutting list that a part of `job` is.
    pub fn row<'l>(&self, part: usize, list: &'l CuttingList) -> Option<&'l CutRow> {
        self.rows.get(part)?.of(list)
    }
}

impl SheetRow {
    /// The row itself.
    pub fn of(self, list: &CuttingList) -> Option<&CutRow> {
        match self {
            Self::Part(row) => list.parts.get(row),
            Self::Folded(panel) => list.folded.get(panel).map(|panel| &panel.row),
            Self::Lipping(row) => list.lippings.get(row),
        }
    }
}
