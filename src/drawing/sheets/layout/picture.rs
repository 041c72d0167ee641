//! The picture of one sheet layout: pieces, labels, grain and run arrows.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::arrow::double_arrow;
use super::label::{part_ways, write, write_offcut};
use crate::cutting::sheets::{Axis, Piece, RunPlace, SheetLayout, What};
use crate::cutting::{CutRow, CuttingList, FoldLine, Grid, SheetCutting, SheetRow};
use crate::drawing::kit::words::length_text;
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate, ring};
use crate::drawing::page::scale::Scale;
use crate::geometry::tolerance::NOISE;
use crate::paper::{LEAST_GAP, Pen, Role, dash};

/// Height of labels, mm.
const LABEL: f64 = Lettering::SMALL;
/// White round a label, mm.
const AROUND: f64 = 1.0;
/// What the arrow of a run takes along the low edge of a part, mm.
const RUN_BAND: f64 = 4.0;
/// How far the arrow of a run reaches into either part, mm: it stays this clear of the
/// middle of the narrower.
const RUN_REACH: (f64, f64) = (1.0, 8.0);
const RUN_CLEAR: f64 = 1.0;
/// Length of its head, mm.
const RUN_HEAD: f64 = 2.4;
/// The middle of the arrow of the grain from its word, and half its length, mm.
const GRAIN_AT: f64 = 19.0;
const GRAIN_HALF: f64 = 9.0;
/// Lines at the least gap are told apart; rounding may part them this much, mm.
const ROUNDING: f64 = 0.02;
/// Shorter bits of a line are not drawn, mm.
const BIT: f64 = 0.3;
/// Line to line of the hatching of edges that are left away, mm.
const EDGE_HATCH: f64 = 2.4;
/// Greys of offcuts worth keeping, and of waste.
const KEPT: f32 = 0.94;
const WASTE: f32 = 0.82;

/// What is drawn.
pub(in crate::drawing) struct Picture<'a> {
    pub(in crate::drawing) list: &'a CuttingList,
    pub(in crate::drawing) cutting: &'a SheetCutting,
    pub(in crate::drawing) layout: &'a SheetLayout,
    pub(in crate::drawing) look: &'a Look,
    /// The bare sheet on the paper.
    pub(in crate::drawing) at: Rect,
    pub(in crate::drawing) scale: Scale,
}

/// A part that got no full label: which part of the sheet job, where its lower
/// left corner lies on the sheet, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::drawing) struct Bare {
    pub(in crate::drawing) part: usize,
    pub(in crate::drawing) at: [f64; 2],
}

/// Calls `found` for every part and offcut of a piece.
pub(in crate::drawing) fn each_leaf<'a>(piece: &'a Piece, found: &mut dyn FnMut(&'a Piece)) {
    match &piece.what {
        What::Divided { pieces, .. } => pieces.iter().for_each(|inner| each_leaf(inner, found)),
        What::Part { .. } | What::Offcut => found(piece),
    }
}

/// Draws the layout; gives the parts whose label did not go into their picture.
pub(in crate::drawing) fn picture(plate: &mut Plate, picture: &Picture<'_>) -> Vec<Bare> {
    let mut leaves: Vec<&Piece> = Vec::new();
    each_leaf(&picture.layout.usable, &mut |piece| leaves.push(piece));
    // Waste all over first and what is kept white on top: saw cuts then need no shapes of
    // their own.
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
    picture.hatch_edges(plate);
    let mut lines = Lines::default();
    // The border of the sheet first: of two lines too near to be told apart the later is
    // left out, and that must not be the border.
    lines.rect(plate, picture.at, plate.wide);
    lines.rect(plate, picture.on_paper(&picture.layout.usable, true), plate.wide * Plate::LIGHT);
    for leaf in &leaves {
        lines.rect(plate, picture.on_paper(leaf, true), plate.wide * Plate::LIGHT);
    }
    let mut bare = Vec::new();
    for leaf in &leaves {
        match &leaf.what {
            What::Part { part, turned, run } => {
                if !picture.label_part(plate, leaf, *part, *turned, *run) {
                    bare.push(Bare { part: *part, at: leaf.at.map(|at| picture.cutting.grid.mm(at)) });
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
        let grid = self.cutting.grid;
        let half = if whole { grid.mm(self.cutting.job.kerf) / 2.0 } else { 0.0 };
        let usable = &self.layout.usable;
        let span = |axis: usize| {
            let (low, high) = (grid.mm(usable.at[axis]), grid.mm(usable.at[axis] + usable.size[axis]));
            let from = grid.mm(piece.at[axis]) - half;
            let to = grid.mm(piece.at[axis] + piece.size[axis]) + half;
            (from.max(low), to.min(high))
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
        let folds = self.folds(piece, part);
        for &(from, to) in &folds {
            plate.stroke(straight(from, to), Pen { width: plate.narrow, dash: dash::HIDDEN }, Role::Hidden);
        }
        // In the widest stretch between grooves, so that none runs through the words.
        let mut room = widest(self.on_paper(piece, false), &folds).inset(-AROUND);
        if run.is_some_and(|run| self.run_along(run, turned) == Axis::X) {
            room.y1 -= RUN_BAND;
        } else if run.is_some() {
            room.x1 -= RUN_BAND;
        }
        let grain = self.cutting.grained.then(|| grain_on_sheet(self.cutting.grid, row, piece));
        let ways = part_ways(&row.mark, &row.name, &self.size(piece), room);
        write(plate, room, &ways, grain, &row.mark)
    }

    /// Hatches the long edges of a board that are left away: sapwood or wane.
    fn hatch_edges(&self, plate: &mut Plate) {
        let Some(board) = self.cutting.job.sheets.get(self.layout.sheet).filter(|_| self.cutting.boards)
        else {
            return;
        };
        let [_, _, low, high] = board.trim.map(|side| self.cutting.grid.mm(side) * self.scale.factor);
        for (top, high) in [(self.at.y0, high), (self.at.y1 - low, low)] {
            if high <= 0.0 {
                continue;
            }
            let mut x = self.at.x0;
            while x + high < self.at.x1 {
                let line = straight(Point::new(x, top + high), Point::new(x + high, top));
                plate.stroke(line, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Hatch);
                x += EDGE_HATCH;
            }
        }
    }

    /// `864 × 294`.
    fn size(&self, piece: &Piece) -> String {
        let [x, y] = piece.size.map(|side| length_text(self.look, self.cutting.grid.mm(side)));
        format!("{x} × {y}")
    }

    fn label_offcut(&self, plate: &mut Plate, piece: &Piece) {
        if self.keeps(piece) {
            write_offcut(plate, self.on_paper(piece, false).inset(-AROUND), &self.size(piece));
        }
    }

    /// Where the grooves of a panel that is folded lie, on the paper: from corner
    /// to corner of each line.
    fn folds(&self, piece: &Piece, part: usize) -> Vec<(Point, Point)> {
        let Some(SheetRow::Folded(panel)) = self.cutting.rows.get(part) else { return Vec::new() };
        let Some(panel) = self.list.folded.get(*panel) else { return Vec::new() };
        let along = usize::from(!panel.along_grain);
        let row = &panel.row;
        let finished = [row.length, row.width][along];
        // The ends are trimmed alike before the grooves are cut.
        let spare = row.rough.map_or(0.0, |rough| 0.5 * (rough[along] - finished));
        let level = (grain_on_sheet(self.cutting.grid, row, piece) == Axis::X) == panel.along_grain;
        let rect = self.on_paper(piece, false);
        let s = self.scale.factor;
        let line = |fold: &FoldLine| {
            let off = (spare + fold.at) * s;
            if level {
                (Point::new(rect.x0 + off, rect.y0), Point::new(rect.x0 + off, rect.y1))
            } else {
                (Point::new(rect.x0, rect.y1 - off), Point::new(rect.x1, rect.y1 - off))
            }
        };
        panel.folds.iter().map(line).collect()
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
                let reach = (a.width().min(b.width()) / 2.0 - RUN_CLEAR).clamp(RUN_REACH.0, RUN_REACH.1);
                let y = a.y1.min(b.y1) - RUN_BAND / 2.0;
                (Point::new(a.x1 - reach, y), Point::new(b.x0 + reach, y))
            } else {
                let reach = (a.height().min(b.height()) / 2.0 - RUN_CLEAR).clamp(RUN_REACH.0, RUN_REACH.1);
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
    // A saw cut is thinner than the line at this scale: a line on either side would make
    // one blot.
    let mut open = vec![(from, to)];
    for [_, low, high] in lines.iter().filter(|line| (line[0] - at).abs() < LEAST_GAP + ROUNDING) {
        open = open
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(*low)), (a.max(*high), b)])
            .filter(|(a, b)| b - a > BIT)
            .collect();
    }
    let added: Vec<[f64; 3]> = open.into_iter().map(|(a, b)| [at, a, b]).collect();
    lines.extend(&added);
    added
}

/// A straight line.
fn straight(from: Point, to: Point) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    path
}

/// The largest stretch of a rectangle between lines right across it.
fn widest(rect: Rect, lines: &[(Point, Point)]) -> Rect {
    let Some((from, to)) = lines.first() else { return rect };
    let upright = (from.x - to.x).abs() < NOISE;
    let (low, high) = if upright { (rect.x0, rect.x1) } else { (rect.y0, rect.y1) };
    let mut stops = vec![low, high];
    stops.extend(lines.iter().map(|(from, _)| if upright { from.x } else { from.y }));
    stops.sort_by(f64::total_cmp);
    let mut best = (low, low);
    for pair in stops.windows(2) {
        if let [a, b] = *pair
            && b - a > best.1 - best.0 + NOISE
        {
            best = (a, b);
        }
    }
    if upright {
        Rect::new(best.0, rect.y0, best.1, rect.y1)
    } else {
        Rect::new(rect.x0, best.0, rect.x1, best.1)
    }
}

/// Which way a part's grain runs on the sheet: along x where its length
/// lies along x.
fn grain_on_sheet(grid: Grid, row: &CutRow, piece: &Piece) -> Axis {
    let length = row.rough.map_or(row.length, |size| size[0]);
    // By the nearer of the two: sizes on the sheet are rounded.
    let lies = |side: i64| (grid.mm(side) - length).abs();
    if lies(piece.size[0]) <= lies(piece.size[1]) { Axis::X } else { Axis::Y }
}

/// The arrow of a run: a wide line with a filled head.
fn run_arrow(plate: &mut Plate, tail: Point, tip: Point) {
    let along = (tip - tail).normalize();
    let aside = Vec2::new(-along.y, along.x);
    let neck = tip - along * RUN_HEAD;
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
pub(in crate::drawing) fn grain(plate: &mut Plate, grained: bool, at: Point) {
    if !grained {
        return;
    }
    plate.text(at + Vec2::new(0.0, LABEL / 2.0), "grain", Lettering::note(LABEL));
    double_arrow(plate, at + Vec2::new(GRAIN_AT, 0.0), GRAIN_HALF, Axis::X);
}
