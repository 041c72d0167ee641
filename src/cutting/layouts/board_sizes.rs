//! Sizes of the boards to buy that parts are laid out on.

use super::grid::Grid;
use super::lengths::Length;
use super::sheet_stock::sheet_stock;
use crate::cutting::sheets::SheetStock;
use crate::cutting::tolerance::SAME;
use crate::measure::Unit;
use crate::model::{Job, SheetSize, Stock, StockKind, board_length};

/// Widths boards usually have where the script names none, mm, and in shops that work
/// in inches (common practice, no source).
const WIDTHS: [f64; 5] = [150.0, 175.0, 200.0, 225.0, 250.0];
const WIDTHS_INCH: [f64; 5] = [152.4, 177.8, 203.2, 228.6, 254.0];

/// Where no width of board is said, one for a part wider than the usual boards is asked
/// for in such steps, mm.
const STEP: f64 = 10.0;

/// Square millimetres in the square centimetre that boards are counted in.
const SQUARE_CENTIMETRE: f64 = 100.0;

/// The sizes to be had for these lengths.
pub(super) fn sizes(job: &Job, stock: &Stock, group: &[Length]) -> Vec<SheetSize> {
    let StockKind::Board { lengths, longest, widest, usual, widths, edge, .. } = &stock.kind else {
        return Vec::new();
    };
    let longs = if lengths.is_empty() {
        vec![longest.unwrap_or_else(|| board_length(job.unit))]
    } else {
        lengths.clone()
    };
    let mut wides = match (widths.is_empty(), usual) {
        (false, _) => widths.clone(),
        (true, Some(usual)) => vec![*usual],
        (true, None) if job.unit == Unit::Inch => WIDTHS_INCH.to_vec(),
        (true, None) => WIDTHS.to_vec(),
    };
    if let (true, None, None, Some(most)) = (widths.is_empty(), usual, widest, stock.widest(job.unit)) {
        wides.retain(|wide| *wide < most + SAME);
    }
    if let (true, Some(widest)) = (widths.is_empty(), widest) {
        wides.retain(|wide| *wide < widest - SAME);
        wides.push(*widest);
    }
    // What is not glued up of staves comes of one board, however wide.
    let need = group.iter().map(|length| length.section.wide).fold(0.0, f64::max) + 2.0 * edge;
    if wides.iter().all(|wide| *wide + SAME < need) {
        wides.push(libm::ceil(need / STEP - SAME) * STEP);
    }
    let size = |length: f64, width: f64| SheetSize {
        length,
        width,
        price: None,
        count: None,
        on_hand: false,
        edge: *edge,
    };
    longs.iter().flat_map(|long| wides.iter().map(move |wide| size(*long, *wide))).collect()
}

/// Boards of these sizes as the search counts them: square centimetres, and one for
/// each board, so that of plans alike the one of fewest boards is the cheapest.
pub(super) fn boards(job: &Job, sizes: &[SheetSize]) -> Vec<SheetStock> {
    let grid = Grid::of(job.unit);
    let board = |size: &SheetSize| {
        let area = grid.square_mm(grid.down(size.length) * grid.down(size.width));
        #[allow(clippy::cast_possible_truncation, reason = "boards are less than a thousand square metres")]
        let mut board = sheet_stock(job, size, (area / SQUARE_CENTIMETRE).round() as i64 + 1);
        board.trim = trims(job, size);
        board
    };
    sizes.iter().map(board).collect()
}

/// What is cut off the ends of a board, and off its edges where they are left away.
pub(super) fn trims(job: &Job, size: &SheetSize) -> [i64; 4] {
    let grid = Grid::of(job.unit);
    let (end, edge) = (grid.up(job.cutting.end_trim), grid.up(size.edge));
    let end = if 2 * end < grid.down(size.length) { end } else { 0 };
    [end, end, edge, edge]
}
