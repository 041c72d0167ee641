//! Boards of which no two parts lie side by side: then only lengths count, and the
//! search for sticks, which proves far more, does better.

use super::pieces::layout;
use super::strips::{Filled, Shop, Strip};
use crate::cutting::sheets::{Axis, SheetJob, SheetLayout};
use crate::cutting::sticks::{StickJob, StickPart, StickStock, cut_sticks};

/// The layouts, and whether they are proven to cost the least. `None` where parts lie
/// side by side, in runs, or do not fit.
pub(super) fn by_lengths(job: &SheetJob, steps: u64) -> Option<(Vec<SheetLayout>, bool)> {
    let shop = Shop::new(job);
    let wide = shop.boards.first()?[1];
    let alike =
        job.sheets.iter().all(|board| board.size[1] == job.sheets[0].size[1] && board.count.is_none());
    let narrowest = shop.parts.iter().map(|part| part[1]).min()?;
    let fits = shop.parts.iter().all(|part| part[1] <= wide);
    if !alike || !fits || 2 * narrowest <= wide || !job.runs.is_empty() {
        return None;
    }
    let part = |part: &crate::cutting::sheets::SheetPart| StickPart {
        id: part.id.clone(),
        length: part.size[0],
        mitres: [0, 0],
        quantity: part.quantity,
    };
    let trim = |board: &crate::cutting::sheets::SheetStock| board.trim[0] + board.trim[1];
    let stick = |board: &crate::cutting::sheets::SheetStock| StickStock {
        id: board.id.clone(),
        length: board.size[0] - trim(board),
        count: None,
        cost: board.cost,
    };
    let sticks = StickJob {
        parts: job.parts.iter().map(part).collect(),
        sticks: job.sheets.iter().map(stick).collect(),
        kerf: job.kerf,
        end_trim: 0,
        may_turn_over: false,
    };
    let plan = cut_sticks(&sticks, steps, &|| false).ok().filter(|plan| plan.unplaced.is_empty())?;
    let boards = plan.layouts.iter().map(|one| {
        // Each length is a section of the board, ripped to its part's width.
        let strips = one
            .pieces
            .iter()
            .map(|piece| Strip { broad: shop.parts[piece.part][0], parts: vec![piece.part] });
        layout(job, &Filled { kind: one.stick, way: Axis::X, strips: strips.collect(), area: 0 })
    });
    Some((boards.collect(), plan.proven))
}
