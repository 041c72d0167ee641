//! Strips without any cut but their ends, in one table: a drawing of each
//! would say no more.

use kurbo::{Circle, Point, Rect, Shape, Vec2};

use super::chosen::PartNote;
use super::frame::Frame;
use super::pack;
use super::subject::{self, Cell, Prepared};
use super::thin::Way;
use super::view::on_sheet;
use crate::drawing::kit::dimension::figure::Figure;
use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::page::look::Look;
use crate::joinery::{CutKind, Hand, PartSource};
use crate::machining::feature;
use crate::model::Face;
use crate::paper::fixes::Axis;
use crate::paper::{Anchor, Fixes, Mark, Role, Run, Shows, Text};

/// Length and height of a picture, mm.
const PICTURE: (f64, f64) = (26.0, 4.0);
/// Half the gap of a picture's break, mm.
const BREAK: f64 = 0.9;
/// White between columns, mm.
const GAP: f64 = 4.0;
/// What the sub-heading of the table says.
const MANNER: &str =
    "ends as seen on the marked face, face edge up; grain along the length; pictures shortened";

/// The tables of the strips among `prepared`, and which of them they take.
pub(super) fn tables(prepared: &[Prepared<'_>], look: &Look) -> (Vec<Cell>, Vec<bool>) {
    let mut taken: Vec<bool> = prepared.iter().map(is_strip).collect();
    let strips: Vec<&Prepared<'_>> =
        prepared.iter().zip(&taken).filter(|(_, t)| **t).map(|(p, _)| p).collect();
    let room = pack::room(look);
    let mut tables = Vec::new();
    let mut rest = strips.as_slice();
    // One strip by itself is no table; a table that has no room is none either.
    while strips.len() > 1 && !rest.is_empty() {
        let fits = |n: usize| {
            let cell = table(&rest[..n], look);
            (cell.bounds.width() <= room.width() && cell.bounds.height() <= room.height()).then_some(cell)
        };
        let Some((n, cell)) = (1..=rest.len()).rev().find_map(|n| Some((n, fits(n)?))) else { break };
        tables.push(cell);
        rest = &rest[n..];
    }
    if strips.len() < 2 || !rest.is_empty() {
        tables.clear();
        taken.fill(false);
    }
    (tables, taken)
}

/// Whether a part is a lipping that its length, section and ends describe.
fn is_strip(prepared: &Prepared<'_>) -> bool {
    let part = prepared.subject.part;
    let plain = prepared
        .features
        .iter()
        .all(|f| f.kind == CutKind::Mitre && matches!(f.form, feature::Form::Slope { along: 2, .. }));
    let notes: usize = prepared.chosen.iter().map(|v| v.notes.len()).sum();
    plain
        && matches!(part.source, PartSource::Lipping { .. })
        && part.hand == Hand::None
        && part.remark.is_none()
        && notes == prepared.features.len()
        && prepared.chosen.iter().all(|v| v.rows.iter().all(|r| r.outermost))
}

/// A line of text in a table.
struct Line {
    runs: Vec<Run>,
    /// A size that makes the part: its model value and what it fixes.
    size: Option<(Option<f64>, Fixes)>,
}

impl Line {
    fn plain(words: impl Into<String>) -> Self {
        Self { runs: vec![Run::Plain(words.into())], size: None }
    }

    fn size(figure: Figure) -> Self {
        Self { runs: figure.runs, size: Some((Some(figure.value), figure.fixes)) }
    }

    fn width(&self, h: f64) -> f64 {
        Text::new(Point::ZERO, self.runs.clone(), h).width()
    }
}

/// Heads of the columns after number and picture.
fn heads(look: &Look) -> [&'static str; 6] {
    ["Strip", look.words().of_each(), "Length", "Width", "Thickness", "Ends"]
}

/// The cells of a strip below [`heads`].
fn cells(strip: &Prepared<'_>) -> [Vec<Line>; 6] {
    let subject = strip.subject;
    let (part, look) = (subject.part, subject.look);
    let stock = subject.job.stock.get(part.stock.0).map_or("", |s| s.name.as_str());
    let off: u32 = subject::off(subject).iter().map(|(_, n)| n).sum();
    let size = |mm: f64, axis| vec![Line::size(Figure::length(look, mm, Fixes::overall(axis)))];
    [
        vec![Line::plain(part.name.clone()), Line::plain(stock)],
        vec![Line::plain(off.to_string())],
        size(part.size.x, Axis::X),
        size(part.size.y, Axis::Y),
        size(part.size.z, Axis::Z),
        ends(strip),
    ]
}

/// What is said of the ends of a strip.
fn ends(strip: &Prepared<'_>) -> Vec<Line> {
    let middle = strip.subject.part.size.x / 2.0;
    let mut said = [false; 2];
    let mut lines: Vec<(usize, Line)> = Vec::new();
    for note in strip.chosen.iter().flat_map(|v| &v.notes) {
        let left = note.at.iter().any(|p| p.x < middle);
        let right = note.at.iter().any(|p| p.x >= middle);
        said = [said[0] || left, said[1] || right];
        let which = match (left, right) {
            (true, false) => "left ",
            (false, true) => "right ",
            _ => "",
        };
        lines.push((usize::from(!left), note_line(which, note)));
    }
    match said {
        [false, false] => return vec![Line::plain("square")],
        [false, true] => lines.push((0, Line::plain("left square"))),
        [true, false] => lines.push((1, Line::plain("right square"))),
        [true, true] => {}
    }
    lines.sort_by_key(|(place, _)| *place);
    lines.into_iter().map(|(_, line)| line).collect()
}

/// A note on an end in one line.
fn note_line(which: &str, note: &PartNote) -> Line {
    let mut runs = vec![Run::Plain(which.into())];
    for (i, phrase) in note.phrases.iter().enumerate() {
        if i > 0 {
            runs.push(Run::Plain(", ".into()));
        }
        runs.extend(phrase.iter().cloned());
    }
    Line { runs, size: Some((note.value, note.fixes.clone())) }
}

/// A column of the table, mm.
#[derive(Clone, Copy)]
struct Column {
    head: &'static str,
    /// Its left edge.
    left: f64,
    width: f64,
}

impl Column {
    /// Text on a base line: words from its left, figures to its right.
    fn set(&self, runs: Vec<Run>, base: f64, h: f64) -> Text {
        let words = matches!(self.head, "Strip" | "Ends");
        let at = Point::new(if words { self.left } else { self.left + self.width }, base);
        Text::new(at, runs, h).anchored(if words { Anchor::Start } else { Anchor::End })
    }
}

/// The columns, each as wide as its widest text, and the right end of the last.
fn columns(heads: [&'static str; 6], rows: &[[Vec<Line>; 6]], start: f64, h: f64) -> (Vec<Column>, f64) {
    let mut columns = Vec::new();
    let mut x = start;
    for (c, head) in heads.into_iter().enumerate() {
        let lines = rows.iter().flat_map(|r| r[c].iter().map(|l| l.width(h)));
        let width = lines.fold(Line::plain(head).width(h), f64::max);
        columns.push(Column { head, left: x, width });
        x += width + GAP;
    }
    (columns, x - GAP)
}

/// Height of the title, in text heights.
const TITLE: f64 = 1.4;
/// From base line to base line, in text heights.
const PITCH: f64 = 1.7;
/// Radius of the ring round a number, in text heights.
const RING: f64 = 1.2;
/// From the title's base line to the sub-heading's and to the heads', in pitches.
const UNDER_TITLE: (f64, f64) = (1.1, 2.5);
/// Under the heads, in text heights.
const UNDER_HEADS: f64 = 0.8;
/// White above and below the text of a row, in text heights.
const PAD: f64 = 0.9;

/// The title with its foot at `top`, and below it how the table is to be read.
fn title(top: f64, under: f64, h: f64) -> Vec<Mark> {
    vec![
        Mark::text(Text::plain(Point::new(0.0, top), "Strips", top).bold(), Role::Title),
        Mark::text(Text::plain(Point::new(0.0, under), MANNER, h), Role::Note),
    ]
}

/// The table of some strips, its origin anywhere.
fn table(strips: &[&Prepared<'_>], look: &Look) -> Cell {
    let h = subject::text_height(look);
    let pitch = h * PITCH;
    let rows: Vec<[Vec<Line>; 6]> = strips.iter().map(|s| cells(s)).collect();
    let aside = 2.0 * (h * RING) + GAP;
    let (columns, right) = columns(heads(look), &rows, aside + PICTURE.0 + GAP, h);
    let top = h * TITLE;
    let mut marks = title(top, top + pitch * UNDER_TITLE.0, h);
    let mut y = top + pitch * UNDER_TITLE.1;
    for column in &columns {
        marks.push(Mark::text(column.set(vec![Run::Plain(column.head.into())], y, h), Role::Note));
    }
    y += h * UNDER_HEADS;
    let narrow = look.narrow();
    let rule = |y: f64| Mark::line(Point::new(0.0, y), Point::new(right, y), pen(narrow), Role::Table);
    marks.push(rule(y));
    let mut number = 0;
    for (strip, cells) in strips.iter().zip(rows) {
        let lines = cells.iter().map(Vec::len).max().unwrap_or(1).max(2);
        let tall = pitch * (lines as f64 - 1.0) + h + 2.0 * h * PAD;
        marks.extend(row(strip, cells, &columns, y + tall / 2.0, &mut number));
        y += tall;
        marks.push(rule(y));
    }
    let bounds = marks.iter().map(Mark::bounds).fold(Rect::new(0.0, 0.0, right, y), |all, b| all.union(b));
    let title =
        format!("strips {}", strips.iter().map(|s| s.subject.part.mark()).collect::<Vec<_>>().join(", "));
    Cell { marks, bounds, scale: None, title, dimensions: number, views: 0, strained: false, broken: false }
}

/// One strip as a row about the height `middle`: number, picture, cells.
fn row(
    strip: &Prepared<'_>,
    cells: [Vec<Line>; 6],
    columns: &[Column],
    middle: f64,
    number: &mut u32,
) -> Vec<Mark> {
    let (part, look) = (strip.subject.part, strip.subject.look);
    let h = subject::text_height(look);
    let (pitch, radius) = (h * PITCH, h * RING);
    let ring = Circle::new(Point::new(radius, middle), radius).to_path(Mark::ROUND);
    let item = Text::plain(Point::new(radius, middle + h / 2.0), part.number.to_string(), h);
    let mut marks = vec![
        Mark::stroke(ring, pen(look.narrow()), Role::ItemNumber),
        Mark::text(item.anchored(Anchor::Middle).bold(), Role::ItemNumber),
    ];
    let corner = Vec2::new(2.0 * radius + GAP, middle - PICTURE.1 / 2.0);
    marks.extend(shortened(strip).into_iter().map(|mut mark| {
        mark.shift(corner);
        mark
    }));
    for (column, lines) in columns.iter().zip(cells) {
        let block = pitch * (lines.len() as f64 - 1.0);
        for (i, line) in lines.into_iter().enumerate() {
            let base = middle - block / 2.0 + h / 2.0 + pitch * i as f64;
            let text = column.set(line.runs, base, h);
            marks.push(match line.size {
                None => Mark::text(text, Role::Note),
                Some((value, fixes)) => {
                    *number += 1;
                    let shows = Shows { dimension: *number, value, fixes, ..Shows::default() };
                    Mark::text(text, Role::DimensionText).showing(shows)
                }
            });
        }
    }
    for mark in &mut marks {
        mark.shows.part = part.mark();
    }
    marks
}

/// A strip seen on its marked face, its middle broken out.
fn shortened(strip: &Prepared<'_>) -> Vec<Mark> {
    let (part, look) = (strip.subject.part, strip.subject.look);
    let frame = Frame::new(Face::Marked, part.size, 1.0);
    let factor = PICTURE.1 / part.size.y;
    let half = PICTURE.0 / 2.0;
    let middle = part.size.x / 2.0;
    let low = |p: Point| Point::new((p.x * factor).min(half - BREAK), p.y * factor);
    let high =
        |p: Point| Point::new((PICTURE.0 - (part.size.x - p.x) * factor).max(half + BREAK), p.y * factor);
    let mut lines = Vec::new();
    for (line, _) in strip.lines.first().into_iter().flatten().filter(|l| l.1 == Way::Seen) {
        let (a, b) = (on_sheet(&frame, line.a), on_sheet(&frame, line.b));
        let (a, b) = if a.x <= b.x { (a, b) } else { (b, a) };
        if a.x < middle {
            lines.push((low(a), low(b), Way::Seen));
        }
        if b.x >= middle {
            lines.push((high(a), high(b), Way::Seen));
        }
    }
    let wide = pen(look.wide());
    let mut marks: Vec<Mark> = super::thin::thinned(&lines)
        .into_iter()
        .map(|(a, b, _)| Mark::line(a, b, wide, Role::Outline))
        .collect();
    for x in [half - BREAK, half + BREAK] {
        let (a, b) = (Point::new(x + 0.5, -1.0), Point::new(x - 0.5, PICTURE.1 + 1.0));
        marks.push(Mark::line(a, b, pen(look.narrow()), Role::Symbol));
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::page::look::Paper;
    use crate::drawing::page::profile::Profile;
    use crate::measure::Unit;

    #[test]
    fn words_of_the_table_begin_at_the_left_of_their_column() {
        let heads = heads(&Look::new(Paper::A4, Unit::Mm, Profile::Iso));
        let left = |head| {
            let column = Column { head, left: 10.0, width: 20.0 };
            column.set(Vec::new(), 0.0, 2.5).at.x < 11.0
        };
        assert_eq!(heads.map(left), [true, false, false, false, false, true]);
    }
}
