//! What the rows of the cutting list take of boards: length, width ripped, sawn
//! thickness.

use super::grid::Grid;
use super::laid::SheetRow;
use super::sheet_stock::Whole;
use crate::cutting::CutRow;
use crate::machining::sawn::{FromBoard, from_board};
use crate::measure::LengthStyle;
use crate::model::{Job, Stock, StockId, StockKind};
use crate::problem::Problem;

/// What a length is ripped to, mm.
#[derive(Clone, Copy)]
pub(super) struct Ripped {
    /// Sawn thickness of the board it comes from.
    pub(super) thick: f64,
    /// Width ripped for it.
    pub(super) wide: f64,
}

/// What is cut from boards for a row of the list.
pub(super) struct Length {
    pub(super) stock: StockId,
    /// The row.
    pub(super) row: SheetRow,
    /// Pieces side by side that are glued up to one part's width.
    pub(super) staves: usize,
    /// What it is ripped to.
    pub(super) section: Ripped,
    /// Least sawn thickness it can come from, mm.
    pub(super) need: f64,
    /// Said where it has to be bought and no board is thick enough.
    pub(super) thin: Option<Problem>,
    /// Its name.
    pub(super) name: String,
    /// Rough length, in steps of the layouts.
    pub(super) long: i64,
    /// How many are cut.
    pub(super) quantity: u32,
    /// How many of them lie in grain runs, which are left whole to the boards bought.
    pub(super) in_runs: u32,
}

/// What a row of the list takes of boards, so many of it in runs. `None` for what does
/// not come from boards.
pub(super) fn length_of(whole: Whole<'_>, which: SheetRow, in_runs: usize) -> Option<Length> {
    let Whole { job, worked, list } = whole;
    let row = which.of(list).filter(|row| row.left() > 0)?;
    let part = worked.parts.get(*row.which.first()?)?;
    let size = row.rough.unwrap_or([row.length, row.width, row.thickness]);
    let lipping = matches!(which, SheetRow::Lipping(_));
    let Section { size: section, need, thin, staves } = section(job, part.stock, row, size, lipping)?;
    let count = |parts: usize| u32::try_from(parts * staves).unwrap_or(u32::MAX);
    Some(Length {
        stock: part.stock,
        row: which,
        staves,
        section,
        need,
        thin,
        name: row.name.clone(),
        long: Grid::of(job.unit).up(size[0]),
        quantity: count(row.left()),
        in_runs: if staves == 1 { count(in_runs) } else { 0 },
    })
}

/// The section of board a row is cut from.
struct Section {
    /// What it is ripped to.
    size: Ripped,
    /// Least sawn thickness, mm.
    need: f64,
    /// That no board to be had is so thick.
    thin: Option<Problem>,
    /// How many staves are glued up to its width.
    staves: usize,
}

/// The section of board a row is cut from. `None` for what does not come from
/// boards.
fn section(
    job: &Job,
    stock: StockId,
    row: &CutRow,
    [_, wide, thick]: [f64; 3],
    lipping: bool,
) -> Option<Section> {
    let stock = job.stock.get(stock.0)?;
    let FromBoard { thick: board, need, to_be_had, on_edge } =
        from_board(job, stock, [row.width, row.thickness], lipping)?;
    if on_edge {
        return Some(Section { size: Ripped { thick: board, wide: thick }, need, thin: None, staves: 1 });
    }
    let StockKind::Board { thick: sawn, .. } = &stock.kind else { return None };
    let thickest = sawn.last().filter(|_| !to_be_had);
    let thin = thickest.map(|thickest| too_thin(job, stock, row, (*thickest, need)));
    let Some(staves) = stock.staves(job.unit, row.width, job.cutting.width) else {
        return Some(Section { size: Ripped { thick: board, wide }, need, thin, staves: 1 });
    };
    let wide = staves.wide + job.cutting.width;
    Some(Section { size: Ripped { thick: board, wide }, need, thin, staves: staves.count })
}

/// No board is thick enough.
fn too_thin(job: &Job, stock: &Stock, row: &CutRow, (thickest, need): (f64, f64)) -> Problem {
    let style = LengthStyle::of(job.unit);
    let show = |mm: f64| style.text(mm);
    let message = format!(
        "the thickest `{}` is {}; `{}` needs {} with planing",
        stock.name,
        show(thickest),
        row.name,
        show(need)
    );
    Problem::warning("too-thin", message)
        .at(stock.origin)
        .part(row.name.clone())
        .help("name a thicker board in `thick`, or glue the part up of two")
}
