//! Boards of one thickness on one sheet, one under the other, each with its cuts beside
//! it: a board is long and low, so that several stand where one sheet of plywood does.

use kurbo::{Point, Rect};

use super::cuts::{cuts, unlabelled};
use super::heights::{HEADING, TEXT, above, pitch};
use super::pages::{
    BESIDE, BESIDE_GRAIN, LEAST_NOTES, MOST, OVER_NOTES, Subject, UNDER_HEADING, bare, broken, heading,
    notes, title,
};
use super::picture::{Picture, grain, picture};
use crate::drawing::kit::table::Table;
use crate::drawing::kit::words::{runs_width, stacked};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::paper::Weight;

/// How far under the foot of the sheet a table may still be begun, mm.
const APART: f64 = 9.0;

/// A board with its tables.
struct Block<'a> {
    subject: &'a Subject<'a>,
    cuts: Table,
    small: Option<Table>,
    notes: Vec<String>,
    height: f64,
}

/// Where blocks stand on their sheet.
struct Columns {
    scale: Scale,
    /// The room.
    area: Rect,
    /// Where the tables begin.
    tables: f64,
}

/// The boards of one thickness, each with its cuts. `None` where there is but one, or where one
/// does not go on a sheet in this way.
pub(super) fn stacked_boards(subjects: &[Subject<'_>]) -> Option<Vec<SheetBody>> {
    let first = subjects.first().filter(|_| subjects.len() > 1)?;
    let look = first.look;
    let columns = columns(subjects, look)?;
    let blocks: Vec<Block<'_>> = subjects.iter().map(|subject| block(subject, &columns)).collect();
    if blocks.iter().any(|block| block.height > columns.area.height()) {
        return None;
    }
    // Each a body of its own: one board finds room in the white of another sheet where two
    // do not, and those that follow on one another come to stand under one another anyhow.
    let body = |block: &Block<'_>| {
        let mut plate = Plate::new(look);
        draw(&mut plate, block, &columns, columns.area.y0);
        SheetBody {
            scale: Some(columns.scale),
            marks: plate.marks,
            ..SheetBody::new(SheetKind::Layout, title(first))
        }
    };
    Some(blocks.iter().map(body).collect())
}

/// The largest scale at which the longest board leaves room for all tables beside it.
fn columns(subjects: &[Subject<'_>], look: &Look) -> Option<Columns> {
    let area = look.room().above();
    let long = subjects.iter().map(|subject| bare(subject)[0]).fold(0.0, f64::max);
    let headed = |subject: &Subject<'_>| runs_width(&stacked(&heading(subject)), HEADING, Weight::SemiBold);
    let heads = subjects.iter().map(headed).fold(0.0, f64::max);
    let table = |subject: &Subject<'_>| {
        cuts(subject.list, subject.cutting, subject.sequence, look).set(TEXT, f64::MAX).full_width()
    };
    let tables = subjects.iter().map(table).fold(0.0, f64::max);
    // The notes stand under the board, however short it is drawn.
    let least = heads.max(BESIDE_GRAIN + LEAST_NOTES);
    let left = |scale: Scale| (long * scale.factor).max(least);
    let scale = Scale::largest(look, MOST, |scale| left(scale) + BESIDE + tables <= area.width())?;
    Some(Columns { scale, area, tables: area.x0 + left(scale) + BESIDE })
}

/// Where the picture of a board stands whose block begins at `y`.
fn place(subject: &Subject<'_>, columns: &Columns, y: f64) -> Rect {
    let [long, wide] = bare(subject).map(|side| side * columns.scale.factor);
    Rect::from_origin_size((columns.area.x0, y + above(subject.look) + UNDER_HEADING), (long, wide))
}

/// The picture of a block; what is too small in it for its label.
fn drawn(plate: &mut Plate, subject: &Subject<'_>, columns: &Columns, y: f64) -> Option<Table> {
    let look = subject.look;
    let picture_of = Picture {
        list: subject.list,
        cutting: subject.cutting,
        layout: &subject.one.layout,
        look,
        at: place(subject, columns, y),
        scale: columns.scale,
    };
    let bare = picture(plate, &picture_of);
    unlabelled(subject.list, subject.cutting, &bare, look)
}

/// A board, its tables and how high they stand together.
fn block<'a>(subject: &'a Subject<'a>, columns: &Columns) -> Block<'a> {
    let look = subject.look;
    let small = drawn(&mut Plate::new(look), subject, columns, 0.0);
    let cuts = cuts(subject.list, subject.cutting, subject.sequence, look);
    let at = place(subject, columns, 0.0);
    let notes = broken(&notes(subject), columns.tables - BESIDE - columns.area.x0, BESIDE_GRAIN);
    let left = at.y1 + OVER_NOTES + TEXT + pitch(look) * notes.len() as f64;
    let width = columns.area.x1 - columns.tables;
    let high = |table: &Table| table.set(TEXT, width).full_height();
    let right = high(&cuts) + small.as_ref().map_or(0.0, |small| BESIDE + high(small));
    Block { subject, cuts, small, notes, height: left.max(right) }
}

/// Draws a block from `y` down.
fn draw(plate: &mut Plate, block: &Block<'_>, columns: &Columns, y: f64) {
    let subject = block.subject;
    let at = place(subject, columns, y);
    plate.runs((at.x0, at.y0 - UNDER_HEADING), stacked(&heading(subject)), Lettering::title(HEADING));
    drawn(plate, subject, columns, y);
    let mut line_at = at.y1 + OVER_NOTES + TEXT;
    grain(plate, subject.cutting.grained, Point::new(at.x0, line_at - TEXT / 2.0));
    for line in &block.notes {
        plate.runs((at.x0 + BESIDE_GRAIN, line_at), stacked(line), Lettering::note(TEXT));
        line_at += pitch(subject.look);
    }
    let mut top = y;
    for table in std::iter::once(&block.cuts).chain(&block.small) {
        let set = table.set(TEXT, columns.area.x1 - columns.tables);
        let made = set.draw(plate, Point::new(columns.tables, top), 0, columns.area.y1 + APART);
        top = made.bottom + BESIDE;
    }
}
