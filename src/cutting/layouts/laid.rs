//! What is laid out on what.

use crate::cutting::sheets::{CutSequence, SheetJob, SheetLayout, SheetPlan};
use crate::cutting::sticks::{StickJob, StickLayout, StickPlan};
use crate::cutting::{CutRow, CuttingList};
use crate::model::{SheetSize, StockId};

/// All layouts of a job.
#[derive(Clone, Debug, Default)]
pub struct Layouts {
    /// One for each sheet stock that parts are cut from, in script order.
    pub sheets: Vec<SheetCutting>,
    /// One for each thickness of boards in the shop that parts are cut from.
    pub boards: Vec<SheetCutting>,
    /// One for each section that is cut from boards, in script order, thicker
    /// and wider first.
    pub sticks: Vec<StickCutting>,
}

/// A layout that is cut one or more times.
#[derive(Clone, Debug)]
pub struct Alike<T> {
    /// The layout.
    pub layout: T,
    /// How many sheets or sticks are cut by it.
    pub count: usize,
}

/// The layouts of one sheet stock, or of boards of one thickness in the shop.
#[derive(Clone, Debug)]
pub struct SheetCutting {
    /// Whether these are boards of solid timber.
    pub boards: bool,
    /// The stock.
    pub stock: StockId,
    /// Its name.
    pub name: String,
    /// Its thickness, mm.
    pub thick: f64,
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
    /// Its layouts, each once, with the cuts of each.
    pub layouts: Vec<(Alike<SheetLayout>, CutSequence)>,
}

/// The layouts of one section of solid timber.
#[derive(Clone, Debug)]
pub struct StickCutting {
    /// The stock.
    pub stock: StockId,
    /// Its name.
    pub name: String,
    /// Sawn thickness of the boards, mm; where the script names none thick
    /// enough, what the parts and planing need.
    pub thick: f64,
    /// Width ripped from the board, mm.
    pub width: f64,
    /// The job as it was laid out.
    pub job: StickJob,
    /// For each part of `job`, what is cut as one length there.
    pub members: Vec<StickMember>,
    /// The plan.
    pub plan: StickPlan,
    /// Its layouts, each once.
    pub layouts: Vec<Alike<StickLayout>>,
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

/// What is cut as one length from a stick.
#[derive(Clone, Debug, PartialEq)]
pub struct StickMember {
    /// Rows of the cutting list in order: one, or the members of a grain run.
    pub rows: Vec<StickRow>,
    /// Pieces side by side that are glued up to one part's width.
    pub staves: usize,
}

/// A row of the cutting list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StickRow {
    /// A row of [`CuttingList::parts`].
    Part(usize),
    /// A row of [`CuttingList::lippings`].
    Lipping(usize),
}

impl SheetCutting {
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

impl StickRow {
    /// The row itself.
    pub fn of(self, list: &CuttingList) -> Option<&CutRow> {
        match self {
            Self::Part(row) => list.parts.get(row),
            Self::Lipping(row) => list.lippings.get(row),
        }
    }
}

/// Puts layouts that are alike together, in the order they are first met.
pub(super) fn together<T>(all: Vec<T>, alike: impl Fn(&T, &T) -> bool) -> Vec<Alike<T>> {
    let mut list: Vec<Alike<T>> = Vec::new();
    for layout in all {
        match list.iter_mut().find(|have| alike(&have.layout, &layout)) {
            Some(have) => have.count += 1,
            None => list.push(Alike { layout, count: 1 }),
        }
    }
    list
}
