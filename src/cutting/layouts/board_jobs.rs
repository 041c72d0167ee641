//! Parts of solid timber laid out on the boards in the shop, before any are
//! bought.

use super::board_sizes::trims;
use super::grid::Grid;
use super::laid::SheetCutting;
use super::lengths::Length;
use super::sequenced::OfBoards;
use super::sheet_stock::{EFFORT, costs, longer, sheet_stock};
use crate::cutting::sheets::{SheetJob, SheetPart, SheetPlan, lay_out};
use crate::cutting::tolerance::{APART, SAME};
use crate::model::{BoardSize, Job, SheetSize, Stock, StockId, StockKind};

/// Lays out on boards on hand what they are thick, long and wide enough for,
/// and takes it off `lengths`; the rest is bought. Grain runs are left whole
/// to the boards bought.
pub(super) fn cut_on_hand(job: &Job, lengths: &mut Vec<Length>) -> Vec<SheetCutting> {
    let mut all = Vec::new();
    for (index, stock) in job.stock.iter().enumerate() {
        let StockKind::Board { on_hand, .. } = &stock.kind else { continue };
        let mut thicknesses: Vec<f64> = on_hand.iter().map(|board| board.thick).collect();
        thicknesses.sort_by(f64::total_cmp);
        thicknesses.dedup();
        for thick in thicknesses {
            let boards = Boards { job, id: StockId(index), stock, thick, sizes: sizes(on_hand, thick) };
            all.extend(boards.cut(lengths));
        }
    }
    lengths.retain(|length| length.quantity > 0);
    all
}

/// The boards of one thickness.
fn sizes(on_hand: &[BoardSize], thick: f64) -> Vec<SheetSize> {
    on_hand.iter().filter(|board| board.thick.total_cmp(&thick).is_eq()).map(|board| board.size).collect()
}

/// Boards of one thickness in the shop.
struct Boards<'a> {
    job: &'a Job,
    id: StockId,
    stock: &'a Stock,
    thick: f64,
    sizes: Vec<SheetSize>,
}

impl Boards<'_> {
    /// Whether a length may come from these: not from a board so much thicker
    /// that one to be had would be nearer.
    fn serves(&self, length: &Length) -> bool {
        let StockKind::Board { thick: sawn, .. } = &self.stock.kind else { return false };
        let bought = if length.thin.is_some() || sawn.is_empty() { f64::MAX } else { length.section.thick };
        length.stock == self.id
            && length.quantity > length.in_runs
            && length.need <= self.thick + SAME
            && self.thick <= bought + APART
    }

    /// The layouts, if anything comes from these boards.
    fn cut(&self, lengths: &mut [Length]) -> Option<SheetCutting> {
        let served: Vec<usize> = (0..lengths.len()).filter(|&at| self.serves(&lengths[at])).collect();
        let mut task = self.task(served.iter().map(|&at| &lengths[at]));
        // Sizes of boards no one could cut are told by what is then bought.
        let mut plan = lay_out(&task, longer(EFFORT, self.job), &|| false)
            .ok()
            .filter(|plan| !plan.layouts.is_empty())?;
        // What found no place is bought, so it is no part of this job.
        for gap in plan.unplaced.iter().flat_map(|gap| &gap.parts) {
            task.parts[*gap].quantity -= 1;
        }
        if !plan.unplaced.is_empty() {
            plan = SheetPlan { unplaced: Vec::new(), bound: 0, proven: false, ..plan };
        }
        for (part, &at) in task.parts.iter().zip(&served) {
            lengths[at].quantity -= part.quantity;
        }
        let rows = served.iter().map(|&at| lengths[at].row).collect();
        let sizes = self.sizes.clone();
        let of = OfBoards {
            grid: Grid::of(self.job.unit),
            stock: (self.id, self.stock),
            thick: self.thick,
            rows,
            sizes,
            rest: 0.0,
        };
        Some(of.laid(task, plan))
    }

    /// The lengths as parts, the boards as sheets that are trimmed at their
    /// ends alone.
    fn task<'a>(&self, lengths: impl Iterator<Item = &'a Length>) -> SheetJob {
        let (rules, grid) = (&self.job.cutting, Grid::of(self.job.unit));
        let part = |length: &Length| SheetPart {
            quantity: length.quantity - length.in_runs,
            ..board_part(grid, length)
        };
        let costs = costs(&self.sizes);
        let board = |(size, cost): (&SheetSize, i64)| {
            let mut board = sheet_stock(self.job, size, cost);
            board.trim = trims(self.job, size);
            board
        };
        SheetJob {
            parts: lengths.map(part).collect(),
            runs: Vec::new(),
            sheets: self.sizes.iter().zip(costs).map(board).collect(),
            kerf: grid.up(rules.kerf),
            levels: Some(rules.levels),
            useful_offcut: grid.up(rules.offcut),
        }
    }
}

/// What is cut as one piece of a board, its grain along it.
pub(super) fn board_part(grid: Grid, length: &Length) -> SheetPart {
    SheetPart {
        id: length.name.clone(),
        size: [length.long, grid.up(length.section.wide)],
        quantity: length.quantity,
        may_turn: false,
    }
}
