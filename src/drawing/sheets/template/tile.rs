//! Tiles: a drawing larger than the paper cut into windows that overlap.
//!
//! The drawing is covered by a grid of equal cells. Each tile shows its cell and
//! half the overlap round it, so that the corners of the cells, where the
//! crosses stand, are seen on all tiles that meet there.

use crate::geometry::tolerance::HAIR;
use crate::geometry::tolerance::NOTHING;
use kurbo::{BezPath, ParamCurve, PathEl, PathSeg, Point, Rect, Size, Vec2};

/// Pieces of a path that begin where another ends differ by less, mm.
const SAME: f64 = 1e-7;

/// How far neighbouring tiles overlap, mm.
const OVERLAP: f64 = 15.0;
/// White kept between the drawing and the outermost cells' borders, mm.
const CLEAR: f64 = 4.0;

/// A grid of tiles over a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::drawing) struct Grid {
    /// Tiles along and down.
    pub(in crate::drawing) columns: usize,
    /// Tiles down.
    pub(in crate::drawing) rows: usize,
    /// Upper left corner of the first cell, drawing mm.
    pub(in crate::drawing) origin: Point,
    /// Width and height of a cell, mm.
    pub(in crate::drawing) cell: Size,
}

impl Grid {
    /// The fewest windows of `window` mm that cover `content`, which lies in
    /// their middle.
    pub(in crate::drawing) fn over(content: Rect, window: Size) -> Self {
        let cell = Size::new((window.width - OVERLAP).max(1.0), (window.height - OVERLAP).max(1.0));
        let columns = count(content.width() + 2.0 * CLEAR, cell.width);
        let rows = count(content.height() + 2.0 * CLEAR, cell.height);
        let whole = Vec2::new(cell.width * columns as f64, cell.height * rows as f64);
        Self { columns, rows, origin: content.center() - whole / 2.0, cell }
    }

    /// How many tiles.
    pub(in crate::drawing) fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// The cell of tile `i`, counted along the rows, drawing mm.
    pub(in crate::drawing) fn cell(&self, i: usize) -> Rect {
        let (column, row) = (i % self.columns, i / self.columns);
        let corner = self.origin + Vec2::new(self.cell.width * column as f64, self.cell.height * row as f64);
        Rect::from_origin_size(corner, self.cell)
    }

    /// What tile `i` shows, drawing mm.
    pub(in crate::drawing) fn window(&self, i: usize) -> Rect {
        self.cell(i).inflate(OVERLAP / 2.0, OVERLAP / 2.0)
    }
}

/// How many cells of `cell` mm cover `length`.
fn count(length: f64, cell: f64) -> usize {
    // Nothing is a kilometre long; the bound keeps a broken size from running on.
    (1..10_000).find(|n| *n as f64 * cell >= length - HAIR).unwrap_or(10_000)
}

/// Stretches a curve is looked at in for where it crosses a border.
const STRETCHES: u32 = 24;

/// The parts of a path inside `window`.
pub(in crate::drawing) fn clip(path: &BezPath, window: Rect) -> BezPath {
    let mut kept = BezPath::new();
    let mut at: Option<Point> = None;
    for segment in path.segments() {
        for (from, to) in inside(&segment, window) {
            let piece = segment.subsegment(from..to);
            let start = piece.eval(0.0);
            if at.is_none_or(|p| p.distance(start) > SAME) {
                kept.move_to(start);
            }
            kept.push(element(&piece));
            at = Some(piece.eval(1.0));
        }
    }
    kept
}

/// The stretches of a segment inside `window`, as rising parameters.
fn inside(segment: &PathSeg, window: Rect) -> Vec<(f64, f64)> {
    // Positive inside.
    let depth = |t: f64| {
        let p = segment.eval(t);
        (p.x - window.x0).min(window.x1 - p.x).min(p.y - window.y0).min(window.y1 - p.y)
    };
    let mut cuts = vec![0.0];
    let stretches = if matches!(segment, PathSeg::Line(_)) { 1 } else { STRETCHES };
    for i in 0..stretches {
        let (from, to) = (f64::from(i) / f64::from(stretches), f64::from(i + 1) / f64::from(stretches));
        if matches!(segment, PathSeg::Line(_)) {
            cuts.extend(line_cuts(segment, window));
        } else if (depth(from) > 0.0) != (depth(to) > 0.0) {
            cuts.push(border(&depth, from, to));
        }
    }
    cuts.push(1.0);
    cuts.sort_by(f64::total_cmp);
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        if to - from < NOTHING || depth(f64::midpoint(from, to)) < 0.0 {
            continue;
        }
        match kept.last_mut() {
            Some(last) if last.1 >= from => last.1 = to,
            _ => kept.push((from, to)),
        }
    }
    kept
}

/// Where a straight segment crosses the four borders.
fn line_cuts(segment: &PathSeg, window: Rect) -> Vec<f64> {
    let (a, b) = (segment.eval(0.0), segment.eval(1.0));
    let d = b - a;
    let across = |start: f64, step: f64, border: f64| (step.abs() > NOTHING).then(|| (border - start) / step);
    [
        across(a.x, d.x, window.x0),
        across(a.x, d.x, window.x1),
        across(a.y, d.y, window.y0),
        across(a.y, d.y, window.y1),
    ]
    .into_iter()
    .flatten()
    .filter(|t| *t > 0.0 && *t < 1.0)
    .collect()
}

/// The parameter between `from` and `to` at which `depth` changes its sign, by
/// halving.
fn border(depth: &impl Fn(f64) -> f64, mut from: f64, mut to: f64) -> f64 {
    let begins_inside = depth(from) > 0.0;
    for _ in 0..48 {
        let middle = f64::midpoint(from, to);
        if (depth(middle) > 0.0) == begins_inside { from = middle } else { to = middle }
    }
    f64::midpoint(from, to)
}

/// A segment as the next element of a path.
fn element(segment: &PathSeg) -> PathEl {
    match segment {
        PathSeg::Line(line) => PathEl::LineTo(line.p1),
        PathSeg::Quad(quad) => PathEl::QuadTo(quad.p1, quad.p2),
        PathSeg::Cubic(cubic) => PathEl::CurveTo(cubic.p1, cubic.p2, cubic.p3),
    }
}

#[cfg(test)]
mod tests {
    use kurbo::{Circle, ParamCurveArclen, Shape};

    use super::*;

    fn length(path: &BezPath) -> f64 {
        path.segments().map(|s| s.arclen(1e-6)).sum()
    }

    #[test]
    fn tiles_cover_the_drawing_and_share_their_crosses() {
        let content = Rect::new(10.0, 20.0, 910.0, 320.0);
        let grid = Grid::over(content, Size::new(370.0, 200.0));
        assert_eq!((grid.columns, grid.rows), (3, 2));
        // The right crosses of one tile are the left ones of the next.
        assert!((grid.cell(0).x1 - grid.cell(1).x0).abs() < 1e-9);
        assert!((grid.cell(0).y1 - grid.cell(3).y0).abs() < 1e-9);
        assert!((grid.window(0).x1 - grid.window(1).x0 - OVERLAP).abs() < 1e-9);
        let all = (0..grid.count()).map(|i| grid.cell(i)).reduce(|a, b| a.union(b)).unwrap();
        assert!(all.union(content) == all);
        assert_eq!(Grid::over(Rect::new(0.0, 0.0, 60.0, 40.0), Size::new(370.0, 200.0)).count(), 1);
    }

    /// The circumference of a circle, cut into cells, is still 2 pi r.
    #[test]
    fn cells_of_a_circle_make_the_circle() {
        let circle = Circle::new((0.0, 0.0), 300.0).to_path(1e-4);
        let grid = Grid::over(circle.bounding_box(), Size::new(370.0, 215.0));
        let sum: f64 = (0..grid.count()).map(|i| length(&clip(&circle, grid.cell(i)))).sum();
        assert!((sum - std::f64::consts::TAU * 300.0).abs() < 1e-3, "{sum}");
    }

    #[test]
    fn a_line_through_a_window_is_cut_at_its_borders() {
        let mut path = BezPath::new();
        path.move_to((-50.0, 10.0));
        path.line_to((250.0, 10.0));
        path.line_to((250.0, 40.0));
        let kept = clip(&path, Rect::new(0.0, 0.0, 100.0, 100.0));
        assert_eq!(kept.bounding_box(), Rect::new(0.0, 10.0, 100.0, 10.0));
        assert!(clip(&path, Rect::new(0.0, 50.0, 100.0, 100.0)).elements().is_empty());
    }
}
