//! What to buy for the job, as one order for all its pieces.

use super::buy_line::{Bought, BuyLine, BuyingList, Group, Measure, Note};
use super::layouts::{Layouts, SheetCutting, StickCutting};
use super::surfaces::{Surfaces, surfaces};
use super::tolerance::{SAME_BOARD, WHOLE, WHOLE_BOARDS};
use super::units::{CUBIC_METRES, PER_CENT, SQUARE_METRES, THOUSAND};
use super::{CutRow, CuttingList};
use crate::joinery::WorkedJob;
use crate::model::{BOARD_LENGTH, Job, StockKind};

/// Glue that wets a joint, kg/m² of joint: 180 g, between the 150 and 200 that
/// makers of white wood glue usually give (common practice, no source).
pub const GLUE_SPREAD: f64 = 0.18;

/// A board foot, m³: 144 cubic inches (NHLA rules as published for export
/// buyers).
pub const BOARD_FOOT: f64 = 0.002_359_737_216;

/// The thinnest board is counted an inch thick, mm (NHLA: under an inch counts
/// as one).
const COUNTED: f64 = 25.4;

/// Steps of a cubic metre that boards are counted in: a hundred thousandth.
const SHOWN: f64 = 1e5;

/// Tenths of a millimetre, in which sticks are laid out.
const TENTHS: f64 = 10.0;

/// Grits that bare wood is sanded through before it is finished, the coarsest
/// first (common practice, no source).
pub const GRITS: [u32; 3] = [120, 180, 240];

/// What one disc of 150 mm sands at one grit before it is worn, m² (common
/// practice, no source).
pub const DISC_AREA: f64 = 0.75;

/// What one sheet of 230 by 280 mm rubs down between two coats, m² (common
/// practice, no source).
pub const SHEET_AREA: f64 = 4.0;

/// Grit for rubbing down between coats (common practice, no source).
pub const BETWEEN_COATS: u32 = 320;

/// The order of a job.
pub(super) fn buying_list(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    layouts: &Layouts,
) -> BuyingList {
    let mut lines: Vec<BuyLine> = layouts.sheets.iter().chain(&layouts.boards).flat_map(sheets).collect();
    lines.extend(boards(job, layouts));
    lines.extend(list.parts.iter().filter_map(|row| ready(job, worked, row)));
    lines.extend(fittings(list));
    lines.extend(super::fills::lines(job, worked));
    let surfaces = surfaces(job, worked);
    lines.extend(fluids(job, &surfaces));
    lines.extend(abrasives(job, &surfaces));
    lines.sort_by_key(|line| Group::ALL.iter().position(|group| *group == line.group));
    BuyingList { lines }
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
            note: None,
            price: if size.on_hand { None } else { size.price },
        })
    };
    cutting.sizes.iter().enumerate().filter_map(line).collect()
}

/// Boards by stock and sawn thickness: what the strips take and the waste.
fn boards(job: &Job, layouts: &Layouts) -> Vec<BuyLine> {
    let mut groups: Vec<Vec<&StickCutting>> = Vec::new();
    for cutting in &layouts.sticks {
        let alike = |have: &&mut Vec<&StickCutting>| {
            have[0].stock == cutting.stock && (have[0].thick - cutting.thick).abs() < SAME_BOARD
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.push(cutting),
            None => groups.push(vec![cutting]),
        }
    }
    groups.iter().filter_map(|group| board_line(job, group)).collect()
}

/// One line of boards.
fn board_line(job: &Job, group: &[&StickCutting]) -> Option<BuyLine> {
    let first = group.first()?;
    let (price, usual, longest) = match job.stock.get(first.stock.0).map(|stock| &stock.kind) {
        Some(StockKind::Board { price_m3, usual, lengths, longest, .. }) => {
            (*price_m3, *usual, lengths.last().copied().or(*longest))
        }
        _ => (None, None, None),
    };
    let net: f64 = group.iter().map(|cutting| volume(job, cutting)).sum();
    if net <= 0.0 {
        return None;
    }
    let quantity = net * (1.0 + job.cutting.waste / PER_CENT);
    let feet = quantity * (first.thick.max(COUNTED) / first.thick) / BOARD_FOOT;
    let about = usual.map(|width| {
        let length = longest.unwrap_or(BOARD_LENGTH);
        let each = first.thick * width * length * CUBIC_METRES;
        (libm::ceil(quantity / each - WHOLE_BOARDS), [length, width])
    });
    Some(BuyLine {
        group: Group::Boards,
        what: Bought::Stock(first.name.clone()),
        size: vec![first.thick],
        quantity: (quantity * SHOWN).round() / SHOWN,
        unit: Measure::CubicMetres,
        note: Some(Note::Boards { feet, waste: job.cutting.waste, about }),
        price,
    })
}

/// What the strips of a section take of their boards, saw cuts included, m³.
fn volume(job: &Job, cutting: &StickCutting) -> f64 {
    let length =
        |stick: usize| cutting.job.sticks.get(stick).map_or(0.0, |stick| stick.length as f64 / TENTHS);
    let long: f64 = cutting.plan.layouts.iter().map(|one| length(one.stick)).sum();
    long * (cutting.width + job.cutting.kerf) * cutting.thick * CUBIC_METRES
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
        quantity: row.quantity as f64,
        unit: Measure::Pieces,
        note: None,
        price: None,
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
            }),
        }
    }
    lines
}

/// A line of glue or finish: up to the next thousandth.
fn fluid(what: Bought, quantity: f64, unit: Measure, note: Note) -> BuyLine {
    BuyLine {
        group: Group::Glue,
        what,
        size: Vec::new(),
        quantity: (quantity * THOUSAND).ceil() / THOUSAND,
        unit,
        note: Some(note),
        price: None,
    }
}

/// Glue by joint area, finish by surface and coats.
fn fluids(job: &Job, surfaces: &Surfaces) -> Vec<BuyLine> {
    let mut lines = Vec::new();
    let glued = surfaces.glued * SQUARE_METRES;
    if surfaces.glued > 0.0 {
        let note = Note::Glued { area: glued, spread: GLUE_SPREAD * THOUSAND };
        lines.push(fluid(Bought::Glue, glued * GLUE_SPREAD, Measure::Kilograms, note));
    }
    if let Some(finish) = job.finish.as_ref().filter(|_| surfaces.open > 0.0) {
        let area = surfaces.open * SQUARE_METRES;
        let whole = area * f64::from(finish.coats);
        let note = Note::Coats { area, coats: finish.coats, coverage: finish.coverage };
        let what = Bought::Finish(finish.what.clone());
        lines.push(match finish.coverage {
            Some(coverage) => fluid(what, whole / coverage, Measure::Litres, note),
            None => fluid(what, whole, Measure::SquareMetres, note),
        });
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
    };
    let disc = |grit| line(Bought::Disc { grit }, area, DISC_AREA);
    let mut lines: Vec<BuyLine> = GRITS.into_iter().map(disc).collect();
    if finish.coats > 1 {
        let rubbed = area * f64::from(finish.coats - 1);
        lines.push(line(Bought::RubbingSheet { grit: BETWEEN_COATS }, rubbed, SHEET_AREA));
    }
    lines
}
