//! Sawn thicknesses: which board of the rack a solid part is fetched from. Lists, layouts,
//! buying and what a lost part was worth all go by this.

use super::tolerance::APART;
use crate::joinery::{PartSource, WorkedJob};
use crate::model::{Job, Staves, Stock, StockKind};

/// The board a solid part is cut from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct FromBoard {
    /// Sawn thickness of the board, mm: the thinnest to be had that leaves enough to plane
    /// off, else the least that would do.
    pub(crate) thick: f64,
    /// Least sawn thickness that would do, mm.
    pub(crate) need: f64,
    /// Whether boards so thick are to be had.
    pub(crate) to_be_had: bool,
    /// Whether it is ripped off the edge of the board, so that its width lies in the
    /// board's thickness.
    pub(crate) on_edge: bool,
}

impl FromBoard {
    /// Which of length, width and thickness in the rough the board's thickness is.
    pub(crate) fn axis(self) -> usize {
        if self.on_edge { 1 } else { 2 }
    }
}

/// The board of `stock` that a part of the finished width and thickness, mm, comes from.
/// `None` for stock that is not solid timber.
pub(crate) fn from_board(
    job: &Job,
    stock: &Stock,
    [wide, thick]: [f64; 2],
    lipping: bool,
) -> Option<FromBoard> {
    let StockKind::Board { thick: sawn, .. } = &stock.kind else { return None };
    let need = |finished: f64| finished + job.cutting.planing;
    // A row of the list tells its thickness to a thousandth of a millimetre, which of
    // sixteenths of an inch is a hair more than it is.
    let class = |finished: f64| sawn.iter().copied().find(|board| *board + APART >= need(finished));
    // A lipping is ripped off the edge of a board as thick as it is wide.
    if lipping && let Some(board) = class(wide) {
        return Some(FromBoard { thick: board, need: need(wide), to_be_had: true, on_edge: true });
    }
    let board = class(thick);
    let need = need(thick);
    Some(FromBoard { thick: board.unwrap_or(need), need, to_be_had: board.is_some(), on_edge: false })
}

/// The boards part `index` is glued up of edge to edge. `None` where it comes of one,
/// and for lippings.
pub(crate) fn staves(job: &Job, worked: &WorkedJob, index: usize) -> Option<Staves> {
    let part = worked.parts.get(index).filter(|part| matches!(part.source, PartSource::Part(_)))?;
    let stock = job.stock.get(part.stock.0)?;
    stock.staves(job.unit, part.size.y, job.cutting.width)
}
