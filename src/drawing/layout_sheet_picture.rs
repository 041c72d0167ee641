//! The picture of one sheet layout: pieces, labels, grain and run arrows.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::plate::{Lettering, Plate, ring};
use super::words::{length_text, runs_width, stacked};
use super::{Look, Scale};
use crate::cutting::sheets::{Axis, Piece, RunPlace, SheetLayout, What};
use crate::cutting::{CutRow, CuttingList, SheetCutting};
use crate::paper::{Anchor, Ink, LEAST_GAP, Mark, Pen, Role, Run, Shows, Text, Weight, dash};

/// Height of labels, mm.
const LABEL: f64 = 2.5;
/// Height of part numbers, mm.
const NUMBER: f64 = 3.5;
/// White round a label, mm.
const AROUND: f64 = 1.0;
/// What the arrow of a run takes along the low edge of a part, mm.
const RUN_BAND: f64 = 4.0;
/// Greys of offcuts worth keeping, and of waste.
const KEPT: f32 = 0.94;
const WASTE: f32 = 0.82;

/// What is drawn.
pub(super) struct Picture<'a> {
    pub(super) list: &'a CuttingList,
    pub(super) cutting: &'a SheetCutting,
    pub(super) layout: &'a SheetLayout,
    pub(super) look: &'a Look,
    /// The bare sheet on the paper.
    pub(super) at: Rect,
    pub(super) scale: Scale,
}

/// A part that got no full label: which part of the sheet job, where its lower
/// left corner lies on the sheet, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bare {
    pub(super) part: usize,
    pub(super) at: [f64; 2],
}

/// Calls `found` for every part and offcut of a piece.
pub(super) fn each_leaf<'a>(piece: &'a Piece, found: &mut dyn FnMut(&'a Piece)) {
    match &piece.what {
        What::Divided { pieces, .. } => pieces.iter().for_each(|inner| each_leaf(inner, found)),
        What::Part { .. } | What::Offcut => found(piece),
    }
}

/// Draws the layout; gives the parts whose label did not go into their picture.
pub(super) fn picture(plate: &mut Plate, picture: &Picture<'_>) -> Vec<Bare> {
    let mut leaves: Vec<&Piece> = Vec::new();
    each_leaf(&picture.layout.usable, &mut |piece| leaves.push(piece));
    plate.fill(ring(picture.at), WASTE, Role::Hatch);
    plate.fill(ring(picture.on_paper(&picture.layout.usable, true)), WASTE, Role::Hatch);
    for leaf in &leaves {
        let grey = if matches!(leaf.what, What::Part { .. }) {
            1.0
        } else if picture.keeps(leaf) {
            KEPT
        } else {
            continue;
        };
        plate.fill(ring(picture.on_paper(leaf, true)), grey, Role::Hatch);
    }
    let mut lines = Lines::default();
    lines.rect(plate, picture.at, plate.wide);
    lines.rect(plate, picture.on_paper(&picture.layout.usable, true), plate.wide * 0.7);
    for leaf in &leaves {
        lines.rect(plate, picture.on_paper(leaf, true), plate.wide * 0.7);
    }
    let mut bare = Vec::new();
    for leaf in &leaves {
        match &leaf.what {
            What::Part { part, turned, run } => {
                if !picture.label_part(plate, leaf, *part, *turned, *run) {
                    bare.push(Bare { part: *part, at: leaf.at.map(|at| at as f64 / 10.0) });
                }
            }
            What::Offcut => picture.label_offcut(plate, leaf),
            What::Divided { .. } => {}
        }
    }
    picture.run_arrows(plate, &leaves);
    bare
}

impl Picture<'_> {
    /// A piece on the paper; `whole` with half the saw cut all round, so that
    /// neighbours share one line.
    fn on_paper(&self, piece: &Piece, whole: bool) -> Rect {
        let half = if whole { self.cutting.job.kerf as f64 / 2.0 } else { 0.0 };
        let usable = &self.layout.usable;
        let span = |axis: usize| {
            let (low, high) = (usable.at[axis] as f64, (usable.at[axis] + usable.size[axis]) as f64);
            let from = piece.at[axis] as f64 - half;
            let to = (piece.at[axis] + piece.size[axis]) as f64 + half;
            (from.max(low) / 10.0, to.min(high) / 10.0)
        };
        let ((x0, x1), (y0, y1)) = (span(0), span(1));
        let s = self.scale.factor;
        Rect::new(self.at.x0 + x0 * s, self.at.y1 - y1 * s, self.at.x0 + x1 * s, self.at.y1 - y0 * s)
    }

    /// Whether an offcut is worth keeping.
    fn keeps(&self, piece: &Piece) -> bool {
        piece.size.iter().all(|side| *side >= self.cutting.job.useful_offcut)
    }

    /// Number, name, size and grain of a part; false if they do not go in.
    fn label_part(
        &self,
        plate: &mut Plate,
        piece: &Piece,
        part: usize,
        turned: bool,
        run: Option<RunPlace>,
    ) -> bool {
        let Some(row) = self.cutting.row(part, self.list) else {
            return false;
        };
        let mut room = self.on_paper(piece, false).inset(-AROUND);
        if run.is_some_and(|run| self.run_along(run, turned) == Axis::X) {
            room.y1 -= RUN_BAND;
        } else if run.is_some() {
            room.x1 -= RUN_BAND;
        }
        let grain = self.cutting.grained.then(|| grain_on_sheet(row, piece));
        write(plate, room, &self.label(row, piece), grain, &row.mark)
    }

    /// The ways a part's label can be broken, the best first: each line with
    /// its height and role.
    fn label(&self, row: &CutRow, piece: &Piece) -> Vec<Vec<Line>> {
        let [x, y] = piece.size.map(|side| length_text(self.look, side as f64 / 10.0));
        let size = format!("{x} × {y}");
        let number = |text: String| Line { text, height: NUMBER, item: true };
        let note = |text: String| Line { text, height: LABEL, item: false };
        vec![
            vec![number(row.mark.clone()), note(row.name.clone()), note(size.clone())],
            vec![note(format!("{} {}", row.mark, row.name)), note(size.clone())],
            vec![note(format!("{} {}, {size}", row.mark, row.name))],
        ]
    }

    fn label_offcut(&self, plate: &mut Plate, piece: &Piece) {
        if !self.keeps(piece) {
            return;
        }
        let [x, y] = piece.size.map(|side| length_text(self.look, side as f64 / 10.0));
        let note = |text: String| Line { text, height: LABEL, item: false };
        let ways = [
            vec![note("offcut".into()), note(format!("{x} × {y}"))],
            vec![note(format!("offcut {x} × {y}"))],
        ];
        let room = self.on_paper(piece, false).inset(-AROUND);
        for lines in &ways {
            for upright in [false, true] {
                let (wide, high) =
                    if upright { (room.height(), room.width()) } else { (room.width(), room.height()) };
                if lines.iter().all(|line| line.width() <= wide) && tall(lines) <= high {
                    set_lines(plate, room, lines, upright, 0.0, "");
                    return;
                }
            }
        }
    }

    /// The direction a run follows as it lies.
    fn run_along(&self, place: RunPlace, turned: bool) -> Axis {
        let axis = self.cutting.job.runs.get(place.run).map_or(Axis::X, |run| run.axis);
        if turned { axis.other() } else { axis }
    }

    /// An arrow from each part of a run over the saw cut to the next.
    fn run_arrows(&self, plate: &mut Plate, leaves: &[&Piece]) {
        let place = |piece: &Piece| match piece.what {
            What::Part { run: Some(run), turned, .. } => Some((run, turned)),
            _ => None,
        };
        for from in leaves {
            let Some((run, turned)) = place(from) else { continue };
            let follows = |piece: &&&Piece| {
                place(piece).is_some_and(|(next, _)| next.run == run.run && next.member == run.member + 1)
            };
            let Some(to) = leaves.iter().find(follows) else { continue };
            let (a, b) = (self.on_paper(from, true), self.on_paper(to, true));
            let (tail, tip) = if self.run_along(run, turned) == Axis::X {
                let reach = (a.width().min(b.width()) / 2.0 - 1.0).clamp(1.0, 8.0);
                let y = a.y1.min(b.y1) - RUN_BAND / 2.0;
                (Point::new(a.x1 - reach, y), Point::new(b.x0 + reach, y))
            } else {
                let reach = (a.height().min(b.height()) / 2.0 - 1.0).clamp(1.0, 8.0);
                let x = a.x1.min(b.x1) - RUN_BAND / 2.0;
                (Point::new(x, a.y0 + reach), Point::new(x, b.y1 - reach))
            };
            run_arrow(plate, tail, tip);
        }
    }
}

/// The lines of a picture: where a new one would run beside one that is there
/// too near to be told from it, it is left out.
#[derive(Default)]
struct Lines {
    /// Level lines: y, from x, to x.
    level: Vec<[f64; 3]>,
    /// Upright lines: x, from y, to y.
    upright: Vec<[f64; 3]>,
}

impl Lines {
    /// The four sides of a rectangle.
    fn rect(&mut self, plate: &mut Plate, rect: Rect, width: f64) {
        for y in [rect.y0, rect.y1] {
            for [y, from, to] in add(&mut self.level, [y, rect.x0, rect.x1]) {
                plate.line((from, y), (to, y), width, Role::Outline);
            }
        }
        for x in [rect.x0, rect.x1] {
            for [x, from, to] in add(&mut self.upright, [x, rect.y0, rect.y1]) {
                plate.line((x, from), (x, to), width, Role::Outline);
            }
        }
    }
}

/// Adds what of a line is not yet there; gives the stretches added.
fn add(lines: &mut Vec<[f64; 3]>, [at, from, to]: [f64; 3]) -> Vec<[f64; 3]> {
    let mut open = vec![(from, to)];
    for [_, low, high] in lines.iter().filter(|line| (line[0] - at).abs() < LEAST_GAP + 0.02) {
        open = open
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(*low)), (a.max(*high), b)])
            .filter(|(a, b)| b - a > 0.3)
            .collect();
    }
    let added: Vec<[f64; 3]> = open.into_iter().map(|(a, b)| [at, a, b]).collect();
    lines.extend(&added);
    added
}

/// Which way a part's grain runs on the sheet: along x where its length
/// lies along x.
fn grain_on_sheet(row: &CutRow, piece: &Piece) -> Axis {
    let length = row.rough.map_or(row.length, |size| size[0]);
    let lies = |side: i64| (side as f64 / 10.0 - length).abs();
    if lies(piece.size[0]) <= lies(piece.size[1]) { Axis::X } else { Axis::Y }
}

/// Writes the first way of a label that goes into `room`, level or
/// upright, with a grain arrow under it where there is room; where none
/// goes in, the mark alone and false.
fn write(plate: &mut Plate, room: Rect, ways: &[Vec<Line>], grain: Option<Axis>, mark: &str) -> bool {
    for lines in ways {
        for upright in [false, true] {
            let (wide, high) =
                if upright { (room.height(), room.width()) } else { (room.width(), room.height()) };
            let need = lines.iter().map(Line::width).fold(0.0, f64::max);
            let tall = tall(lines);
            if need > wide || tall > high {
                continue;
            }
            // Along the lines it needs little height, across them its whole length.
            let across = grain.is_some_and(|axis| (axis == Axis::Y) != upright);
            let (least, lift, down) = if across { (13.0, 6.0, 0.5) } else { (6.0, 2.0, 1.5) };
            let arrow = grain.filter(|_| high - tall >= least && wide >= 16.0);
            set_lines(plate, room, lines, upright, arrow.map_or(0.0, |_| lift), mark);
            if let Some(axis) = arrow {
                let drop = Vec2::new(0.0, tall / 2.0 + down);
                let drop = if upright { Vec2::new(drop.y, 0.0) } else { drop };
                double_arrow(plate, room.center() + drop, 5.0, axis);
            }
            return true;
        }
    }
    let alone = [Line { text: mark.to_owned(), height: LABEL, item: true }];
    for upright in [false, true] {
        let (wide, high) =
            if upright { (room.height(), room.width()) } else { (room.width(), room.height()) };
        if alone[0].width() <= wide && LABEL <= high {
            set_lines(plate, room, &alone, upright, 0.0, mark);
            break;
        }
    }
    false
}

/// One line of a label.
struct Line {
    text: String,
    height: f64,
    item: bool,
}

impl Line {
    fn weight(&self) -> Weight {
        if self.item { Weight::SemiBold } else { Weight::Regular }
    }

    fn runs(&self) -> Vec<Run> {
        if self.item { vec![Run::Plain(self.text.clone())] } else { stacked(&self.text) }
    }

    fn width(&self) -> f64 {
        runs_width(&self.runs(), self.height, self.weight())
    }

    /// From base line to the base line above, mm; a stacked fraction is half
    /// as high again.
    fn pitch(&self) -> f64 {
        let fraction = self.runs().iter().any(|run| matches!(run, Run::Fraction { .. }));
        self.height * if fraction { 2.2 } else { 1.5 }
    }
}

/// Height of lines one under the other, mm.
fn tall(lines: &[Line]) -> f64 {
    lines.iter().map(Line::pitch).sum()
}

/// Sets lines in the middle of `room`, or `lift` above it where an arrow comes
/// below.
fn set_lines(plate: &mut Plate, room: Rect, lines: &[Line], upright: bool, lift: f64, part: &str) {
    let mut down = -tall(lines) / 2.0 - lift;
    for line in lines {
        down += line.pitch();
        // The base line lies a little above the foot of its line.
        let off = down - 0.25 * line.height;
        let middle = room.center();
        let (at, turn) = if upright {
            (Point::new(middle.x + off, middle.y), 90.0)
        } else {
            (Point::new(middle.x, middle.y + off), 0.0)
        };
        let text = Text {
            at,
            runs: line.runs(),
            height: line.height,
            anchor: Anchor::Middle,
            turn,
            weight: line.weight(),
        };
        let role = if line.item { Role::ItemNumber } else { Role::Note };
        let shows = Shows { part: part.to_owned(), ..Shows::default() };
        plate.marks.push(Mark { ink: Ink::Text(text), role, shows });
    }
}

/// A double arrow along the grain with open heads.
fn double_arrow(plate: &mut Plate, middle: Point, half: f64, axis: Axis) {
    let along = if axis == Axis::X { Vec2::new(1.0, 0.0) } else { Vec2::new(0.0, 1.0) };
    let aside = Vec2::new(-along.y, along.x);
    let mut path = BezPath::new();
    path.move_to(middle - along * half);
    path.line_to(middle + along * half);
    for way in [-1.0, 1.0] {
        let end = middle + along * (half * way);
        path.move_to(end - along * (2.0 * way) + aside * 0.9);
        path.line_to(end);
        path.line_to(end - along * (2.0 * way) - aside * 0.9);
    }
    plate.stroke(path, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Symbol);
}

/// The arrow of a run: a wide line with a filled head.
fn run_arrow(plate: &mut Plate, tail: Point, tip: Point) {
    let along = (tip - tail).normalize();
    let aside = Vec2::new(-along.y, along.x);
    let neck = tip - along * 2.4;
    let mut shaft = BezPath::new();
    shaft.move_to(tail);
    shaft.line_to(neck);
    plate.stroke(shaft, Pen { width: plate.wide, dash: dash::SOLID }, Role::Symbol);
    let mut head = BezPath::new();
    head.move_to(tip);
    head.line_to(neck + aside * 1.0);
    head.line_to(neck - aside * 1.0);
    head.close_path();
    plate.fill(head, 0.0, Role::Symbol);
}

/// The grain of the whole sheet, as a word and an arrow from `at` on.
pub(super) fn grain(plate: &mut Plate, grained: bool, at: Point) {
    if !grained {
        return;
    }
    plate.text(at + Vec2::new(0.0, LABEL / 2.0), "grain", Lettering::note(LABEL));
    double_arrow(plate, at + Vec2::new(19.0, 0.0), 9.0, Axis::X);
}
