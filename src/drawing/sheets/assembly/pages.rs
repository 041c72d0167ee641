//! The sheets of an order: cells in an even grid.

use kurbo::Rect;
use rayon::prelude::*;

use super::closed;
use super::picture::{Picture, is_crowded};
use super::ready::{Ready, ready};
use crate::assembly::{Order, Step};
use crate::drawing::kit::words::{stacked, unmarked, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate, base_lines};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::sheets::exploded;
use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::paper::{Mark, Role, Run, Weight};
use crate::wording::assembly::Telling;

/// White inside a cell, from its upper edge to the foot of its number, and under and
/// over its words, mm; under them in text heights.
const PAD: f64 = 3.0;
const NUMBER_DROP: f64 = 10.0;
const UNDER_TEXT: f64 = 0.6;
const OVER_TEXT: f64 = 4.0;
/// White over the picture, mm: beside the number of the step, else below it.
const HEADS: [f64; 2] = [2.0, 10.0];
/// Least width and height of a step's cell, mm.
const CELL: (f64, f64) = (71.0, 98.0);
/// White between cells, mm.
const GUTTER: f64 = 6.0;
/// Cap height of captions, mm.
const TEXT: f64 = 2.5;

/// By how much a row is lower than its share of the paper, mm, so that the steps of
/// another piece go below it.
const LESS: f64 = 3.0;
/// How many cells the picture of the parts takes.
const LEAD: usize = 2;

/// How many cells of `size` go along `room`, gutters between; at least one.
fn cells_along(room: f64, size: f64) -> usize {
    (1..=12).take_while(|n| f64::from(*n) * (size + GUTTER) <= room + GUTTER).count().max(1)
}

/// What a cell holds.
enum Content<'a> {
    /// The piece drawn apart, where its parts are few.
    Apart,
    /// What to lay out.
    Ready(&'a Ready),
    /// A step with its number from 1 and its words.
    Step(&'a Step, usize, &'a [String]),
}

/// The sheets of one piece's order.
pub(in crate::drawing) fn assembly_sheets(
    job: &Job,
    worked: &WorkedJob,
    order: &Order,
    look: &Look,
) -> Vec<SheetBody> {
    let area = look.room().above();
    let columns = cells_along(area.width(), CELL.0).min(5);
    let rows = cells_along(area.height(), CELL.1);
    let name = job.pieces.get(order.piece.0).map_or("", |p| p.name.as_str());
    let telling = Telling { job, worked, words: look.words() };
    let captions: Vec<Vec<String>> = order.steps.iter().map(|step| caption(telling, step)).collect();
    let grid = Grid { area, columns, rows };
    let to_tick = ready(telling, order, grid.cell(Spot { row: 0, column: 0, span: 1 }, grid.size()));
    let steps = order.steps.iter().zip(&captions).enumerate();
    let apart = exploded::few(worked, order);
    let cells: Vec<Content<'_>> = apart
        .then_some(Content::Apart)
        .into_iter()
        .chain(to_tick.iter().map(Content::Ready))
        .chain(steps.map(|(i, (step, lines))| Content::Step(step, i + 1, lines)))
        .collect();
    let spans: Vec<usize> = cells.iter().map(|content| grid.span(content)).collect();
    let mut sheets = Vec::new();
    for (first, spots) in grid.pages(&spans) {
        let size = used(&spots, grid.size());
        let draw_cell = |(i, spot): (usize, &Spot)| {
            let mut plate = Plate::new(look);
            let at = grid.cell(*spot, size);
            match cells.get(first + i) {
                Some(Content::Apart) => exploded::beside_steps(&mut plate, worked, order, (at, look)),
                Some(Content::Ready(ready)) => ready.draw(&mut plate, at),
                Some(Content::Step(step, number, lines)) => {
                    let before = order.steps.get(..number.saturating_sub(1)).unwrap_or_default();
                    draw(&mut plate, worked, &StepCell { step, number: *number, lines, before, at });
                }
                None => {}
            }
            plate.marks
        };
        // Further sheets have the title of the first, which says what they go on from.
        let what = if apart { "parts apart, assembly order" } else { "assembly order" };
        let marks: Vec<Vec<Mark>> = spots.par_iter().enumerate().map(draw_cell).collect();
        sheets.push(SheetBody {
            marks: marks.into_iter().flatten().collect(),
            bookmarks: Vec::new(),
            runs_on: first > 0,
            ..SheetBody::new(SheetKind::Assembly, format!("{name}: {what}"))
        });
    }
    sheets
}

/// Where a cell stands on its page.
#[derive(Clone, Copy)]
struct Spot {
    row: usize,
    column: usize,
    /// Columns that it takes.
    span: usize,
}

/// Columns and rows of a page.
#[derive(Clone, Copy)]
struct Size {
    columns: usize,
    rows: usize,
}

/// The even grid of a page.
#[derive(Clone, Copy)]
struct Grid {
    area: Rect,
    columns: usize,
    rows: usize,
}

/// Share of a cell's height that words may take beside the picture; a step with more to
/// say takes two columns.
const WORDS: f64 = 0.5;

impl Grid {
    fn size(self) -> Size {
        Size { columns: self.columns, rows: self.rows }
    }

    /// The rectangle of a cell where a page has so many columns and rows.
    fn cell(self, spot: Spot, size: Size) -> Rect {
        let width = (self.area.width() - GUTTER * (size.columns - 1) as f64) / size.columns as f64;
        let height = (self.area.height() - GUTTER * size.rows as f64) / size.rows as f64 - LESS;
        let x = self.area.x0 + spot.column as f64 * (width + GUTTER);
        let y = self.area.y0 + spot.row as f64 * (height + GUTTER);
        let wide = spot.span as f64;
        Rect::new(x, y, x + width * wide + GUTTER * (wide - 1.0), y + height)
    }

    /// How many columns something takes: two where its words would leave no room for its
    /// picture.
    fn span(self, content: &Content<'_>) -> usize {
        let lines = match content {
            Content::Step(_, _, lines) => lines,
            Content::Apart => return LEAD.min(self.columns),
            Content::Ready(_) => return 1,
        };
        let cell = self.cell(Spot { row: 0, column: 0, span: 1 }, self.size());
        let mut plain = 0;
        for (i, line) in lines.iter().enumerate() {
            plain += wrap(line, TEXT, weight(i), cell.width() - 2.0 * PAD).len();
        }
        let high = plain as f64 * TEXT * LINE;
        if high > WORDS * cell.height() { 2.min(self.columns) } else { 1 }
    }

    /// Cells in their places, page by page: the number of its first and the spots.
    fn pages(self, spans: &[usize]) -> Vec<(usize, Vec<Spot>)> {
        let mut pages: Vec<(usize, Vec<Spot>)> = Vec::new();
        let (mut row, mut column) = (0, 0);
        for (i, span) in spans.iter().enumerate() {
            if column + span > self.columns {
                (row, column) = (row + 1, 0);
            }
            if row >= self.rows || pages.is_empty() {
                (row, column) = (0, 0);
                pages.push((i, Vec::new()));
            }
            if let Some((_, spots)) = pages.last_mut() {
                spots.push(Spot { row, column, span: *span });
            }
            column += span;
        }
        pages
    }
}

/// About the distance of lines, in cap heights.
const LINE: f64 = 1.6;

/// The columns and rows of a page: cells of one that is not full are wider, but never one
/// step across a whole sheet, and as high as ever, for what else goes below them.
fn used(spots: &[Spot], most: Size) -> Size {
    let columns = spots.iter().map(|spot| spot.column + spot.span).max().unwrap_or(1);
    Size { rows: most.rows, columns: columns.clamp(most.columns.min(2), most.columns) }
}

/// Weight of the line of that number.
fn weight(line: usize) -> Weight {
    if line == 0 { Weight::SemiBold } else { Weight::Regular }
}

/// The lines under a picture, not yet wrapped: first what is done.
fn caption(telling: Telling<'_>, step: &Step) -> Vec<String> {
    let mut lines = telling.lines(step);
    if is_crowded(telling.worked, step) {
        lines.push("Of what stands, only the parts near by are drawn.".into());
    }
    lines.iter().map(|line| unmarked(line)).collect()
}

/// One step with its cell.
struct StepCell<'a> {
    step: &'a Step,
    /// Its number among the steps, from 1.
    number: usize,
    /// What is to be done.
    lines: &'a [String],
    /// The steps that are done already.
    before: &'a [Step],
    /// Where it stands.
    at: Rect,
}

/// Columns of words narrower than this are not set side by side, mm.
const COLUMN: f64 = 60.0;

/// Writes what is to be done at the foot of a cell; gives the top of it. Words that
/// would leave no room for the picture stand in two columns, where the cell is wide.
fn foot(plate: &mut Plate, lines: &[String], inner: Rect) -> f64 {
    let one = wrapped(lines, inner.width());
    let half = (inner.width() - GUTTER) / 2.0;
    let columns = if high(&one) > WORDS * inner.height() && half > COLUMN {
        let mut first = wrapped(lines, half);
        let rest = first.split_off(first.len().div_ceil(2));
        vec![first, rest]
    } else {
        vec![one]
    };
    // White below the last line and above the first.
    let foot = inner.y1 - UNDER_TEXT * TEXT;
    let top = foot - columns.iter().map(|column| high(column)).fold(0.0, f64::max);
    let mut x = inner.x0;
    for column in columns {
        let (lines, weights): (Vec<Vec<Run>>, Vec<Weight>) = column.into_iter().unzip();
        let below = base_lines(&lines);
        for ((line, weight), below) in lines.into_iter().zip(weights).zip(below) {
            let how = Lettering { weight, ..Lettering::note(TEXT) };
            plate.runs((x, top + TEXT * (1.0 + below)), line, how);
        }
        x += half + GUTTER;
    }
    top
}

/// A line that goes into its column, and its weight.
type Set = (Vec<Run>, Weight);

/// Words broken into lines no wider than `width`.
fn wrapped(lines: &[String], width: f64) -> Vec<Set> {
    let mut all = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        let weight = weight(i);
        all.extend(wrap(line, TEXT, weight, width).iter().map(|line| (stacked(line), weight)));
    }
    all
}

/// Height of a column of lines, mm.
fn high(column: &[Set]) -> f64 {
    let lines: Vec<Vec<Run>> = column.iter().map(|(line, _)| line.clone()).collect();
    TEXT * (base_lines(&lines).last().copied().unwrap_or(0.0) + 1.0)
}

/// One step in its cell: a rule above, number, picture, caption at the foot.
fn draw(plate: &mut Plate, worked: &WorkedJob, cell: &StepCell<'_>) {
    let StepCell { step, number, lines, before: steps, at } = *cell;
    plate.rect(at, plate.narrow, Role::Table);
    let first = plate.marks.len();
    let how = Lettering::title(Lettering::GREAT);
    plate.text((at.x0 + PAD, at.y0 + NUMBER_DROP), number.to_string(), how);
    let inner = at.inflate(-PAD, -PAD);
    let top = foot(plate, lines, inner) - OVER_TEXT;
    let number = plate.marks.get(first).map_or(Rect::ZERO, Mark::bounds).inflate(0.5, 0.5);
    // What is measured stands beside, closed and seen square.
    let aside = if step.check.is_some() { closed::SHARE * inner.width() } else { 0.0 };
    if aside > 0.0 {
        closed::draw(plate, worked, (steps, step), Rect::new(inner.x1 - aside, inner.y0, inner.x1, top));
    }
    let before = plate.marks.len();
    let Some(picture) = Picture::of(worked, steps, step) else { return };
    // Beside the number of the step, unless something would come to stand on it.
    for head in HEADS {
        plate.marks.truncate(before);
        picture.put(plate, worked, step, Rect::new(inner.x0, inner.y0 + head, inner.x1 - aside, top));
        let drawn = plate.marks.iter().skip(before);
        let on_it =
            |mark: &Mark| mark.role == Role::ItemNumber && !mark.bounds().intersect(number).is_zero_area();
        if !drawn.into_iter().any(on_it) {
            break;
        }
    }
}
