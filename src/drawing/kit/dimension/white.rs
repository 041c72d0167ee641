//! Where on the paper nothing has been drawn yet.

use kurbo::{Line, ParamCurveNearest, PathEl, PathSeg, Point, Rect};

use crate::geometry::tolerance::HAIR;
use crate::paper::{Ink, Mark, Role};

/// How near the straight bits come to the curve they stand for, mm: a cell is wider.
const NEAR: f64 = 0.2;
/// No cell lies farther from the corner than this many, on any paper.
const FARTHEST: f64 = 3000.0;

/// A map of used paper, one square millimetre a cell, with sums over every
/// corner so that any rectangle is judged in one step.
#[derive(Debug)]
pub(in crate::drawing) struct White {
    /// The area mapped.
    area: Rect,
    /// Cells in a row.
    wide: usize,
    /// Rows.
    high: usize,
    /// What each cell holds, row by row.
    used: Vec<Cell>,
    /// Used cells above and to the left of each corner; one row and one column
    /// more than cells.
    sums: Vec<u32>,
    /// The first row whose sums do not hold yet.
    unsummed: usize,
    /// Lines of hatching, which leaders may not run along.
    hatching: Vec<Line>,
}

/// Shorter bits of hatching are not taken for a leader, mm.
const SPECK: f64 = 3.0;
/// A line runs along the hatching where the sine of the angle between them is less than
/// this, 4 degrees, and their ends lie nearer than this, mm.
const ALIKE: f64 = 0.07;
const BESIDE: f64 = 3.0;

/// How many lines a cell of words counts for that something runs through.
pub(super) const WORDS: usize = 400;

/// What a cell of the map holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Cell {
    /// Nothing.
    White,
    /// A line.
    Line,
    /// Solid ink or a picture, which leaders leave by the shortest way.
    Solid,
    /// Words, which no leader may pass over.
    Words,
}

/// Cells to the millimetre.
const FINE: f64 = 1.0;

impl White {
    /// A blank map of `area`.
    pub(in crate::drawing) fn new(area: Rect) -> Self {
        let wide = cells(area.width() * FINE) + 1;
        let high = cells(area.height() * FINE) + 1;
        Self {
            area,
            wide,
            high,
            used: vec![Cell::White; wide * high],
            sums: vec![0; (wide + 1) * (high + 1)],
            unsummed: high,
            hatching: Vec::new(),
        }
    }

    /// Marks what `marks` cover, and sums up.
    pub(in crate::drawing) fn ink(&mut self, marks: &[Mark]) {
        self.cover(marks);
        self.sum();
    }

    /// Marks what `marks` cover; the sums stay as they are until [`White::sum`].
    pub(in crate::drawing) fn cover(&mut self, marks: &[Mark]) {
        for mark in marks {
            match &mark.ink {
                Ink::Stroke { path, .. } => {
                    if mark.role == Role::Hatch {
                        self.hatching.extend(path.segments().filter_map(long_line));
                    }
                    self.path(path.elements());
                }
                Ink::Fill { .. } => self.fill(mark.bounds()),
                Ink::Text(_) => self.set(mark.bounds(), Cell::Words),
            }
        }
    }

    /// Marks a rectangle used; the sums stay as they are until [`White::sum`].
    pub(in crate::drawing) fn fill(&mut self, rect: Rect) {
        self.set(rect, Cell::Solid);
    }

    /// Marks a rectangle.
    fn set(&mut self, rect: Rect, with: Cell) {
        let (x0, x1, y0, y1) = self.span(rect);
        self.unsummed = self.unsummed.min(y0);
        for y in y0..y1 {
            for cell in self.used.iter_mut().skip(y * self.wide + x0).take(x1.saturating_sub(x0)) {
                *cell = with;
            }
        }
    }

    /// Whether nothing has been drawn in `rect`. Outside the map counts as
    /// used.
    pub(in crate::drawing) fn free(&self, rect: Rect) -> bool {
        // Off the map there is no paper, so that no label hangs over the frame.
        if rect.x0 < self.area.x0
            || rect.y0 < self.area.y0
            || rect.x1 > self.area.x1
            || rect.y1 > self.area.y1
        {
            return false;
        }
        let (x0, x1, y0, y1) = self.span(rect);
        let at = |x: usize, y: usize| i64::from(self.sums.get(y * (self.wide + 1) + x).copied().unwrap_or(0));
        at(x1, y1) + at(x0, y0) - at(x0, y1) - at(x1, y0) == 0
    }

    /// Used cells a straight line passes over, solid ones counted fortyfold and
    /// those of words ten times as much: nothing may run through a figure.
    pub(in crate::drawing) fn crossed(&self, from: Point, to: Point) -> usize {
        let steps = cells(from.distance(to) * 2.0 * FINE).max(1);
        // Each cell counts once, however many of the half steps fall into it.
        let mut last = None;
        let mut count = 0;
        for i in 0..=steps {
            let cell = self.cell(from.lerp(to, i as f64 / steps as f64));
            if cell != last {
                count += match cell.and_then(|c| self.used.get(c)) {
                    Some(Cell::Words) => WORDS,
                    Some(Cell::Solid) => 40,
                    Some(Cell::Line) => 1,
                    Some(Cell::White) | None => 0,
                };
                last = cell;
            }
        }
        count
    }

    /// Whether a straight line passes over words.
    pub(super) fn meets_words(&self, from: Point, to: Point) -> bool {
        let steps = cells(from.distance(to) * 2.0 * FINE).max(1);
        let words = |i: usize| {
            let cell = self.cell(from.lerp(to, i as f64 / steps as f64));
            cell.and_then(|c| self.used.get(c)) == Some(&Cell::Words)
        };
        (0..=steps).any(words)
    }

    /// Whether a leader would run along a line of hatching, beside it or in line with it.
    pub(super) fn along_hatching(&self, from: Point, to: Point) -> bool {
        let leader = Line::new(from, to);
        let run = to - from;
        let near = |line: &Line, p: Point| line.nearest(p, HAIR).distance_sq < BESIDE * BESIDE;
        self.hatching.iter().any(|line| {
            let way = line.p1 - line.p0;
            run.cross(way).abs() < ALIKE * run.hypot() * way.hypot()
                && (near(line, from) || near(line, to) || near(&leader, line.p0) || near(&leader, line.p1))
        })
    }

    /// Whether a point lies in what is filled.
    pub(super) fn solid(&self, p: Point) -> bool {
        self.cell(p).and_then(|c| self.used.get(c)) == Some(&Cell::Solid)
    }

    /// Works out the sums again, from the first row in which something was drawn.
    pub(in crate::drawing) fn sum(&mut self) {
        let row = self.wide + 1;
        // Rows above the first new mark keep their sums: labels are set one by one, each
        // with ink in few rows, and every one asks for white before it is set.
        let rows = self.used.chunks_exact(self.wide).enumerate();
        for (y, cells) in rows.skip(self.unsummed) {
            let Some((above, here)) = self.sums.split_at_mut_checked((y + 1) * row) else { break };
            let above = above.iter().skip(y * row + 1);
            let mut run = 0;
            for ((cell, above), sum) in cells.iter().zip(above).zip(here.iter_mut().skip(1)) {
                run += u32::from(*cell != Cell::White);
                *sum = above + run;
            }
        }
        self.unsummed = self.high;
    }

    /// Marks the cells along a path, curves by their chords.
    fn path(&mut self, elements: &[PathEl]) {
        let (mut start, mut at) = (Point::ZERO, Point::ZERO);
        kurbo::flatten(elements.iter().copied(), NEAR, |element| match element {
            PathEl::MoveTo(p) => (start, at) = (p, p),
            PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => {
                self.line(at, p);
                at = p;
            }
            PathEl::ClosePath => {
                self.line(at, start);
                at = start;
            }
        });
    }

    /// Marks the cells along a straight line.
    fn line(&mut self, from: Point, to: Point) {
        let steps = cells(from.distance(to) * 2.0 * FINE).max(1);
        let top = from.y.min(to.y) - self.area.y0;
        self.unsummed = self.unsummed.min(cells(top * FINE));
        for i in 0..=steps {
            // A line over words or a fill leaves them what they are, since they count for
            // more.
            if let Some(used) =
                self.cell(from.lerp(to, i as f64 / steps as f64)).and_then(|c| self.used.get_mut(c))
                && *used == Cell::White
            {
                *used = Cell::Line;
            }
        }
    }

    /// The cell a point lies in.
    fn cell(&self, p: Point) -> Option<usize> {
        let (x, y) = ((p.x - self.area.x0) * FINE, (p.y - self.area.y0) * FINE);
        (x >= 0.0 && y >= 0.0 && cells(x) < self.wide && cells(y) < self.high)
            .then(|| cells(y) * self.wide + cells(x))
    }

    /// First and past-last columns and rows a rectangle touches.
    fn span(&self, rect: Rect) -> (usize, usize, usize, usize) {
        // A cell that is only touched is covered: better a little white lost than ink on
        // ink.
        let x0 = cells((rect.x0 - self.area.x0) * FINE).min(self.wide);
        let y0 = cells((rect.y0 - self.area.y0) * FINE).min(self.high);
        let x1 = cells(((rect.x1 - self.area.x0) * FINE).ceil()).min(self.wide);
        let y1 = cells(((rect.y1 - self.area.y0) * FINE).ceil()).min(self.high);
        (x0, x1.max(x0), y0, y1.max(y0))
    }
}

/// A straight line that may be taken for a leader.
fn long_line(segment: PathSeg) -> Option<Line> {
    match segment {
        PathSeg::Line(line) => (line.p0.distance(line.p1) > SPECK).then_some(line),
        PathSeg::Quad(_) | PathSeg::Cubic(_) => None,
    }
}

/// Whole cells in a distance; none where it is negative, and never more than a
/// sheet of three metres has, so that a wild number cannot ask for memory.
fn cells(distance: f64) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to 0..=3000 on the line itself"
    )]
    let whole = distance.clamp(0.0, FARTHEST) as usize;
    whole
}
