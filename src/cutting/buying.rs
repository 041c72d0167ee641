//! What to buy for the job, as one order for all its pieces.

use super::buy_boards::boards;
use super::buy_line::{Bought, BuyLine, BuyingList, Group, Measure, Note};
use super::layouts::{Layouts, SheetCutting};
use super::surfaces::{Surfaces, surfaces};
use super::tolerance::WHOLE;
use super::units::{SQUARE_METRES, THOUSAND};
use super::{CutRow, CuttingList};
use crate::joinery::WorkedJob;
use crate::measure::{OUNCES, POUND, SQUARE_FOOT, Unit};
use crate::model::{Finish, Job, StockKind};

/// Glue that wets a joint in a job in `unit`, kg/m² of joint: 180 g, between the 150 and 200
/// that makers of white wood glue usually give, or 0.6 oz a square foot (common practice, no
/// source).
pub fn glue_spread(unit: Unit) -> f64 {
    if unit == Unit::Inch { 0.6 / OUNCES * POUND / SQUARE_FOOT } else { 0.18 }
}

/// Steps that finish and glue are ordered in: twentieths of a litre or kilogram.
const STEPS: f64 = 20.0;

/// Grits that bare wood is sanded through before it is finished, the coarsest
/// first (common practice, no source).
pub const GRITS: [u32; 3] = [120, 180, 240];

/// What one disc of 150 mm sands at one grit before it is worn, m², or 8 square feet (common
/// practice, no source).
pub fn disc_area(unit: Unit) -> f64 {
    if unit == Unit::Inch { 8.0 * SQUARE_FOOT } else { 0.75 }
}

/// What one sheet of 230 by 280 mm rubs down between two coats, m², or 40 square feet (common
/// practice, no source).
pub fn sheet_area(unit: Unit) -> f64 {
    if unit == Unit::Inch { 40.0 * SQUARE_FOOT } else { 4.0 }
}

/// Grit for rubbing down between coats (common practice, no source).
pub const BETWEEN_COATS: u32 = 320;

/// The order of a job.
pub(super) fn buying_list(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    layouts: &Layouts,
) -> BuyingList {
    let (to_buy, in_shop): (Vec<&SheetCutting>, Vec<&SheetCutting>) =
        layouts.boards.iter().partition(|cutting| cutting.boards_to_buy());
    let mut lines: Vec<BuyLine> = layouts.sheets.iter().chain(in_shop).flat_map(sheets).collect();
    lines.extend(to_buy.into_iter().filter_map(|cutting| boards(job, list, cutting)));
    lines.extend(list.parts.iter().filter_map(|row| ready(job, worked, row)));
    lines.extend(fittings(list));
    lines.extend(super::fills::lines(job, worked));
    let mut surfaces = surfaces(job, worked);
    surfaces.glued += staved(list);
    lines.extend(fluids(job, &surfaces));
    lines.extend(abrasives(job, &surfaces));
    lines.sort_by_key(|line| Group::ALL.iter().position(|group| *group == line.group));
    BuyingList { lines, nearby: Vec::new() }
}

/// What is glued where parts are glued up edge to edge of several boards, mm².
fn staved(list: &CuttingList) -> f64 {
    let seams = |row: &CutRow| row.staves.map_or(0, |staves| staves.saturating_sub(1)) * row.left();
    list.parts.iter().map(|row| seams(row) as f64 * row.length * row.thickness).sum()
}

/// The sheets of one stock, by size.
fn sheets(cutting: &SheetCutting) -> Vec<BuyLine> {
    let line = |(index, size): (usize, &crate::model::SheetSize)| {
        let used = cutting.plan.layouts.iter().filter(|one| one.sheet == index).count();
        (used > 0).then(|| BuyLine {
            group: if size.on_hand { Group::FromTheShop } else { Group::Sheets },
            what: Bought::Stock(cutting.name.clone()),
            size: vec![size.length, size.width, cutting.thick],
            quantity: used as f64,
            unit: Measure::Pieces,
            note: cutting.called.map(Note::SoldAs),
            price: if size.on_hand { None } else { size.price },
            pack: None,
            code: None,
        })
    };
    cutting.sizes.iter().enumerate().filter_map(line).collect()
}

/// What comes ready to size: glass, blanks, bought parts.
fn ready(job: &Job, worked: &WorkedJob, row: &CutRow) -> Option<BuyLine> {
    let stock = job.stock.get(worked.parts.get(row.which[0])?.stock.0)?;
    let finished = [row.length, row.width, row.thickness];
    let (group, size) = match stock.kind {
        StockKind::Glass { .. } => (Group::Glass, finished),
        StockKind::Blank { .. } => (Group::Bought, row.rough.unwrap_or(finished)),
        StockKind::Bought => (Group::Bought, finished),
        StockKind::Sheet { .. } | StockKind::Board { .. } => return None,
    };
    Some(BuyLine {
        group,
        what: Bought::Ready { stock: stock.name.clone(), mark: row.mark.clone(), name: row.name.clone() },
        size: size.to_vec(),
        quantity: row.left() as f64,
        unit: Measure::Pieces,
        note: None,
        price: None,
        pack: None,
        code: None,
    })
}

/// Inserts and fixings, each once for all joints.
fn fittings(list: &CuttingList) -> Vec<BuyLine> {
    let mut lines: Vec<BuyLine> = Vec::new();
    for need in &list.needs {
        let what = Bought::Fitting(need.item.clone());
        match lines.iter_mut().find(|line| line.what == what) {
            Some(line) => line.quantity += need.quantity as f64,
            None => lines.push(BuyLine {
                group: Group::Fittings,
                what,
                size: Vec::new(),
                quantity: need.quantity as f64,
                unit: Measure::Pieces,
                note: None,
                price: None,
                pack: None,
                code: None,
            }),
        }
    }
    lines
}

/// A line of glue or finish: up to the next twentieth, as nobody measures finer.
fn fluid(what: Bought, quantity: f64, unit: Measure, note: Note) -> BuyLine {
    BuyLine {
        group: Group::Glue,
        what,
        size: Vec::new(),
        quantity: libm::ceil(quantity * STEPS - WHOLE) / STEPS,
        unit,
        note: Some(note),
        price: None,
        pack: None,
        code: None,
    }
}

/// Glue by joint area, finish by surface and coats.
fn fluids(job: &Job, surfaces: &Surfaces) -> Vec<BuyLine> {
    let mut lines = Vec::new();
    let glued = surfaces.glued * SQUARE_METRES;
    if surfaces.glued > 0.0 {
        let spread = glue_spread(job.unit);
        let note = Note::Glued { area: glued, spread: spread * THOUSAND };
        lines.push(fluid(Bought::Glue, glued * spread, Measure::Kilograms, note));
    }
    if let Some(finish) = job.finish.as_ref().filter(|_| surfaces.open > 0.0) {
        let area = surfaces.open * SQUARE_METRES;
        let whole = area * f64::from(finish.coats);
        let coverage = finish.coverage.unwrap_or(Finish::usual_coverage(job.unit));
        let note = Note::Coats { area, coats: finish.coats, coverage, stated: finish.coverage.is_some() };
        lines.push(fluid(Bought::Finish(finish.what.clone()), whole / coverage, Measure::Litres, note));
    }
    lines
}

/// Discs for the bare wood and sheets for between the coats, by the area that
/// is finished; none where the script names no finish.
fn abrasives(job: &Job, surfaces: &Surfaces) -> Vec<BuyLine> {
    let Some(finish) = job.finish.as_ref().filter(|_| surfaces.open > 0.0) else { return Vec::new() };
    let area = surfaces.open * SQUARE_METRES;
    let line = |what: Bought, area: f64, each: f64| BuyLine {
        group: Group::Abrasives,
        what,
        size: Vec::new(),
        quantity: libm::ceil(area / each - WHOLE),
        unit: Measure::Pieces,
        note: Some(Note::Sanded { area, each }),
        price: None,
        pack: None,
        code: None,
    };
    let disc = |grit| line(Bought::Disc { grit }, area, disc_area(job.unit));
    let mut lines: Vec<BuyLine> = GRITS.into_iter().map(disc).collect();
    if finish.coats > 1 {
        let rubbed = area * f64::from(finish.coats - 1);
        lines.push(line(Bought::RubbingSheet { grit: BETWEEN_COATS }, rubbed, sheet_area(job.unit)));
    }
    lines
}
