//! The page: the picture, and beside or under it what the piece is in words.

use kurbo::{Point, Rect};

use super::picture;
use crate::cutting::CuttingList;
use crate::drawing::kit::words::{shrink, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::paper::Weight;
use crate::wording::quote::{Description, whom};

/// Cap heights that the title is tried in, mm.
const TITLE: &[f64] = &[7.0, 5.0, 3.5];
/// Base line to base line, in cap heights; before a heading, and under it.
const PITCH: f64 = 1.75;
const BEFORE: f64 = 2.6;
const UNDER: f64 = 1.9;
/// Share of the width that words take beside the picture on a lying sheet, and of the
/// height that the picture keeps at least on an upright one.
const BESIDE: f64 = 0.27;
const LEAST: f64 = 0.5;
/// White between picture and words, and between columns, mm.
const GUTTER: f64 = 10.0;

/// The sheet of a job, with further ones where its words are many.
pub(in crate::drawing) fn client_sheets(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    look: &Look,
) -> Vec<SheetBody> {
    let described = look.words().described(job, worked, list);
    let area = look.room().above();
    let upright = area.height() > area.width();
    let mut plate = Plate::new(look);
    let top = head(&mut plate, job, area);
    let body = Rect { y0: top, ..area };
    let wide = if upright { (area.width() - GUTTER) / 2.0 } else { BESIDE * area.width() };
    let lines = lines(&described, look, wide);
    let tall: f64 = lines.iter().map(|line| line.before).sum();
    let (shown, columns) = if upright {
        // Two columns of about half the words each.
        let words = (0.5 * tall + BEFORE * look.text() * PITCH).min((1.0 - LEAST) * body.height());
        let y = body.y1 - words;
        let left = Rect { x1: body.x0 + wide, y0: y, ..body };
        let right = Rect { x0: body.x1 - wide, y0: y, ..body };
        (Rect { y1: y - GUTTER / 2.0, ..body }, vec![left, right])
    } else {
        let words = Rect { x0: body.x1 - wide, ..body };
        (Rect { x1: words.x0 - GUTTER, ..body }, vec![words])
    };
    picture::draw(&mut plate, job, worked, shown);
    let mut plates = vec![plate];
    flow(&mut plates, &lines, columns, look);
    let title = format!("{}: for the client", job.head.title);
    let sheet = |(at, plate): (usize, Plate)| SheetBody {
        marks: plate.marks,
        runs_on: at > 0,
        ..SheetBody::new(SheetKind::Client, title.clone())
    };
    plates.into_iter().enumerate().map(sheet).collect()
}

/// What it is and for whom, over the whole width; gives the y below it.
fn head(plate: &mut Plate, job: &Job, area: Rect) -> f64 {
    let (height, lines) = shrink(&job.head.title, Weight::SemiBold, TITLE, 2, area.width());
    let mut y = area.y0 + height;
    for line in &lines {
        plate.text((area.x0, y), line.clone(), Lettering::title(height));
        y += height * PITCH;
    }
    let small = Lettering::MIDDLE;
    for line in wrap(&whom(&job.head), small, Weight::Regular, area.width()) {
        plate.text((area.x0, y), line, Lettering::note(small));
        y += small * PITCH;
    }
    y + GUTTER / 2.0
}

/// A line of words, and from the base line before it to its own, mm.
struct Line {
    text: String,
    how: Lettering,
    before: f64,
    /// Whether it may not stand last in a column.
    heads: bool,
}

/// All that is said, under its headings.
fn lines(described: &Description, look: &Look, wide: f64) -> Vec<Line> {
    let text = look.text();
    let blocks = [
        ("Overall sizes", &described.sizes),
        ("Materials", &described.materials),
        ("Finish", &vec![described.finish.clone()]),
        ("Fittings", &described.fittings),
        ("Choices made", &described.choices),
    ];
    let mut lines: Vec<Line> = Vec::new();
    for (heading, said) in blocks {
        let said: Vec<&String> = said.iter().filter(|text| !text.is_empty()).collect();
        if said.is_empty() {
            continue;
        }
        let how = Lettering::title(text);
        lines.push(Line { text: heading.to_owned(), how, before: BEFORE * text, heads: true });
        for (at, words) in said.iter().enumerate() {
            for (turn, part) in wrap(words, text, Weight::Regular, wide).into_iter().enumerate() {
                let before = if at == 0 && turn == 0 { UNDER } else { PITCH };
                lines.push(Line {
                    text: part,
                    how: Lettering::note(text),
                    before: before * text,
                    heads: false,
                });
            }
        }
    }
    lines
}

/// Sets lines in columns one after the other, on further pages where they are many.
fn flow(plates: &mut Vec<Plate>, lines: &[Line], mut columns: Vec<Rect>, look: &Look) {
    let area = look.room().above();
    let mut y = columns.first().map_or(area.y0, |column| column.y0);
    let mut fresh = true;
    for (at, line) in lines.iter().enumerate() {
        // A heading takes the first line under it along.
        let next = lines.get(at + 1).filter(|_| line.heads).map_or(0.0, |next| next.before);
        let before = if fresh { line.how.height } else { line.before };
        let full = columns.first().is_none_or(|column| y + before + next > column.y1);
        if full && !fresh {
            columns.drain(..columns.len().min(1));
            if columns.is_empty() {
                plates.push(Plate::new(look));
                let wide = (area.width() - GUTTER) / 2.0;
                columns = vec![Rect { x1: area.x0 + wide, ..area }, Rect { x0: area.x1 - wide, ..area }];
            }
            y = columns.first().map_or(area.y0, |column| column.y0);
            fresh = true;
        }
        let (Some(plate), Some(column)) = (plates.last_mut(), columns.first()) else { return };
        y += if fresh { line.how.height } else { line.before };
        fresh = false;
        plate.text(Point::new(column.x0, y), line.text.clone(), line.how);
    }
}
