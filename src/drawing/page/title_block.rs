//! The title block: fields of ISO 7200 in the lower right corner, with scale,
//! projection symbol, unit and tolerance notes beside them.

use std::ops::Range;

use kurbo::{BezPath, Circle, Point, Rect, Shape};

use super::block::STRIP;
use super::look::{Look, Paper};
use super::plate::{Lettering, Plate, has_fraction};
use super::profile::Projection;
use crate::drawing::kit::words::{elide, shrink, stacked, text_width};
use crate::measure::Unit;
use crate::model::JobHead;
use crate::paper::{Anchor, Pen, Role, Weight, dash};

/// Shares of the width at which the second and the third column begin: the title
/// in the middle has most to say.
const COLUMNS: (f64, f64) = (0.31, 0.70);
/// White at the left and right of a field, mm.
pub(super) const PAD: f64 = 1.2;
/// The same on both sides together.
pub(super) const PADS: f64 = 2.0 * PAD;
/// White above the name of a field, mm.
pub(super) const OVER_NAME: f64 = 1.0;
/// From the name of a field to a value that begins beside it, mm.
pub(super) const BESIDE_NAME: f64 = 2.0;
/// White below a value, mm: room for descenders.
const UNDER_VALUE: f64 = 1.5;
/// Base line to base line in cap heights: the least of ISO 3098.
const PITCH: f64 = 1.4;
/// White above and below the lines of the owner, mm: the name of the field, and
/// descenders above the rule.
const ROUND_OWNER: (f64, f64) = (3.0, 1.2);
/// Above and below the lines of the title, mm: the name of the field, and what the
/// sheet shows.
const ROUND_TITLE: (f64, f64) = (3.5, 6.5);
/// White below the line that says what the sheet shows, mm.
const UNDER_SHEET: f64 = 2.0;
/// Heights of the owner and of what the sheet shows, the best first, mm.
const MINOR: &[f64] = &[Lettering::MIDDLE, Lettering::SMALL];
/// Heights of the title, the best first, mm; on A4 and letter its column is narrow.
const TITLES: &[f64] = &[Lettering::GREAT, Lettering::LARGE, Lettering::MIDDLE, Lettering::SMALL];
const TITLES_NARROW: &[f64] = &[Lettering::LARGE, Lettering::MIDDLE, Lettering::SMALL];

/// Height of a row, mm.
const ROW: f64 = 9.0;
/// Cap height of field names, mm: the least of ISO 3098 for A4 to A1.
pub(super) const NAME: f64 = 1.8;
/// Cap height of field values, mm.
pub(super) const VALUE: f64 = 2.5;

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
    let x1 = block.x0 + block.width() * COLUMNS.0;
    let x2 = block.x0 + block.width() * COLUMNS.1;
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
    /// The rectangle of some rows between shares `a` and `b` of column `column`.
    fn rect(&self, column: usize, a: f64, b: f64, rows: Range<u8>) -> Rect {
        let (from, to) = (f64::from(rows.start), f64::from(rows.end));
        let (x0, x1) = (self.x[column], self.x[column + 1]);
        let w = x1 - x0;
        Rect::new(x0 + w * a, self.top + ROW * from, x0 + w * b, self.top + ROW * to)
    }
}

/// Where the fields of those who drew, checked and approved end, as shares of the second
/// column.
const THIRDS: (f64, f64) = (1.0 / 3.0, 2.0 / 3.0);

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
    across(cells.rect(0, 0.0, 1.0, 0..2));
    across(cells.rect(0, 0.0, 1.0, 2..3));
    across(cells.rect(1, 0.0, 1.0, 0..1));
    for row in 1..4 {
        across(cells.rect(2, 0.0, 1.0, 0..row));
    }
    let mut down = |rect: Rect| plate.line((rect.x1, rect.y0), (rect.x1, rect.y1), narrow, Role::Table);
    down(cells.rect(1, 0.0, THIRDS.0, 0..1));
    down(cells.rect(1, THIRDS.0, THIRDS.1, 0..1));
    down(cells.rect(2, 0.0, SPLIT, 1..4));
}

/// Name and value of one field. A value too long for a line begins beside the
/// name of its field.
pub(super) fn field(plate: &mut Plate, rect: Rect, name: &str, value: &str) {
    plate.text((rect.x0 + PAD, rect.y0 + OVER_NAME + NAME), name, Lettering::note(NAME).role(Role::Table));
    let room = rect.width() - PADS;
    let beside = text_width(name, NAME, Weight::Regular) + BESIDE_NAME;
    let (first, rest) = broken(value, room, room - beside);
    plate.text(
        (rect.x0 + PAD + beside, rect.y1 - UNDER_VALUE - PITCH * VALUE),
        first,
        Lettering::note(VALUE),
    );
    let rest = elide(&rest, VALUE, Weight::Regular, room);
    plate.runs((rect.x0 + PAD, rect.y1 - UNDER_VALUE), stacked(&rest), Lettering::note(VALUE));
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

/// The unit of the figures.
pub(super) fn dimensions_in(look: &Look) -> &'static str {
    match look.unit {
        Unit::Mm => "Dimensions in millimetres",
        Unit::Inch => "Dimensions in inches",
    }
}

fn strip(plate: &mut Plate, look: &Look, sheet: &SheetFields<'_>, block: Rect) {
    let unit = dimensions_in(look);
    let y = block.y0 + f64::midpoint(STRIP, VALUE);
    let paper = look.paper.name();
    let room = block.width() - 2.0 * PADS - text_width(paper, VALUE, Weight::Regular);
    let text = format!("{unit}.  {}", sheet.tolerance);
    let text = elide(&text, VALUE, Weight::Regular, room);
    plate.text((block.x0 + PAD, y), text, Lettering::note(VALUE));
    plate.text((block.x1 - PAD, y), paper, Lettering::note(VALUE).anchored(Anchor::End));
}

fn owner_column(plate: &mut Plate, head: &JobHead, cells: &Cells) {
    let rect = cells.rect(0, 0.0, 1.0, 0..2);
    plate.text((rect.x0 + PAD, rect.y0 + OVER_NAME + NAME), "Owner", Lettering::note(NAME).role(Role::Table));
    let owner = head.owner.as_deref().unwrap_or("");
    let (height, lines) = shrink(owner, Weight::SemiBold, MINOR, 2, rect.width() - PADS);
    let (over, under) = ROUND_OWNER;
    stack(plate, &lines, height, Rect::new(rect.x0, rect.y0 + over, rect.x1, rect.y1 - under));
    field(plate, cells.rect(0, 0.0, 1.0, 2..3), "Client", head.client.as_deref().unwrap_or(""));
    field(plate, cells.rect(0, 0.0, 1.0, 3..4), "Place", head.place.as_deref().unwrap_or(""));
}

fn title_column(plate: &mut Plate, look: &Look, head: &JobHead, sheet: &SheetFields<'_>, cells: &Cells) {
    let (first, second) = THIRDS;
    for (from, to, name, who) in [
        (0.0, first, "Drawn by", &head.drawn_by),
        (first, second, "Checked by", &head.checked_by),
        (second, 1.0, "Approved by", &head.approved_by),
    ] {
        field(plate, cells.rect(1, from, to, 0..1), name, who.as_deref().unwrap_or(""));
    }
    let rect = cells.rect(1, 0.0, 1.0, 1..4);
    plate.text((rect.x0 + PAD, rect.y0 + OVER_NAME + NAME), "Title", Lettering::note(NAME).role(Role::Table));
    let heights = match look.paper {
        Paper::A4 | Paper::Letter => TITLES_NARROW,
        _ => TITLES,
    };
    let (height, lines) = title_lines(&head.title, heights, rect.width() - PADS);
    let (below, under) = shrink(sheet.title, Weight::Regular, MINOR, 1, rect.width() - PADS);
    let (over, foot) = ROUND_TITLE;
    stack(plate, &lines, height, Rect::new(rect.x0, rect.y0 + over, rect.x1, rect.y1 - foot));
    for line in &under {
        plate.text(
            (rect.x0 + PAD, rect.y1 - UNDER_SHEET),
            line.clone(),
            Lettering::note(below).role(Role::Title),
        );
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
    let pitch = height * PITCH;
    let all = height + pitch * (lines.len().saturating_sub(1)) as f64;
    let mut y = rect.center().y - all / 2.0 + height;
    for line in lines {
        plate.text((rect.x0 + PAD, y), line.clone(), Lettering::title(height));
        y += pitch;
    }
}

fn number_column(plate: &mut Plate, look: &Look, head: &JobHead, sheet: &SheetFields<'_>, cells: &Cells) {
    // Most jobs say no status; then the type has the whole row.
    let split = if head.status.is_some() { SPLIT } else { 1.0 };
    field(plate, cells.rect(2, 0.0, split, 0..1), "Document type", sheet.document_type);
    if let Some(status) = &head.status {
        let rect = cells.rect(2, SPLIT, 1.0, 0..1);
        plate.line((rect.x0, rect.y0), (rect.x0, rect.y1), plate.narrow, Role::Table);
        field(plate, rect, "Status", status);
    }
    let number = head.number.as_deref().unwrap_or("");
    field(plate, cells.rect(2, 0.0, SPLIT, 1..2), "Number", number);
    field(plate, cells.rect(2, SPLIT, 1.0, 1..2), "Revision", head.revision.as_deref().unwrap_or(""));
    field(plate, cells.rect(2, 0.0, SPLIT, 2..3), "Date of issue", look.date.as_deref().unwrap_or(""));
    let of = format!("{} / {}", sheet.number, sheet.of);
    field(plate, cells.rect(2, SPLIT, 1.0, 2..3), "Sheet", &of);
    field(plate, cells.rect(2, 0.0, SPLIT, 3..4), "Scale", sheet.scale);
    let rect = cells.rect(2, SPLIT, 1.0, 3..4);
    projection_symbol(plate, look.profile.projection(), rect.center());
}

/// Height of the narrow end of the projection symbol, mm: the whole stands in a row.
const CONE: f64 = 2.6;
/// In heights of the narrow end: how long the whole symbol is,
const SYMBOL: f64 = 5.0;
/// how far the rings' middle lies from its left end in first angle, the cone standing
/// left of them,
const RINGS_FIRST: f64 = 4.0;
/// how far the cone does in third angle,
const CONE_THIRD: f64 = 3.0;
/// how far the centre lines reach above and below the rings' middle,
const AXIS: f64 = 1.4;
/// and past both ends.
const AXIS_PAST: f64 = 0.5;
/// Dashes of those centre lines, mm: the symbol is too small for the usual ones.
const AXIS_DASH: &[f64] = &[1.6, 0.4, 0.3, 0.4];
/// How near the curves of a printed circle come to it, mm.
const ROUND: f64 = 1e-3;

/// The projection symbol of ISO 5456-2: a cone frustum and the view of its
/// narrow end. By the projection rule the circles stand on the wide side in
/// first angle and on the narrow side in third; the narrow end is on the left.
/// Proportions h : 2h : 2h with a gap of h (from memory).
pub(super) fn projection_symbol(plate: &mut Plate, projection: Projection, centre: Point) {
    let h = CONE;
    // Frustum 2h long, circles 2h wide, gap h: 5h in all.
    let left = centre.x - SYMBOL / 2.0 * h;
    let (frustum, rings) = match projection {
        Projection::First => (left, left + RINGS_FIRST * h),
        Projection::Third => (left + CONE_THIRD * h, left + h),
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
        plate.stroke(circle.to_path(ROUND), pen, Role::Symbol);
    }
    let axis = Pen { width: plate.narrow / 2.0, dash: AXIS_DASH };
    let mut across = BezPath::new();
    across.move_to((left - AXIS_PAST * h, centre.y));
    across.line_to((left + (SYMBOL + AXIS_PAST) * h, centre.y));
    plate.stroke(across, axis, Role::Symbol);
    let mut down = BezPath::new();
    down.move_to((rings, centre.y - AXIS * h));
    down.line_to((rings, centre.y + AXIS * h));
    plate.stroke(down, axis, Role::Symbol);
}
