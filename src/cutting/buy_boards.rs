//! Boards to buy: what the layouts take, and the waste.

use super::CuttingList;
use super::buy_line::{Boards, Bought, BuyLine, Group, Measure, Note};
use super::layouts::SheetCutting;
use super::tolerance::{SAME, WHOLE_BOARDS};
use super::units::{PER_CENT, THOUSAND};
use crate::model::{BoardPrice, Job, StockKind};

/// A board foot, m³: 144 cubic inches (NHLA rules as published for export
/// buyers).
pub const BOARD_FOOT: f64 = 0.002_359_737_216;

/// The thinnest board is counted an inch thick, mm (NHLA: under an inch counts
/// as one).
const COUNTED: f64 = 25.4;

/// Inches in a foot.
const FOOT: f64 = 12.0;

/// Steps of a board foot that are ordered.
const TENTHS: f64 = 10.0;

/// Steps of a cubic metre that boards are counted in, a tenth of a litre of wood: as
/// they are printed, so that price by quantity as printed is the cost.
const SHOWN: f64 = 1e4;

/// Surface measure of a whole board, `width` and `length` in mm, square feet: its
/// width in inches by its length in feet, over twelve, to the nearest whole (NHLA rules
/// as published for export buyers). A half goes up.
pub fn surface_measure(length: f64, width: f64) -> f64 {
    libm::floor(width / COUNTED * (length / COUNTED / FOOT) / FOOT + 0.5)
}

/// The boards of one stock and sawn thickness.
///
/// Where the script names widths to be had, boards are bought whole; what is left of
/// them is the waste, and where that is less than the script tells, more boards are
/// bought. Else boards are of the widths the log allows and the yard sells by volume:
/// bought is what the layouts take, without the rest that comes off a board in one
/// piece, and the waste.
pub(super) fn boards(job: &Job, list: &CuttingList, cutting: &SheetCutting) -> Option<BuyLine> {
    let (laid, parts) = cutting.areas();
    if laid <= 0.0 {
        return None;
    }
    let stock = job.stock.get(cutting.stock.0);
    let (price, whole, told) = match stock.map(|stock| &stock.kind) {
        Some(StockKind::Board { price, widths, widest, usual, .. }) => {
            (*price, !widths.is_empty(), widest.is_some() || usual.is_some())
        }
        _ => (None, false, false),
    };
    let taken = (laid - cutting.rest) * (1.0 + job.cutting.waste / PER_CENT);
    let mut sizes: Vec<(usize, [f64; 2])> =
        cutting.used().map(|(count, size)| (count, [size.length, size.width])).collect();
    let to_be_had = cutting.sizes.iter().map(|size| [size.length, size.width]);
    let smallest = to_be_had.min_by(|a, b| area(*a).total_cmp(&area(*b)))?;
    // By volume nobody buys whole boards: those it is laid out on are named, no more.
    let spare = if whole { spare(&mut sizes, smallest, taken - laid) } else { 0 };
    let bought: f64 = sizes.iter().map(|(count, size)| *count as f64 * area(*size)).sum();
    let metres = cutting.thick / THOUSAND;
    let quantity = metres * if whole { bought } else { taken };
    let inches = cutting.thick.max(COUNTED) / COUNTED;
    let feet = tallied(if whole {
        sizes.iter().map(|(count, [long, wide])| *count as f64 * surface_measure(*long, *wide) * inches).sum()
    } else {
        taken * inches * COUNTED / THOUSAND / BOARD_FOOT
    });
    let quantity = libm::ceil(quantity * SHOWN - WHOLE_BOARDS) / SHOWN;
    let price = price.map(|price| match price {
        BoardPrice::CubicMetre(price) => price,
        // The yard charges the feet it tallies, not what the boards hold.
        BoardPrice::BoardFoot(price) => price * feet / quantity,
    });
    let staved = cutting.rows.iter().any(|row| row.of(list).is_some_and(|row| row.staves.is_some()));
    let glued_over = stock.and_then(|stock| stock.widest(job.unit)).filter(|_| staved && !whole && !told);
    // Of what is named beside it: less the offcut where that is not bought.
    let named = if whole { laid } else { laid - cutting.rest };
    let (waste, parts) = (job.cutting.waste, PER_CENT * parts / named);
    let edge = cutting.sizes.iter().map(|size| size.edge).fold(0.0, f64::max);
    let note = Boards {
        feet,
        waste,
        sizes,
        spare,
        whole,
        glued_over,
        parts,
        edge,
        less_rest: !whole && cutting.rest > 0.0,
    };
    Some(BuyLine {
        group: Group::Boards,
        what: Bought::Stock(cutting.name.clone()),
        size: vec![cutting.thick],
        quantity,
        unit: Measure::CubicMetres,
        note: Some(Note::Boards(note)),
        price,
        pack: None,
        code: None,
    })
}

/// Board feet as they are ordered: in tenths, and never fewer than are needed, so that
/// the remark and the quantity beside it are one figure.
fn tallied(feet: f64) -> f64 {
    libm::ceil(feet * TENTHS - WHOLE_BOARDS) / TENTHS
}

/// Area of a board, m².
fn area([long, wide]: [f64; 2]) -> f64 {
    long / THOUSAND * (wide / THOUSAND)
}

/// Adds boards of a size for `missing` m² of waste that what is laid out leaves
/// uncovered. How many.
fn spare(sizes: &mut Vec<(usize, [f64; 2])>, size: [f64; 2], missing: f64) -> usize {
    if missing <= SAME {
        return 0;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small whole number")]
    let more = libm::ceil(missing / area(size) - WHOLE_BOARDS).max(0.0) as usize;
    match sizes.iter_mut().find(|(_, known)| area(*known).total_cmp(&area(size)).is_eq()) {
        Some((count, _)) => *count += more,
        None => sizes.push((more, size)),
    }
    more
}
