//! What to buy for the job, as one order for all its pieces.

use super::layouts::{Layouts, SheetCutting, StickCutting};
use super::surfaces::{Surfaces, surfaces};
use super::{CutRow, CuttingList};
use crate::joinery::{Item, WorkedJob};
use crate::model::{BOARD_LENGTH, Job, StockKind};
use crate::wording::Words;

/// Glue that wets a joint, kg/m² of joint: 180 g, between the 150 and 200 that
/// makers of white wood glue usually give (common practice, no source).
pub const GLUE_SPREAD: f64 = 0.18;

/// A board foot, m³: 144 cubic inches (NHLA rules as published for export
/// buyers).
pub const BOARD_FOOT: f64 = 0.002_359_737_216;

/// The thinnest board is counted an inch thick, mm (NHLA: under an inch counts
/// as one).
const COUNTED: f64 = 25.4;

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

/// Under what heading a line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// Sheets to buy.
    Sheets,
    /// Boards to buy.
    Boards,
    /// Glass, cut by the glazier.
    Glass,
    /// Blanks and what is bought finished.
    Bought,
    /// Inserts, screws and fittings.
    Fittings,
    /// Glue and finish.
    Glue,
    /// Abrasives.
    Abrasives,
    /// What lies in the shop and is used up.
    FromTheShop,
}

/// What a line is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ware {
    /// A stock, glue or finish by its name.
    Named(String),
    /// What joints need.
    Item(Item),
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct BuyLine {
    /// Its heading.
    pub group: Group,
    /// What it is.
    pub what: Ware,
    /// Its size, mm: length and width, or length, width and thickness, or the
    /// thickness alone; empty where its name says it.
    pub size: Vec<f64>,
    /// How much.
    pub quantity: f64,
    /// Of what: `off`, `m³`, `kg`.
    pub unit: &'static str,
    /// How the quantity comes about, where that is not plain.
    pub note: String,
    /// How many boards of the usual size that is about, where it is known.
    pub about: Option<Boards>,
    /// Price of one unit, if known.
    pub price: Option<f64>,
}

/// So many boards of the usual size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boards {
    /// How many.
    pub count: f64,
    /// Length of one, mm.
    pub length: f64,
    /// Width of one, mm.
    pub width: f64,
}

/// The whole order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BuyingList {
    /// Its lines, group by group.
    pub lines: Vec<BuyLine>,
}

impl Group {
    /// All groups in order.
    pub const ALL: [Self; 8] = [
        Self::Sheets,
        Self::Boards,
        Self::Glass,
        Self::Bought,
        Self::Fittings,
        Self::Glue,
        Self::Abrasives,
        Self::FromTheShop,
    ];

    /// Its heading.
    pub fn name(self) -> &'static str {
        match self {
            Self::Sheets => "Sheets",
            Self::Boards => "Boards",
            Self::Glass => "Glass",
            Self::Bought => "Blanks and bought parts",
            Self::Fittings => "Inserts and fixings",
            Self::Glue => "Glue and finish",
            Self::Abrasives => "Abrasives",
            Self::FromTheShop => "From the shop, not to buy",
        }
    }
}

impl Ware {
    /// What it is, in the words of a list.
    pub fn name(&self, words: Words) -> String {
        match self {
            Self::Named(name) => name.clone(),
            Self::Item(item) => words.item(item),
        }
    }
}

impl BuyLine {
    /// Its remark: the note, and what boards that makes about.
    pub fn remark(&self, words: Words) -> String {
        match self.about {
            Some(Boards { count, length, width }) => format!(
                "{}; about {} of {} × {}",
                self.note,
                crate::measure::number(count, 0),
                words.length(length),
                words.length(width)
            ),
            None => self.note.clone(),
        }
    }

    /// What it costs, if its price is known.
    pub fn cost(&self) -> Option<f64> {
        Some(self.price? * self.quantity)
    }
}

impl BuyingList {
    /// What the lines with a price cost together, and how many to buy have
    /// none.
    pub fn total(&self) -> (f64, usize) {
        let to_buy = || self.lines.iter().filter(|line| line.group != Group::FromTheShop);
        (to_buy().filter_map(BuyLine::cost).sum(), to_buy().filter(|line| line.price.is_none()).count())
    }
}

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
            what: Ware::Named(cutting.name.clone()),
            size: vec![size.length, size.width, cutting.thick],
            quantity: used as f64,
            unit: "off",
            note: String::new(),
            about: None,
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
            have[0].stock == cutting.stock && (have[0].thick - cutting.thick).abs() < 0.01
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
    let quantity = net * (1.0 + job.cutting.waste / 100.0);
    let feet = quantity * (first.thick.max(COUNTED) / first.thick) / BOARD_FOOT;
    let waste = crate::measure::number(job.cutting.waste, 1);
    let note = format!("{} board feet; {waste} % waste in it", crate::measure::number(feet, 1));
    let about = usual.map(|width| {
        let length = longest.unwrap_or(BOARD_LENGTH);
        let count = libm::ceil(quantity / (first.thick * width * length * 1e-9) - 1e-6);
        Boards { count, length, width }
    });
    Some(BuyLine {
        group: Group::Boards,
        what: Ware::Named(first.name.clone()),
        size: vec![first.thick],
        quantity: (quantity * 1e5).round() / 1e5,
        unit: "m³",
        note,
        about,
        price,
    })
}

/// What the strips of a section take of their boards, saw cuts included, m³.
fn volume(job: &Job, cutting: &StickCutting) -> f64 {
    let length = |stick: usize| cutting.job.sticks.get(stick).map_or(0.0, |stick| stick.length as f64 / 10.0);
    let long: f64 = cutting.plan.layouts.iter().map(|one| length(one.stick)).sum();
    long * (cutting.width + job.cutting.kerf) * cutting.thick * 1e-9
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
        what: Ware::Named(format!("{} for {} {}", stock.name, row.mark, row.name)),
        size: size.to_vec(),
        quantity: row.quantity as f64,
        unit: "off",
        note: String::new(),
        about: None,
        price: None,
    })
}

/// Inserts and fixings, each once for all joints.
fn fittings(list: &CuttingList) -> Vec<BuyLine> {
    let mut lines: Vec<BuyLine> = Vec::new();
    for need in &list.needs {
        let what = Ware::Item(need.item.clone());
        match lines.iter_mut().find(|line| line.what == what) {
            Some(line) => line.quantity += need.quantity as f64,
            None => lines.push(BuyLine {
                group: Group::Fittings,
                what,
                size: Vec::new(),
                quantity: need.quantity as f64,
                unit: "off",
                note: String::new(),
                about: None,
                price: None,
            }),
        }
    }
    lines
}

/// Glue by joint area, finish by surface and coats.
fn fluids(job: &Job, surfaces: &Surfaces) -> Vec<BuyLine> {
    let area = |mm2: f64| crate::measure::number(mm2 * 1e-6, 2);
    let mut lines = Vec::new();
    let line = |what: String, quantity: f64, unit, note| BuyLine {
        group: Group::Glue,
        what: Ware::Named(what),
        size: Vec::new(),
        quantity: (quantity * 1e3).ceil() / 1e3,
        unit,
        note,
        about: None,
        price: None,
    };
    if surfaces.glued > 0.0 {
        let spread = crate::measure::number(GLUE_SPREAD * 1000.0, 0);
        let note = format!("{} m² of joints at {spread} g/m²", area(surfaces.glued));
        lines.push(line("Wood glue".into(), surfaces.glued * 1e-6 * GLUE_SPREAD, "kg", note));
    }
    if let Some(finish) = job.finish.as_ref().filter(|_| surfaces.open > 0.0) {
        let coats = crate::problem::wording::count(finish.coats as usize, "coat", "coats");
        let whole = surfaces.open * 1e-6 * f64::from(finish.coats);
        let note = format!("{} m², {coats}", area(surfaces.open));
        lines.push(match finish.coverage {
            Some(coverage) => {
                let each = crate::measure::number(coverage, 1);
                line(finish.what.clone(), whole / coverage, "l", format!("{note} at {each} m² a litre"))
            }
            None => line(
                finish.what.clone(),
                whole,
                "m²",
                format!("{note}; by what its maker says a litre covers"),
            ),
        });
    }
    lines
}

/// Discs for the bare wood and sheets for between the coats, by the area that
/// is finished; none where the script names no finish.
fn abrasives(job: &Job, surfaces: &Surfaces) -> Vec<BuyLine> {
    let Some(finish) = job.finish.as_ref().filter(|_| surfaces.open > 0.0) else { return Vec::new() };
    let area = surfaces.open * 1e-6;
    let line = |what: String, done: f64, each: f64| BuyLine {
        group: Group::Abrasives,
        what: Ware::Named(what),
        size: Vec::new(),
        quantity: libm::ceil(done / each - 1e-9),
        unit: "off",
        note: format!(
            "{} m², one for each {} m²",
            crate::measure::number(done, 2),
            crate::measure::number(each, 2)
        ),
        about: None,
        price: None,
    };
    let disc = |grit| line(format!("disc Ø 150 mm, grit {grit}"), area, DISC_AREA);
    let mut lines: Vec<BuyLine> = GRITS.into_iter().map(disc).collect();
    if finish.coats > 1 {
        let rubbed = area * f64::from(finish.coats - 1);
        let what = format!("sheet 230 × 280 mm, grit {BETWEEN_COATS}, between coats");
        lines.push(line(what, rubbed, SHEET_AREA));
    }
    lines
}
