//! One part on a sheet: heading, views, sizes, notes, marks.

use kurbo::{Point, Rect, Vec2};

use super::chosen::{AxisRow, PartNote, Place, ViewSizes};
use super::frame::{Frame, station};
use super::holes::{self, numbers::On};
use super::sizes;
use super::stretches::Breaks;
use super::subject::{Cell, Further, Prepared, Subject, text_height};
use super::thin::WayLine;
use super::{heading, symbols, view};
use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::place::Placed;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::dimension::{Beside, Form, Manner, Sizes, Stop, place};
use crate::drawing::page::look::Look;
use crate::drawing::page::scale::Scale;
use crate::joinery::WorkedPart;
use crate::machining::feature;
use crate::model::Face;
use crate::paper::{Mark, Text};

/// Places nearer than this are one, mm.
const SAME: f64 = 0.01;
/// How far round a cell notes may go, mm: sideways and up and down.
const REACH: (f64, f64) = (80.0, 60.0);

/// White space between views and what stands between them, mm.
const GAP: f64 = 9.0;
/// White space between heading and views, mm.
const HEAD_GAP: f64 = 5.0;

/// A view in the making.
pub(super) struct Drawn<'a> {
    /// Its sizes.
    sizes: &'a ViewSizes,
    /// Where it lies.
    frame: Frame,
    /// Its own ink.
    ink: Vec<Mark>,
    /// Rows placed round it.
    placed: Placed,
}

/// Reads a part and sees it from every side that is drawn.
pub(super) fn prepare(subject: Subject<'_>) -> Prepared<'_> {
    let features = feature::read(subject.part);
    let chosen = sizes::choose(subject.part, &features, subject.look);
    let lines = chosen
        .iter()
        .map(|v| view::lines(subject.part, &Frame::new(v.face, subject.part.size, 1.0)))
        .collect();
    Prepared { subject, features, chosen, lines }
}

/// The views of a part at a scale with their rows of sizes, without heading and
/// notes.
pub(super) struct Views<'a> {
    /// The views in projection.
    drawn: Vec<Drawn<'a>>,
    /// The scale.
    scale: Scale,
    /// Where the length is broken.
    breaks: Breaks,
    /// Dimension numbers used so far.
    number: u32,
    /// The box round them: the cell is never smaller.
    pub(super) bounds: Rect,
}

/// The views of a part at `scale`, its length broken where `breaks` say.
pub(super) fn views<'a>(prepared: &'a Prepared<'_>, scale: Scale, breaks: Breaks) -> Views<'a> {
    let look = prepared.subject.look;
    let (mut drawn, mut number) = (Vec::new(), 0);
    for (sizes, lines) in prepared.chosen.iter().zip(&prepared.lines) {
        let whole = Frame::new(sizes.face, prepared.subject.part.size, scale.factor);
        let frame = Frame { breaks, ..whole };
        drawn.push(one_view(prepared, (sizes, lines), frame, &mut number));
    }
    for (view_number, view) in (1..).zip(&mut drawn) {
        for mark in view.ink.iter_mut().chain(&mut view.placed.marks) {
            mark.shows.view = view_number;
        }
    }
    arrange(&mut drawn, look);
    let bounds = drawn.iter().map(|d| d.placed.bounds).reduce(|a, b| a.union(b)).unwrap_or_default();
    Views { drawn, scale, breaks, number, bounds }
}

/// Draws one part at `scale`, its length broken where `breaks` say.
pub(super) fn draw(prepared: &Prepared<'_>, scale: Scale, breaks: Breaks) -> Cell {
    finish(prepared, views(prepared, scale, breaks))
}

/// Views with the marks, notes, table and heading of their part.
pub(super) fn finish(prepared: &Prepared<'_>, views: Views<'_>) -> Cell {
    let subject = prepared.subject;
    let part = subject.part;
    let Views { mut drawn, scale, breaks, mut number, mut bounds } = views;
    let mut marks: Vec<Mark> = Vec::new();
    for view in &mut drawn {
        marks.append(&mut view.ink);
        marks.append(&mut view.placed.marks);
    }
    let near = annotate(subject, &drawn, bounds, &mut number, &mut marks);
    bounds = marks.iter().map(Mark::bounds).fold(bounds, |all, b| all.union(b));
    let table =
        if subject.further == Further::No { super::turned::table(subject, bounds) } else { Vec::new() };
    bounds = super::turned::bounds(&table, bounds);
    marks.extend(table);
    let table = holes::table::table(prepared, bounds, &mut number);
    bounds = super::turned::bounds(&table, bounds);
    marks.extend(table);
    let head = heading::draw(subject, scale, Point::new(bounds.x0, bounds.y0 - HEAD_GAP));
    bounds = head.iter().map(Mark::bounds).fold(bounds, |all, b| all.union(b));
    marks.extend(head);
    for mark in &mut marks {
        mark.shows.part = part.mark();
    }
    let views = u16::try_from(drawn.len()).unwrap_or(u16::MAX);
    let title = format!("{} {}", part.mark(), part.name);
    let strained = !near || drawn.iter().any(|d| d.placed.strained) || crowded(&drawn, number);
    Cell {
        marks,
        bounds,
        scale: Some(scale),
        title,
        dimensions: number,
        views,
        strained,
        broken: !breaks.is_empty(),
    }
}

/// Paper each figure and note of a part has in its views, mm²: with less, they
/// hide what they measure (found by looking at sheets of many parts).
const ELBOW_ROOM: f64 = 90.0;

/// Whether views are too small for so many figures and notes.
fn crowded(drawn: &[Drawn<'_>], notes: u32) -> bool {
    drawn.iter().map(|d| d.frame.rect().area()).sum::<f64>() < ELBOW_ROOM * f64::from(notes)
}

/// Draws a view at the origin with its rows of sizes.
fn one_view<'a>(
    prepared: &Prepared<'_>,
    (sizes, lines): (&'a ViewSizes, &[WayLine]),
    frame: Frame,
    number: &mut u32,
) -> Drawn<'a> {
    let Subject { part, look, .. } = prepared.subject;
    let manner = &Manner::with_text(look, text_height(look));
    let mut ink = view::ink(part, lines, &frame, look);
    ink.extend(super::turned::inlays(part, &frame, look));
    ink.extend(super::centres::lines(&prepared.features, &sizes.cuts, &frame, look));
    let mut rows: Vec<Sizes> = Vec::new();
    for row in &sizes.rows {
        let side = side_of(row, &rows, &frame, look);
        rows.push(on_sheet(part, row, &frame, side));
    }
    let mut placed = place(frame.rect(), &rows, manner, number);
    placed.bounds = ink.iter().map(Mark::bounds).fold(placed.bounds, |all, b| all.union(b));
    Drawn { sizes, frame, ink, placed }
}

/// The side a row goes to: the quiet one, unless what it fixes lies nearer the
/// side opposite and a row stands on the quiet side already, whose line its
/// extension lines would cross.
fn side_of(row: &AxisRow, placed: &[Sizes], frame: &Frame, look: &Look) -> Beside {
    let quiet = frame.side(row.axis, look.profile.projection());
    if row.outermost || !placed.iter().any(|p| p.side == quiet) {
        return quiet;
    }
    let opposite = quiet.opposite();
    let other = if frame.right.0 == row.axis { frame.down.0 } else { frame.right.0 };
    let rect = frame.rect();
    let (low, high) = if quiet.across() { (rect.y0, rect.y1) } else { (rect.x0, rect.x1) };
    let (mut to_quiet, mut to_other) = (f64::MAX, f64::MAX);
    for (a, b) in row.stops.iter().skip(1).flat_map(|p| p.lies.iter()) {
        for c in [frame.along(other, *a), frame.along(other, *b)] {
            let (to_low, to_high) = (c - low, high - c);
            let (q, o) = if matches!(quiet, Beside::Above | Beside::Left) {
                (to_low, to_high)
            } else {
                (to_high, to_low)
            };
            to_quiet = to_quiet.min(q);
            to_other = to_other.min(o);
        }
    }
    if to_other <= to_quiet { opposite } else { quiet }
}

/// A row of sizes in sheet coordinates.
fn on_sheet(part: &WorkedPart, row: &AxisRow, frame: &Frame, side: Beside) -> Sizes {
    let mut stops: Vec<Stop> = row.stops.iter().map(|p| stop(part, p, row.axis, frame, side)).collect();
    let mut figures = row.figures.clone();
    if row.form == Form::Chain && stops.first().map(|s| s.at) > stops.last().map(|s| s.at) {
        stops.reverse();
        figures.reverse();
    }
    Sizes { side, stops, figures, form: row.form, outermost: row.outermost }
}

/// A stop on the sheet. Its extension line begins at the nearest thing there:
/// a cut it fixes, or for the ends of the blank a corner of the solid.
fn stop(part: &WorkedPart, place: &Place, axis: usize, frame: &Frame, side: Beside) -> Stop {
    let other = if frame.right.0 == axis { frame.down.0 } else { frame.right.0 };
    let outer = place.at < feature::SAME || place.at > part.size[axis] - feature::SAME;
    let corners: Vec<f64> = part
        .solid
        .points
        .iter()
        .filter(|p| outer && (p[axis] - place.at).abs() < SAME)
        .map(|p| frame.along(other, p[other]))
        .collect();
    let lies = place.lies.iter().flat_map(|(a, b)| [frame.along(other, *a), frame.along(other, *b)]);
    let low = matches!(side, Beside::Above | Beside::Left);
    let pick = |a: f64, b: f64| if low { a.min(b) } else { a.max(b) };
    let foot = if corners.is_empty() { lies.reduce(pick) } else { corners.into_iter().reduce(pick) };
    Stop { at: frame.along(axis, place.at), foot: foot.unwrap_or_default() }
}

/// Moves the views to their stations round the first one, in projection.
fn arrange(drawn: &mut [Drawn<'_>], look: &Look) {
    let projection = look.profile.projection();
    let stations: Vec<(i32, i32)> = drawn.iter().map(|d| station(d.frame.face, projection)).collect();
    if !stations.contains(&(0, 0)) {
        return one_under_another(drawn, &stations);
    }
    let boxes: Vec<Rect> = drawn.iter().map(|d| d.placed.bounds).collect();
    for (axis_down, step) in [(true, 1), (true, -1), (false, 1), (false, -1)] {
        // The border reached so far on this side of the marked face's view.
        let mut border: Option<f64> = None;
        let mut order: Vec<usize> = (0..drawn.len())
            .filter(|i| {
                let (r, d) = stations[*i];
                if axis_down { r == 0 && d * step >= 0 } else { d == 0 && r * step >= 0 }
            })
            .collect();
        order.sort_by_key(|i| {
            let (r, d) = stations[*i];
            (if axis_down { d } else { r }) * step
        });
        for i in order {
            let own = if axis_down { (boxes[i].y0, boxes[i].y1) } else { (boxes[i].x0, boxes[i].x1) };
            let Some(at) = border else {
                border = Some(if step > 0 { own.1 } else { own.0 });
                continue;
            };
            let shift = if step > 0 { at + GAP - own.0 } else { at - GAP - own.1 };
            let by = if axis_down { Vec2::new(0.0, shift) } else { Vec2::new(shift, 0.0) };
            shift_view(&mut drawn[i], by);
            border = Some(if step > 0 { own.1 + shift } else { own.0 + shift });
        }
    }
}

/// Views that stand away from the first, which lies in projection with none of them.
fn one_under_another(drawn: &mut [Drawn<'_>], stations: &[(i32, i32)]) {
    let mut order: Vec<usize> = (0..drawn.len()).collect();
    order.sort_by_key(|i| stations[*i]);
    let mut foot: Option<f64> = None;
    for i in order {
        let own = drawn[i].placed.bounds;
        if let Some(foot) = foot {
            shift_view(&mut drawn[i], Vec2::new(0.0, foot + GAP - own.y0));
        }
        foot = Some(drawn[i].placed.bounds.y1);
    }
}

/// Moves a view with everything round it.
fn shift_view(view: &mut Drawn<'_>, by: Vec2) {
    view.frame.corner += by;
    for mark in view.ink.iter_mut().chain(&mut view.placed.marks) {
        mark.shift(by);
    }
    view.placed.bounds = view.placed.bounds + by;
}

/// Puts marks of face, edge and grain, then notes, on what paper is white;
/// whether every note stands near what it points at.
fn annotate(
    subject: Subject<'_>,
    drawn: &[Drawn<'_>],
    bounds: Rect,
    number: &mut u32,
    marks: &mut Vec<Mark>,
) -> bool {
    let manner = &Manner::with_text(subject.look, text_height(subject.look));
    let mut near = true;
    let mut white = White::new(bounds.inflate(REACH.0, REACH.1));
    white.ink(marks);
    if let Some(main) = drawn.iter().find(|d| d.sizes.face == Face::Marked) {
        symbols::marks(subject, &main.frame, &mut white, marks);
    }
    for (view_number, view) in (1..).zip(drawn) {
        let mut on = On { white: &mut white, bounds, manner, number };
        near &= holes::numbers::draw(&view.sizes.numbered, (&view.frame, view_number), &mut on, marks);
    }
    for view in drawn {
        let notes: Vec<Callout> = view.sizes.notes.iter().map(|n| callout(n, &view.frame, manner)).collect();
        near &= callouts(&notes, &mut white, bounds, manner, number, marks);
    }
    if let Some(main) = drawn.iter().find(|d| d.sizes.face == Face::Marked) {
        symbols::give_way(subject, &main.frame, &mut white, marks);
    }
    for view in drawn {
        match view.sizes.face {
            Face::Marked => symbols::words(subject, &view.frame, &mut white, marks),
            Face::Back => symbols::marks_behind(subject, &view.frame, &mut white, marks),
            Face::Edge | Face::FarEdge | Face::NearEnd | Face::FarEnd => {}
        }
    }
    near
}

/// Lines wider than this are broken between phrases, in text heights.
const LINE: f64 = 14.0;

/// A note in sheet coordinates, its phrases set in lines.
pub(super) fn callout(note: &PartNote, frame: &Frame, manner: &Manner) -> Callout {
    use crate::paper::Run;
    let width = |line: &[Run]| Text::new(Point::ZERO, line.to_vec(), manner.text).width();
    let mut lines: Vec<Vec<Run>> = Vec::new();
    for (i, phrase) in note.phrases.iter().enumerate() {
        let mut phrase = phrase.clone();
        if i + 1 < note.phrases.len() {
            phrase.push(Run::Plain(",".into()));
        }
        match lines.last_mut() {
            Some(line) if width(line) + width(&phrase) < LINE * manner.text => {
                line.push(Run::Plain(" ".into()));
                line.extend(phrase);
            }
            _ => lines.push(phrase),
        }
    }
    Callout {
        at: note.at.iter().map(|p| frame.point(*p)).collect(),
        lines,
        value: note.value,
        fixes: note.fixes.clone(),
        spare: false,
    }
}
