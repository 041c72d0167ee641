//! Labels for the parts, a sheet of them for a printer: what is stuck on a part
//! at the saw so that it is known at the bench.
//!
//! Comes in: a job, its worked parts and cutting list, a [`Look`] and the grid
//! of the label paper. Goes out: sheets of ink that are not part of the drawing
//! set: no frame, no title block.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::grid::LabelGrid;
use crate::cutting::{CutRow, CuttingList};
use crate::drawing::kit::project::{OnSheet, ViewPens, put};
use crate::drawing::kit::words::{elide, length_text, runs_width, stacked, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::sheets::parts::symbols::face_and_edge;
use crate::drawing::sheets::template::label::arrow;
use crate::geometry::tolerance::MOSTLY;
use crate::geometry::{DVec2, DVec3, Placement};
use crate::joinery::{WorkedJob, WorkedPart, lies_as_drawn};
use crate::model::{Grain, Job, Side, StockKind};
use crate::paper::{Pen, Role, Run, Sheet, Weight, dash, join_lines, merge_close};
use crate::solid::{Camera, HiddenLines, LineKind, Viewed, view};

/// White inside the edge of a label, mm: printers and label paper are seldom
/// nearer than this.
const PAD: f64 = 3.0;
/// White at the edge of the paper, where many printers put no ink, mm: five and what
/// accents rise above capitals.
const PAPER_EDGE: f64 = 5.6;
/// Heights of the part number, of the name and of all else, mm.
const NUMBER: f64 = 6.0;
const NAME: f64 = 3.0;
const TEXT: f64 = 2.5;
/// Most of the label's width and height that the picture takes.
const PICTURE: (f64, f64) = (0.42, 0.5);

/// Least width of the number, and from it to the name, mm: the names of a sheet of
/// labels then begin in one line.
const LEAST_NUMBER: f64 = 9.0;
const BESIDE_NUMBER: f64 = 2.5;
/// From the name to the line under it, in heights of that line.
const UNDER_NAME: f64 = 1.5;
/// Base line to base line in cap heights, and where a stacked fraction stands in the
/// lower line.
const PITCH: f64 = 1.6;
const PITCH_FRACTION: f64 = 2.0;
/// White above the size and above the picture, mm.
const OVER_SIZE: f64 = 1.0;
const OVER_PICTURE: f64 = 1.5;
/// White between words and picture, mm.
const BESIDE_PICTURE: f64 = 2.0;
/// Room above the picture for the V on its face edge, mm.
const OVER_EDGE: f64 = 2.0;
/// A smaller picture tells nothing, mm each way.
const LEAST_PICTURE: f64 = 4.0;
/// The marks are of full size beside a picture of this height, mm, and between these
/// sizes.
const FULL_MARKS: f64 = 10.0;
const MARKS: (f64, f64) = (0.35, 0.7);
/// Width of a lipped edge in narrow lines.
const LIPPED: f64 = 4.0;
/// Ink of the face mark at the left of its point, at its right, and down, mm at full
/// size; it begins a little below the edge.
const MARK_INK: (f64, f64, f64) = (1.5, 4.0, 8.0);
const MARK_FROM: f64 = 0.5;
/// Shares of the face edge at which the marks are tried, the middle first.
const SHARES: &[f64] = &[0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82];

/// White that the grain arrow keeps from the sides of the picture, mm, its greatest half
/// length, and how far above the foot of the picture it lies.
const ARROW: (f64, f64, f64) = (2.0, 6.0, 2.2);
/// A picture lower than this has its arrow left out, mm.
const ARROW_ROOM: f64 = 5.0;

/// One label.
struct Label<'a> {
    row: &'a CutRow,
    index: usize,
    part: &'a WorkedPart,
    /// How it is turned to lie as its number is drawn, as signs of its axes.
    turned: DVec3,
    /// Which of the pieces made it is for, and of how many.
    copy: (usize, usize),
}

/// What all labels are drawn from.
struct Set<'a> {
    job: &'a Job,
    worked: &'a WorkedJob,
    look: &'a Look,
    /// Where on the paper ink may be.
    printed: Rect,
}

/// The label sheets: a label for each part in the order of the cutting list, as
/// many times as it is made. Lippings, which are glued on at once, have one where the
/// grid asks for it.
pub fn labels(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    look: &Look,
    grid: &LabelGrid,
) -> Vec<Sheet> {
    let mut all: Vec<Label<'_>> = Vec::new();
    let drawn = |part: &WorkedPart| worked.parts.get(worked.drawn(part)?);
    let lippings = list.lippings.iter().filter(|_| grid.lippings);
    for row in list.parts.iter().chain(lippings) {
        let each = row.quantity / row.which.len().max(1);
        for &index in &row.which {
            let Some(part) = worked.parts.get(index) else { continue };
            let turned = drawn(part).and_then(|drawn| lies_as_drawn(drawn, part)).unwrap_or(DVec3::ONE);
            all.extend((1..=each).map(|copy| Label { row, index, part, turned, copy: (copy, each) }));
        }
    }
    let (wide, high) = grid.paper();
    let printed = Rect::new(0.0, 0.0, wide, high).inflate(-PAPER_EDGE, -PAPER_EDGE);
    let set = Set { job, worked, look, printed };
    let sheets = all.chunks(grid.count());
    let of = sheets.len();
    let sheet = |(n, on): (usize, &[Label<'_>])| {
        let mut plate = Plate::new(look);
        for (label, at) in on.iter().zip(grid.places()) {
            draw(&mut plate, &set, label, at);
        }
        let mut marks = plate.marks;
        merge_close(&mut marks);
        join_lines(&mut marks);
        let (width, height) = grid.paper();
        Sheet {
            number: format!("{} / {of}", n + 1),
            title: format!("{}: labels", job.head.title),
            bookmarks: Vec::new(),
            width,
            height,
            space: Rect::new(0.0, 0.0, width, height),
            paper: grid.paper_name(),
            marks,
            full_size: false,
        }
    };
    sheets.enumerate().map(sheet).collect()
}

/// Draws one label into `at`.
fn draw(plate: &mut Plate, set: &Set<'_>, label: &Label<'_>, at: Rect) {
    let Set { job, look, .. } = *set;
    let inner = at.inflate(-PAD, -PAD).intersect(set.printed);
    let number = Lettering::title(NUMBER);
    let foot = Point::new(inner.x0, inner.y0 + NUMBER);
    let mark = stacked(&label.row.mark);
    let beside = inner.x0 + runs_width(&mark, NUMBER, Weight::SemiBold).max(LEAST_NUMBER) + BESIDE_NUMBER;
    plate.runs(foot, mark, number);
    // Name and piece stand beside the number.
    let width = inner.x1 - beside;
    let name = elide(&label.part.name, NAME, Weight::SemiBold, width);
    plate.text((beside, inner.y0 + NAME), name, Lettering::title(NAME));
    let piece = elide(&belongs_to(job, label), TEXT, Weight::Regular, width);
    plate.text((beside, inner.y0 + NAME + UNDER_NAME * TEXT), piece, Lettering::note(TEXT));
    // The sizes stand above the words, as wide as the label: what it is cut to first, then
    // what it is finished to.
    let mut y = inner.y0 + NUMBER + OVER_SIZE;
    let (rough, finished) = sizes(label.row, look);
    if let Some(rough) = rough {
        let runs = stacked(&rough);
        y += TEXT * pitch(&runs);
        plate.runs((inner.x0, y), runs, Lettering::note(TEXT));
    }
    let runs = stacked(&finished);
    y += NAME * pitch(&runs);
    plate.runs((inner.x0, y), runs, Lettering::title(NAME));
    let room = Rect::new(inner.x1 - inner.width() * PICTURE.0, y + OVER_PICTURE, inner.x1, inner.y1);
    picture(plate, set, label, room);
    let beside = Rect { y0: y, x1: room.x0 - BESIDE_PICTURE, ..inner };
    below_size(plate, &words(label, look), beside);
}

/// Words under the size as far down as there is room.
fn below_size(plate: &mut Plate, words: &[String], room: Rect) {
    let mut y = room.y0;
    for line in words.iter().flat_map(|message| wrap(message, TEXT, Weight::Regular, room.x1 - room.x0)) {
        let runs = stacked(&line);
        y += TEXT * pitch(&runs);
        if y > room.y1 {
            break;
        }
        plate.runs((room.x0, y), runs, Lettering::note(TEXT));
    }
}

/// From the base line above to that of a line, in its own cap heights: what rises is the
/// lower line, however small the letters of the one above are.
fn pitch(lower: &[Run]) -> f64 {
    let fraction = lower.iter().any(|run| matches!(run, Run::Fraction { .. }));
    if fraction { PITCH_FRACTION } else { PITCH }
}

/// `Stool 2 of 4, SRR-16 Reader's stool`: the piece and the job it is for.
fn belongs_to(job: &Job, label: &Label<'_>) -> String {
    let piece = job.pieces.get(label.part.piece.0).map_or("", |piece| piece.name.as_str());
    let (copy, of) = label.copy;
    let which = if of > 1 { format!(" {copy} of {of}") } else { String::new() };
    let number = job.head.number.as_ref().map(|number| format!("{number} ")).unwrap_or_default();
    format!("{piece}{which}, {number}{}", job.head.title)
}

/// `rough 920 × 302 × 18`, where that is another, and `900 × 282 × 18`: what it is cut to
/// first and what it is finished to.
fn sizes(row: &CutRow, look: &Look) -> (Option<String>, String) {
    let show = |mm: f64| length_text(look, mm);
    let finished = [row.length, row.width, row.thickness].map(show).join(" × ");
    let rough = row.rough.map(|size| {
        let mut shown = size.map(show);
        // Boards are asked for by quarters of an inch where they are sawn so.
        if let Some((axis, quarters)) =
            row.sawn.and_then(|at| Some((at, look.words().quarters(*size.get(at)?)?)))
            && let Some(sawn) = shown.get_mut(axis)
        {
            *sawn = quarters;
        }
        shown.join(" × ")
    });
    let rough = rough.filter(|rough| *rough != finished);
    (rough.map(|rough| format!("rough {rough}")), finished)
}

/// What else is said: what it is glued to, edges to lip, cuts that wait, the stock.
fn words(label: &Label<'_>, look: &Look) -> Vec<String> {
    let mut message: Vec<String> = Vec::new();
    message.extend(label.row.of.iter().map(|part| format!("lipping of {part}")));
    for lip in &label.row.lipped {
        message.push(format!("lip {} {}: {}", lip.side.name(), length_text(look, lip.thick), lip.mark));
    }
    for cut in &label.row.after_glue_up {
        message.push(look.words().later(*cut));
    }
    message.push(label.row.stock.clone());
    message
}

/// The face of the part with its marks; lipped edges are drawn thick.
fn picture(plate: &mut Plate, set: &Set<'_>, label: &Label<'_>, room: Rect) {
    let (worked, grained) = (set.worked, grained(set.job, label.part));
    let part = label.part;
    let lies = lies(label);
    let (a, b) = part.solid.bounds().unwrap_or((DVec3::ZERO, part.size));
    let (a, b) = (lies.point(a), lies.point(b));
    let (low, high) = (a.min(b), a.max(b));
    let flat = high - low;
    // The face edge, which carries the V, is uppermost: room for its point.
    let room = Rect { y0: room.y0 + OVER_EDGE, ..room };
    let most = Vec2::new(room.width(), room.height().min(room.width() * PICTURE.1 / PICTURE.0));
    if !(flat.x > 0.0 && flat.y > 0.0 && most.x > LEAST_PICTURE && most.y > LEAST_PICTURE) {
        return;
    }
    let factor = (most.x / flat.x).min(most.y / flat.y);
    let drawn = Vec2::new(flat.x, flat.y) * factor;
    let k = (drawn.y / FULL_MARKS).clamp(MARKS.0, MARKS.1);
    // The face mark hangs below the picture of a slender part.
    let corner = Point::new(room.x1 - drawn.x, room.y1 - drawn.y.max(MARK_INK.2 * k));
    let camera = Camera { right: DVec3::X, up: DVec3::NEG_Y, zoom: 1.0 };
    let on = OnSheet::at_corner(DVec2::new(low.x, -high.y), DVec2::new(high.x, -low.y), corner, factor);
    let seen = [Viewed { solid: &part.solid, at: lies, tag: label.index }];
    let lines: Vec<_> = view(&seen, camera, HiddenLines::Drop)
        .into_iter()
        .filter(|line| line.kind == LineKind::Visible || line.kind == LineKind::VisibleSilhouette)
        .collect();
    let pens = ViewPens { visible: plate.narrow, hidden: plate.narrow, role: Role::Outline, view: 0 };
    put(plate, &lines, worked, on, pens, |_| None);
    let rect = Rect::from_origin_size(corner, (drawn.x, drawn.y));
    lipped_edges(plate, label, rect);
    let ink: Vec<Rect> =
        lines.iter().map(|line| Rect::from_points(on.point(line.a), on.point(line.b))).collect();
    let at = mark_place(rect, k, &ink);
    plate.marks.extend(face_and_edge((at, k), plate.narrow));
    if grained && rect.height() > ARROW_ROOM {
        let (clear, most, foot) = ARROW;
        let middle = Point::new(rect.center().x, rect.y1 - foot);
        // Under the loop of the face mark there must be room for it.
        if at.y + MARK_INK.2 * k < middle.y - 1.0 {
            let half = (rect.width() / 2.0 - clear).clamp(1.0, most);
            plate.marks.push(arrow(middle, half, false, plate.narrow));
        }
    }
}

/// The part turned about the middle of its blank as its number is drawn.
fn lies(label: &Label<'_>) -> Placement {
    let (middle, turn) = (0.5 * label.part.size, label.turned);
    Placement {
        origin: middle - middle * turn,
        x: DVec3::X * turn.x,
        y: DVec3::Y * turn.y,
        z: DVec3::Z * turn.z,
    }
}

/// Whether the stock of a part has a grain to mind.
fn grained(job: &Job, part: &WorkedPart) -> bool {
    match job.stock.get(part.stock.0).map(|s| &s.kind) {
        Some(StockKind::Sheet { grain, .. }) => *grain != Grain::None,
        Some(StockKind::Board { .. } | StockKind::Blank { .. }) => true,
        Some(StockKind::Glass { .. } | StockKind::Bought) | None => false,
    }
}

/// Lipped edges of a picture, drawn thick.
fn lipped_edges(plate: &mut Plate, label: &Label<'_>, rect: Rect) {
    for lip in &label.row.lipped {
        if let Some([from, to]) = edge(label, lip.side, rect) {
            let mut path = BezPath::new();
            path.move_to(from);
            path.line_to(to);
            plate.stroke(path, Pen { width: LIPPED * plate.narrow, dash: dash::SOLID }, Role::Symbol);
        }
    }
}

/// Where along the face edge the marks stand clear of lines: near its middle.
fn mark_place(rect: Rect, k: f64, ink: &[Rect]) -> Point {
    let at = |share: f64| Point::new(rect.x0 + rect.width() * share, rect.y0);
    let free = |p: &Point| {
        let (left, right, down) = MARK_INK;
        let taken = Rect::new(p.x - left * k, p.y + MARK_FROM, p.x + right * k, p.y + down * k);
        ink.iter()
            .all(|line| line.x1 < taken.x0 || line.x0 > taken.x1 || line.y1 < taken.y0 || line.y0 > taken.y1)
    };
    SHARES.iter().copied().map(at).find(free).unwrap_or_else(|| at(0.5))
}

/// The edge of the picture that looks to `side` of the piece; none where the
/// face itself does.
fn edge(label: &Label<'_>, side: Side, rect: Rect) -> Option<[Point; 2]> {
    let (part, turn, out) = (label.part, label.turned, side.normal());
    let (along, across) = (turn.x * part.at.x.dot(out), turn.y * part.at.y.dot(out));
    let corners = |a: (f64, f64), b: (f64, f64)| Some([Point::from(a), Point::from(b)]);
    match (along, across) {
        (x, _) if x > MOSTLY => corners((rect.x1, rect.y0), (rect.x1, rect.y1)),
        (x, _) if x < -MOSTLY => corners((rect.x0, rect.y0), (rect.x0, rect.y1)),
        (_, y) if y > MOSTLY => corners((rect.x0, rect.y1), (rect.x1, rect.y1)),
        (_, y) if y < -MOSTLY => corners((rect.x0, rect.y0), (rect.x1, rect.y0)),
        _ => None,
    }
}
