//! What is cut from boards, as lengths of one section each.

use super::laid::{StickMember, StickRow};
use super::sheet_stock::Whole;
use super::tenths::tenths;
use crate::cutting::CutRow;
use crate::cutting::sticks::StickPart;
use crate::cutting::tolerance::SAME;
use crate::geometry::DVec3;
use crate::joinery::{CutKind, Stage, WorkedPart};
use crate::machining::ends::slope;
use crate::measure::LengthStyle;
use crate::model::{Job, Stock, StockId, StockKind};
use crate::problem::Problem;

/// Something to cut as one length.
pub(super) struct Length {
    pub(super) stock: StockId,
    pub(super) member: StickMember,
    /// Sawn thickness it comes from and width ripped for it, mm.
    pub(super) section: (f64, f64),
    /// Least sawn thickness it can come from, mm.
    pub(super) need: f64,
    /// Said where it has to be bought and no board is thick enough.
    pub(super) thin: Option<Problem>,
    pub(super) part: StickPart,
    /// Slope of its steepest end from square, degrees.
    pub(super) slope: f64,
    /// Whether it has the same section either way up when it is cut off.
    pub(super) plain: bool,
}

/// The rough size of a row.
fn rough(row: &CutRow) -> [f64; 3] {
    row.rough.unwrap_or([row.length, row.width, row.thickness])
}

/// A run as one length.
pub(super) fn run_length(whole: Whole<'_>, rows: &[usize]) -> Option<Length> {
    let Whole { job, worked, list } = whole;
    let members: Vec<&CutRow> = rows.iter().map(|&row| &list.parts[row]).collect();
    let first = members.first()?;
    let kerfs = job.cutting.kerf * (members.len() as f64 - 1.0);
    let size = members.iter().map(|row| rough(row)).fold([kerfs, 0.0, 0.0], |all, [long, wide, thick]| {
        [all[0] + long, f64::max(all[1], wide), f64::max(all[2], thick)]
    });
    let stock = worked.parts.get(first.which[0])?.stock;
    let Section { size: section, need, thin, staves } = section(job, stock, first, size, false)?;
    let names: Vec<&str> = members.iter().map(|row| row.name.as_str()).collect();
    let part = StickPart {
        id: names.join(", "),
        length: tenths(size[0]),
        mitres: [0, 0],
        quantity: staves_of(1, staves),
    };
    let rows = rows.iter().map(|&row| StickRow::Part(row)).collect();
    let member = StickMember { rows, staves };
    Some(Length { stock, member, section, need, thin, part, slope: 0.0, plain: false })
}

/// How many lengths so many parts of so many staves take.
fn staves_of(quantity: usize, staves: usize) -> u32 {
    u32::try_from(quantity * staves).unwrap_or(u32::MAX)
}

/// A row of the list as a length, less those cut in runs.
pub(super) fn one_length(whole: Whole<'_>, which: StickRow, row: &CutRow, taken: usize) -> Option<Length> {
    let Whole { job, worked, .. } = whole;
    let part = worked.parts.get(row.which[0])?;
    let quantity = row.quantity.checked_sub(taken).filter(|n| *n > 0)?;
    let size = rough(row);
    let lipping = matches!(which, StickRow::Lipping(_));
    let Section { size: section, need, thin, staves } = section(job, part.stock, row, size, lipping)?;
    // A lipping is glued on square and overlong; its ends are cut with the panel.
    let ends = if lipping { [None, None] } else { [-DVec3::X, DVec3::X].map(|way| slope(part, way)) };
    let mitres = ends.map(|end| end.map_or(0, |end| tenths(end.long - end.short).max(0)));
    let slope = ends.iter().flatten().fold(0.0_f64, |most, end| most.max(end.angle));
    let part_of = StickPart {
        id: row.name.clone(),
        length: tenths(size[0]),
        mitres,
        quantity: staves_of(quantity, staves),
    };
    let member = StickMember { rows: vec![which], staves };
    Some(Length { stock: part.stock, member, section, need, thin, part: part_of, slope, plain: plain(part) })
}

/// Whether a part is a plain bar when it is cut to length: nothing but its ends
/// is worked before the glue-up along its length.
fn plain(part: &WorkedPart) -> bool {
    let profile = |kind| {
        matches!(
            kind,
            CutKind::Rebate
                | CutKind::Groove
                | CutKind::Chamfer
                | CutKind::RoundOver
                | CutKind::Moulding
                | CutKind::Taper
        )
    };
    !part.cuts.iter().any(|cut| cut.stage == Stage::Loose && profile(cut.kind))
}

/// The section of board a row is cut from.
struct Section {
    /// Sawn thickness and width ripped, mm.
    size: (f64, f64),
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
    let StockKind::Board { thick: sawn, .. } = &stock.kind else { return None };
    let class = |finished: f64| sawn.iter().copied().find(|t| *t + SAME >= finished + job.cutting.planing);
    // A lipping is ripped off the edge of a board as thick as it is wide.
    if lipping && let Some(board) = class(row.width) {
        let need = row.width + job.cutting.planing;
        return Some(Section { size: (board, thick), need, thin: None, staves: 1 });
    }
    let need = row.thickness + job.cutting.planing;
    let class = class(row.thickness);
    let thickest = sawn.last().filter(|_| class.is_none());
    let thin = thickest.map(|thickest| too_thin(job, stock, row, *thickest));
    let board = class.unwrap_or(need);
    let staves = stock.staves(row.width, job.cutting.width);
    if staves == 1 {
        return Some(Section { size: (board, wide), need, thin, staves });
    }
    let section = (board, row.width / staves as f64 + job.cutting.width);
    Some(Section { size: section, need, thin, staves })
}

/// No board is thick enough.
fn too_thin(job: &Job, stock: &Stock, row: &CutRow, thickest: f64) -> Problem {
    let style = LengthStyle::of(job.unit);
    let show = |mm: f64| style.text(mm);
    let need = row.thickness + job.cutting.planing;
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
