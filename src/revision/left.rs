//! What is left of the sheets and boards that cut parts came from: their layouts stay as
//! they were sawn, and the rest of the job is laid out on what is left.

use serde::{Deserialize, Serialize};

use super::spare::{Names, Of, Spare, along_grain, is_told, is_turned, take_spare};
use super::tolerance::SAME;
use super::{CutPart, Standing};
use crate::cutting::sheets::{Axis, Piece, SheetLayout, What};
use crate::cutting::{SheetCutting, ShopLists};
use crate::model::{Cutting, Job, Stock, StockKind};

/// The layouts of a set, as far as a later one has to know them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedLayouts {
    /// Sheets and boards as they were laid out, and what was left over of earlier ones.
    pub sheets: Vec<SavedSheet>,
    /// What the script has on hand and is in pieces by now.
    pub spent: Vec<SavedSize>,
}

/// What a sheet or board is of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedSize {
    /// The name of its stock.
    pub stock: String,
    /// Whether it is a board.
    pub board: bool,
    /// Its thickness, that of a board as it was sawn, mm.
    pub thick: f64,
    /// Along the grain and across it, mm.
    pub size: [f64; 2],
}

/// A sheet or board as it was laid out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedSheet {
    /// What it is.
    pub of: SavedSize,
    /// Whether it lay in the shop.
    pub on_hand: bool,
    /// Whether it is left of one that was in pieces before.
    pub left: bool,
    /// What is inside its trims.
    pub usable: SavedPiece,
}

/// A rectangle of it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedPiece {
    /// Along the grain and across it, mm.
    pub size: [f64; 2],
    /// The names of what is cut from it as one: a part, or those folded of one panel.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<String>,
    /// Whether its pieces follow one another across the grain.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub across: bool,
    /// What it is divided into, from low to high, with a saw cut between.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pieces: Vec<SavedPiece>,
    /// Whether something in it is cut already.
    #[serde(skip)]
    cut: bool,
}

/// The layouts of a set that was laid out with `left` of earlier ones.
pub fn saved_layouts(new: Standing<'_>, lists: &ShopLists, left: &LeftOver) -> SavedLayouts {
    let mut spares: Vec<&Spare> = left.spares.iter().collect();
    let mut names = Names::new(new, lists);
    let mut sheets = Vec::new();
    for laid in lists.layouts.sheets.iter().chain(&lists.layouts.boards) {
        for layout in &laid.plan.layouts {
            let spare = take_spare((new.job, laid), layout, &mut spares);
            let sheet = saved_sheet((new.job, laid), (layout, spare.is_some()), &mut names);
            sheets.extend(sheet.filter(|_| is_told(new.job, laid, layout.sheet)));
        }
    }
    // What nothing is laid on now may serve once more.
    sheets.extend(spares.into_iter().map(|spare| SavedSheet {
        of: spare.saved(),
        on_hand: true,
        left: true,
        usable: SavedPiece { size: spare.size, ..SavedPiece::default() },
    }));
    SavedLayouts { sheets, spent: left.spent.clone() }
}

fn saved_sheet(
    (job, laid): (&Job, &SheetCutting),
    (layout, left): (&SheetLayout, bool),
    names: &mut Names<'_>,
) -> Option<SavedSheet> {
    let size = laid.sizes.get(layout.sheet)?;
    let of = SavedSize {
        stock: laid.name.clone(),
        board: laid.boards,
        thick: laid.thick,
        size: along_grain(job, laid, [size.length, size.width]),
    };
    let usable = saved_piece((job, laid), &layout.usable, names);
    Some(SavedSheet { of, on_hand: size.on_hand, left, usable })
}

/// A piece and those in it. A layout is divided a few times only, which bounds the depth.
fn saved_piece((job, laid): (&Job, &SheetCutting), piece: &Piece, names: &mut Names<'_>) -> SavedPiece {
    let size = along_grain(job, laid, piece.size.map(|side| laid.grid.mm(side)));
    let whole = SavedPiece { size, ..SavedPiece::default() };
    match &piece.what {
        What::Offcut => whole,
        What::Part { part, .. } => {
            let parts = laid.rows.get(*part).map_or_else(Vec::new, |row| names.all(*row));
            SavedPiece { parts, ..whole }
        }
        What::Divided { along, pieces } => {
            let turned = is_turned(job, laid);
            let pieces = pieces.iter().map(|one| saved_piece((job, laid), one, names)).collect();
            SavedPiece { across: (*along == Axis::Y) != turned, pieces, ..whole }
        }
    }
}

/// What is left of sheets and boards once parts are cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LeftOver {
    /// Each rectangle that is free.
    pub spares: Vec<Spare>,
    /// What the script has on hand and is in pieces by now.
    pub spent: Vec<SavedSize>,
}

/// No sheet or board is as long, mm.
const LONGEST: f64 = 100_000.0;

/// What is left of a set's sheets and boards when `cut` is cut of its parts. A sheet
/// nothing is cut from yet is whole, and none of it is left over.
pub fn left_over(saved: &SavedLayouts, cut: &[CutPart], rules: &Cutting) -> LeftOver {
    let mut counts: Vec<(&str, usize)> = cut.iter().map(|one| (one.part.as_str(), one.count)).collect();
    let mut all = LeftOver { spares: Vec::new(), spent: saved.spent.clone() };
    for sheet in &saved.sheets {
        let mut usable = sheet.usable.clone();
        mark(&mut usable, &mut counts);
        if usable.cut && sheet.on_hand && !sheet.left {
            all.spent.push(sheet.of.clone());
        }
        let mut sizes = Vec::new();
        if usable.cut {
            free(&usable, rules, &mut sizes);
        } else if sheet.left {
            sizes.push(usable.size);
        }
        // A file that was edited may say anything.
        sizes.retain(|size| size.iter().all(|side| (rules.kerf..LONGEST).contains(side)));
        let of = if sheet.of.board { Of::Sawn } else { Of::Sheet };
        all.spares.extend(sizes.into_iter().map(|size| Spare {
            of,
            part: None,
            stock: sheet.of.stock.clone(),
            thick: sheet.of.thick,
            size,
        }));
    }
    // The order they are used in must not depend on how they were used last, or a set
    // made once more would come out otherwise.
    let by_size = |a: &Spare, b: &Spare| {
        let long = b.size[0].total_cmp(&a.size[0]);
        let thick = b.thick.total_cmp(&a.thick);
        a.stock.cmp(&b.stock).then(thick).then(long).then(b.size[1].total_cmp(&a.size[1]))
    };
    all.spares.sort_by(by_size);
    all
}

/// Marks what is cut of a piece, and takes it off the counts.
fn mark(piece: &mut SavedPiece, counts: &mut [(&str, usize)]) {
    for name in &piece.parts {
        if let Some((_, count)) = counts.iter_mut().find(|(known, count)| known == name && *count > 0) {
            *count -= 1;
            piece.cut = true;
        }
    }
    for one in &mut piece.pieces {
        mark(one, counts);
        piece.cut |= one.cut;
    }
}

/// The rectangles of a piece that no cut part came from. Neighbours are still together:
/// nothing between them had to be sawn yet.
fn free(piece: &SavedPiece, rules: &Cutting, sizes: &mut Vec<[f64; 2]>) {
    let axis = usize::from(piece.across);
    for group in piece.pieces.chunk_by(|a, b| !a.cut && !b.cut) {
        if let [one] = group
            && one.cut
        {
            free(one, rules, sizes);
            continue;
        }
        let mut size = piece.size;
        let saw_cuts = rules.kerf * (group.len() - 1) as f64;
        size[axis] = group.iter().map(|one| one.size[axis]).sum::<f64>() + saw_cuts;
        let worth = size[0].min(size[1]) >= rules.offcut || group.iter().any(SavedPiece::holds);
        if worth {
            sizes.push(size);
        }
    }
}

impl SavedPiece {
    /// Whether a part is to come out of it.
    fn holds(&self) -> bool {
        !self.parts.is_empty() || self.pieces.iter().any(Self::holds)
    }
}

impl Spare {
    /// Whether it is of a stock.
    pub fn is_of(&self, stock: &Stock) -> bool {
        self.stock == stock.name && is_of(&stock.kind, &self.saved())
    }

    /// What it is of.
    fn saved(&self) -> SavedSize {
        SavedSize {
            stock: self.stock.clone(),
            board: self.of != Of::Sheet,
            thick: self.thick,
            size: self.size,
        }
    }
}

/// A job without what it has on hand and is in pieces by now.
pub fn without(job: &Job, spent: &[SavedSize]) -> Job {
    let mut job = job.clone();
    for gone in spent {
        let Some(stock) =
            job.stock.iter_mut().find(|stock| stock.name == gone.stock && is_of(&stock.kind, gone))
        else {
            continue;
        };
        let near = |length: f64, width: f64| {
            let same = |a: f64, b: f64| (a - b).abs() < SAME;
            let [long, wide] = gone.size;
            // Whichever way the grain runs along it.
            (same(length, long) && same(width, wide)) || (same(length, wide) && same(width, long))
        };
        let found = match &mut stock.kind {
            StockKind::Sheet { sizes, .. } => sizes
                .iter_mut()
                .find(|size| size.on_hand && size.count != Some(0) && near(size.length, size.width)),
            StockKind::Board { on_hand, .. } => {
                let mut of_it = on_hand.iter_mut().filter(|one| (one.thick - gone.thick).abs() < SAME);
                of_it
                    .find(|one| one.size.count != Some(0) && near(one.size.length, one.size.width))
                    .map(|one| &mut one.size)
            }
            _ => None,
        };
        if let Some(count) = found.and_then(|size| size.count.as_mut()) {
            *count -= 1;
        }
    }
    job
}

fn is_of(kind: &StockKind, gone: &SavedSize) -> bool {
    match kind {
        StockKind::Sheet { thick, .. } => !gone.board && (thick - gone.thick).abs() < SAME,
        StockKind::Board { .. } => gone.board,
        _ => false,
    }
}
