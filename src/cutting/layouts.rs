//! The layouts of a job: every part of sheet goods and of boards laid out on
//! what can be bought or lies in the shop.

use super::sheets::{CutSequence, SheetJob, SheetLayout, SheetPlan};
use super::sticks::{StickJob, StickLayout, StickPlan};
use super::{CutRow, CuttingList, sheet_jobs, stick_jobs};
use crate::joinery::WorkedJob;
use crate::measure::{LengthStyle, Unit};
use crate::model::{Job, SheetSize, StockId};
use crate::problem::Problem;

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

/// Lays out everything on `list`. Problems are about what has no place and
/// what cannot be laid out.
pub fn layouts(job: &Job, worked: &WorkedJob, list: &CuttingList) -> (Layouts, Vec<Problem>) {
    let mut problems = Vec::new();
    let sheets = sheet_jobs::cut_sheets(job, worked, list, &mut problems);
    let (boards, sticks) = stick_jobs::cut_boards(job, worked, list, &mut problems);
    (Layouts { sheets, boards, sticks }, problems)
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

/// A length in the 0.1 mm of the layouts, rounded up, so that nothing is cut
/// short.
#[allow(clippy::cast_possible_truncation, reason = "parts are shorter than 100 m")]
pub(super) fn tenths(mm: f64) -> i64 {
    libm::ceil(mm * 10.0 - 1e-6) as i64
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

/// A text of the solvers, whose lengths are in mm, in the unit of the job.
pub(super) fn in_unit_of(job: &Job, text: &str) -> String {
    if job.unit == Unit::Mm {
        return text.to_owned();
    }
    let style = LengthStyle::of(job.unit);
    let words: Vec<&str> = text.split(' ').collect();
    let mut said: Vec<String> = Vec::new();
    let mut skip = false;
    for (i, word) in words.iter().enumerate() {
        if std::mem::take(&mut skip) {
            continue;
        }
        let length = word.parse::<f64>().ok().filter(|_| words.get(i + 1) == Some(&"mm"));
        skip = length.is_some();
        said.push(length.map_or_else(|| (*word).to_owned(), |mm| style.text(mm)));
    }
    said.join(" ")
}
