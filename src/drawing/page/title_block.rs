//! The title block: fields of ISO 7200 in the lower right corner, with scale,
//! projection symbol, unit and tolerance notes beside them.

use kurbo::{BezPath, Circle, Point, Rect, Shape};

use super::block::STRIP;
use super::look::{Look, Paper};
use super::plate::{Lettering, Plate, has_fraction};
use super::profile::Projection;
use crate::drawing::kit::words::{elide, shrink, stacked, text_width};
use crate::measure::Unit;
use crate::model::JobHead;
use crate::paper::{Anchor, Pen, Role, Weight, dash};

/// Height of a row, mm.
const ROW: f64 = 9.0;
/// Cap height of field names, mm: the least of ISO 3098 for A4 to A1.
const NAME: f64 = 1.8;
/// Cap height of field values, mm.
const VALUE: f64 = 2.5;

/// What the block of one sheet says besides the job's own fields.
#[derive(Debug)]
pub(in crate::drawing) struct SheetFields<'s> {
    /// What the sheet shows.
    pub(in crate::drawing) title: &'s str,
    /// Document type.
    pub(in crate::drawing) document_type: &'s str,
    /// Main scale as printed.
    pub(in crate::drawing) scale: &'s str,
    /// Sheet number, from 1.
    pub(in crate::drawing) number: usize,
    /// Number of sheets.
    pub(in crate::drawing) of: usize,
    /// General tolerance note.
    pub(in crate::drawing) tolerance: &'s str,
}

/// Draws the block of one sheet into `block`.
///
/// Long texts: the title takes one line 7 or 5 mm high (A4 and letter: 5 or
/// 3.5) where it goes, else two lines of the largest of 5, 3.5 and 2.5 mm at
/// which no word is broken; what still does not go is shortened with an
/// ellipsis. All other fields take two lines, and are shortened beyond that.
pub(in crate::drawing) fn draw(
    plate: &mut Plate,
    look: &Look,
    head: &JobHead,
    sheet: &SheetFields<'_>,
    block: Rect,
) {
    let x1 = block.x0 + block.width() * 0.31;
    let x2 = block.x0 + block.width() * 0.70;
    let top = block.y0 + STRIP;
    let cells = Cells { x: [block.x0, x1, x2, block.x1], top };
    rules(plate, block, &cells);
    strip(plate, look, sheet, block);
    owner_column(plate, head, &cells);
    title_column(plate, look, head, sheet, &cells);
    number_column(plate, look, head, sheet, &cells);
}

/// Corners of the block's columns and rows.
struct Cells {
    /// Left edges of the three columns and the right edge of the last.
    x: [f64; 4],
    /// Top of the first row.
    top: f64,
}

impl Cells {
    /// The rectangle from row `from` to row `to` between shares `a` and `b` of
    /// column `column`.
    fn rect(&self, column: usize, a: f64, b: f64, from: f64, to: f64) -> Rect {
        let (x0, x1) = (self.x[column], self.x[column + 1]);
        let w = x1 - x0;
        Rect::new(x0 + w * a, self.top + ROW * from, x0 + w * b, self.top + ROW * to)
    }
}

/// Share of the third column that number, date and scale take.
const SPLIT: f64 = 0.62;

fn rules(plate: &mut Plate, block: Rect, cells: &Cells) {
    let (narrow, wide) = (plate.narrow, plate.wide);
    plate.rect(block, wide, Role::Table);
    plate.line((block.x0, cells.top), (block.x1, cells.top), wide, Role::Table);
    for x in [cells.x[1], cells.x[2]] {
        plate.line((x, cells.top), (x, block.y1), narrow, Role::Table);
    }
    let mut across = |rect: Rect| plate.line((rect.x0, rect.y1), (rect.x1, rect.y1), narrow, Role::Table);
    across(cells.rect(0, 0.0, 1.0, 0.0, 2.0));
    across(cells.rect(0, 0.0, 1.0, 2.0, 3.0));
    across(cells.rect(1, 0.0, 1.0, 0.0, 1.0));
    for row in 1..4 {
        across(cells.rect(2, 0.0, 1.0, 0.0, f64::from(row)));
    }
    let mut down = |rect: Rect| plate.line((rect.x1, rect.y0), (rect.x1, rect.y1), narrow, Role::Table);
    down(cells.rect(1, 0.0, 0.5, 0.0, 1.0));
    down(cells.rect(2, 0.0, SPLIT, 1.0, 4.0));
}

/// Name and value of one field. A value too long for a line begins beside the
/// name of its field.
fn field(plate: &mut Plate, rect: Rect, name: &str, value: &str) {
    plate.text((rect.x0 + 1.2, rect.y0 + 1.0 + NAME), name, Lettering::note(NAME).role(Role::Table));
    let room = rect.width() - 2.4;
    let beside = text_width(name, NAME, Weight::Regular) + 2.0;
    let (first, rest) = broken(value, room, room - beside);
    plate.text((rect.x0 + 1.2 + beside, rect.y1 - 1.5 - 1.4 * VALUE), first, Lettering::note(VALUE));
    let rest = elide(&rest, VALUE, Weight::Regular, room);
    plate.runs((rect.x0 + 1.2, rect.y1 - 1.5), stacked(&rest), Lettering::note(VALUE));
}

/// A value on one line of `room`, or broken after the words that go into
/// `beside`: the upper line, empty for most, and the lower.
fn broken(value: &str, room: f64, beside: f64) -> (String, String) {
    let fits = |text: &str, room: f64| text_width(text, VALUE, Weight::Regular) <= room;
    // Stacked fractions need the height of both lines.
    if fits(value, room) || has_fraction(&stacked(value)) {
        return (String::new(), value.to_owned());
    }
    let breaks = value.match_indices(' ').map(|(at, _)| value.split_at(at));
    let upper = breaks.take_while(|(upper, _)| fits(upper, beside)).last();
    upper.map_or_else(
        || (String::new(), value.to_owned()),
        |(upper, lower)| (upper.to_owned(), lower.trim_start().to_owned()),
    )
}

fn strip(plate: &mut Plate, look: &Look, sheet: &SheetFields<'_>, block: Rect) {
    let unit = match look.unit {
        Unit::Mm => "Dimensions in millimetres",
        Unit::Inch => "Dimensions in inches",
    };
    let y = block.y0 + f64::midpoint(STRIP, VALUE);
    let paper = look.paper.name();
    let room = block.width() - 4.8 - text_width(paper, VALUE, Weight::Regular);
    let text = format!("{unit}.  {}", sheet.tolerance);
    let text = elide(&text, VALUE, Weight::Regular, room);
    plate.text((block.x0 + 1.2, y), text, Lettering::note(VALUE));
    plate.text((block.x1 - 1.2, y), paper, Lettering::note(VALUE).anchored(Anchor::End));
}

fn owner_column(plate: &mut Plate, head: &JobHead, cells: &Cells) {
    let rect = cells.rect(0, 0.0, 1.0, 0.0, 2.0);
    plate.text((rect.x0 + 1.2, rect.y0 + 1.0 + NAME), "Owner", Lettering::note(NAME).role(Role::Table));
    let owner = head.owner.as_deref().unwrap_or("");
    let (height, lines) = shrink(owner, Weight::SemiBold, &[3.5, 2.5], 2, rect.width() - 2.4);
    // Room for descenders above the rule.
    stack(plate, &lines, height, Rect::new(rect.x0, rect.y0 + 3.0, rect.x1, rect.y1 - 1.2));
    field(plate, cells.rect(0, 0.0, 1.0, 2.0, 3.0), "Client", head.client.as_deref().unwrap_or(""));
    field(plate, cells.rect(0, 0.0, 1.0, 3.0, 4.0), "Place", head.place.as_deref().unwrap_or(""));
}

fn title_column(plate: &mut Plate, look: &Look, head: &JobHead, sheet: &SheetFields<'_>, cells: &Cells) {
    field(plate, cells.rect(1, 0.0, 0.5, 0.0, 1.0), "Drawn by", head.drawn_by.as_deref().unwrap_or(""));
    field(plate, cells.rect(1, 0.5, 1.0, 0.0, 1.0), "Approved by", head.approved_by.as_deref().unwrap_or(""));
    let rect = cells.rect(1, 0.0, 1.0, 1.0, 4.0);
    plate.text((rect.x0 + 1.2, rect.y0 + 1.0 + NAME), "Title", Lettering::note(NAME).role(Role::Table));
    let heights: &[f64] = match look.paper {
        Paper::A4 | Paper::Letter => &[5.0, 3.5, 2.5],
        _ => &[7.0, 5.0, 3.5, 2.5],
    };
    let (height, lines) = title_lines(&head.title, heights, rect.width() - 2.4);
    let (below, under) = shrink(sheet.title, Weight::Regular, &[3.5, 2.5], 1, rect.width() - 2.4);
    stack(plate, &lines, height, Rect::new(rect.x0, rect.y0 + 3.5, rect.x1, rect.y1 - 6.5));
    for line in &under {
        plate.text((rect.x0 + 1.2, rect.y1 - 2.0), line.clone(), Lettering::note(below).role(Role::Title));
    }
}

/// The title on one line where it goes at one of the two largest heights, else
/// on two lines from the second height down.
fn title_lines(title: &str, heights: &[f64], width: f64) -> (f64, Vec<String>) {
    let fits = |h: &&f64| crate::paper::lettering::width(title, **h, Weight::SemiBold) <= width;
    match heights.iter().take(2).find(fits) {
        Some(height) => (*height, vec![title.to_owned()]),
        None => shrink(title, Weight::SemiBold, heights.get(1..).unwrap_or(heights), 2, width),
    }
}

/// Title lines one under the other, in the middle of `rect` by height.
fn stack(plate: &mut Plate, lines: &[String], height: f64, rect: Rect) {
    let pitch = height * 1.4;
    let all = height + pitch * (lines.len().saturating_sub(1)) as f64;
    let mut y = rect.center().y - all / 2.0 + height;
    for line in lines {
        plate.text((rect.x0 + 1.2, y), line.clone(), Lettering::title(height));
        y += pitch;
    }
}

fn number_column(plate: &mut Plate, look: &Look, head: &JobHead, sheet: &SheetFields<'_>, cells: &Cells) {
    // Most jobs say no status; then the type has the whole row.
    let split = if head.status.is_some() { SPLIT } else { 1.0 };
    field(plate, cells.rect(2, 0.0, split, 0.0, 1.0), "Document type", sheet.document_type);
    if let Some(status) = &head.status {
        let rect = cells.rect(2, SPLIT, 1.0, 0.0, 1.0);
        plate.line((rect.x0, rect.y0), (rect.x0, rect.y1), plate.narrow, Role::Table);
        field(plate, rect, "Status", status);
    }
    let number = head.number.as_deref().unwrap_or("");
    field(plate, cells.rect(2, 0.0, SPLIT, 1.0, 2.0), "Number", number);
    field(plate, cells.rect(2, SPLIT, 1.0, 1.0, 2.0), "Revision", head.revision.as_deref().unwrap_or(""));
    field(plate, cells.rect(2, 0.0, SPLIT, 2.0, 3.0), "Date of issue", look.date.as_deref().unwrap_or(""));
    let of = format!("{} / {}", sheet.number, sheet.of);
    field(plate, cells.rect(2, SPLIT, 1.0, 2.0, 3.0), "Sheet", &of);
    field(plate, cells.rect(2, 0.0, SPLIT, 3.0, 4.0), "Scale", sheet.scale);
    let rect = cells.rect(2, SPLIT, 1.0, 3.0, 4.0);
    projection_symbol(plate, look.profile.projection(), rect.center());
}

/// The projection symbol of ISO 5456-2: a cone frustum and the view of its
/// narrow end. By the projection rule the circles stand on the wide side in
/// first angle and on the narrow side in third; the narrow end is on the left.
/// Proportions h : 2h : 2h with a gap of h (from memory).
fn projection_symbol(plate: &mut Plate, projection: Projection, centre: Point) {
    let h = 2.6;
    // Frustum 2h long, circles 2h wide, gap h: 5h in all.
    let left = centre.x - 2.5 * h;
    let (frustum, rings) = match projection {
        Projection::First => (left, left + 4.0 * h),
        Projection::Third => (left + 3.0 * h, left + h),
    };
    let mut path = BezPath::new();
    path.move_to((frustum, centre.y - h / 2.0));
    path.line_to((frustum + 2.0 * h, centre.y - h));
    path.line_to((frustum + 2.0 * h, centre.y + h));
    path.line_to((frustum, centre.y + h / 2.0));
    path.close_path();
    let pen = Pen { width: plate.narrow, dash: dash::SOLID };
    plate.stroke(path, pen, Role::Symbol);
    for radius in [h / 2.0, h] {
        let circle = Circle::new((rings, centre.y), radius);
        plate.stroke(circle.to_path(1e-3), pen, Role::Symbol);
    }
    let axis = Pen { width: plate.narrow / 2.0, dash: &[1.6, 0.4, 0.3, 0.4] };
    let mut across = BezPath::new();
    across.move_to((left - 0.5 * h, centre.y));
    across.line_to((left + 5.5 * h, centre.y));
    plate.stroke(across, axis, Role::Symbol);
    let mut down = BezPath::new();
    down.move_to((rings, centre.y - 1.4 * h));
    down.line_to((rings, centre.y + 1.4 * h));
    plate.stroke(down, axis, Role::Symbol);
}
