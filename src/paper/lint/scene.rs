//! A sheet taken apart into straight pieces and text boxes, with a grid to
//! find neighbours by.

use kurbo::{PathEl, Point, Rect};

use crate::paper::{Ink, Mark, Role, Sheet, Text};

/// No sheet has more cells along a side.
const CELLS: f64 = 400.0;

/// How far a flattened curve may leave the true one, mm.
const FLAT: f64 = 0.05;
/// Side of a grid cell, mm.
const CELL: f64 = 12.0;

/// A straight piece of a stroke.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) a: Point,
    pub(super) b: Point,
    /// Index of its mark.
    pub(super) mark: usize,
}

impl Piece {
    /// As a line.
    pub(super) fn line(&self) -> kurbo::Line {
        kurbo::Line::new(self.a, self.b)
    }
}

/// A text and the box of its ink.
#[derive(Clone, Debug)]
pub(super) struct Words<'a> {
    pub(super) text: &'a Text,
    /// Corners in order round the box.
    pub(super) corners: [Point; 4],
    pub(super) bounds: Rect,
    pub(super) mark: usize,
}

/// The sheet taken apart.
pub(super) struct Scene<'a> {
    pub(super) sheet: &'a Sheet,
    pub(super) pieces: Vec<Piece>,
    pub(super) words: Vec<Words<'a>>,
    /// Masks: index of the mark and the area cleared.
    pub(super) masks: Vec<(usize, Rect)>,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
}

impl<'a> Scene<'a> {
    pub(super) fn new(sheet: &'a Sheet) -> Self {
        let mut scene = Self {
            sheet,
            pieces: Vec::new(),
            words: Vec::new(),
            masks: Vec::new(),
            columns: count(sheet.width),
            rows: count(sheet.height),
            cells: Vec::new(),
        };
        // What has no real place is reported by itself and judged no further.
        for (i, mark) in sheet.marks.iter().enumerate().filter(|(_, m)| m.is_finite()) {
            match &mark.ink {
                Ink::Stroke { path, .. } => scene.take_apart(path, i),
                Ink::Fill { path, .. } if mark.role == Role::Mask => {
                    scene.masks.push((i, kurbo::Shape::bounding_box(path)));
                }
                // Arrow heads and dots count as lines, hatching fills do not.
                Ink::Fill { path, .. } if mark.role != Role::Hatch => scene.take_apart(path, i),
                Ink::Fill { .. } => {}
                Ink::Text(text) => {
                    let corners = text.corners();
                    let first = Rect::from_points(corners[0], corners[0]);
                    let bounds = corners.iter().fold(first, |r, p| r.union_pt(*p));
                    scene.words.push(Words { text, corners, bounds, mark: i });
                }
            }
        }
        scene.cells = vec![Vec::new(); scene.columns * scene.rows];
        for (i, piece) in (0..).zip(&scene.pieces) {
            let box_of = Rect::from_points(piece.a, piece.b);
            for cell in span(box_of, scene.columns, scene.rows) {
                scene.cells[cell].push(i);
            }
        }
        scene
    }

    fn take_apart(&mut self, path: &kurbo::BezPath, mark: usize) {
        let (mut start, mut last) = (Point::ZERO, Point::ZERO);
        let pieces = &mut self.pieces;
        kurbo::flatten(path, FLAT, |element| match element {
            PathEl::MoveTo(p) => (start, last) = (p, p),
            PathEl::LineTo(p) => {
                pieces.push(Piece { a: last, b: p, mark });
                last = p;
            }
            PathEl::ClosePath => {
                pieces.push(Piece { a: last, b: start, mark });
                last = start;
            }
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
        });
    }

    pub(super) fn mark(&self, index: usize) -> &Mark {
        &self.sheet.marks[index]
    }

    /// Pieces whose cells touch `area`, in order, each once.
    pub(super) fn near(&self, area: Rect, out: &mut Vec<u32>) {
        out.clear();
        for cell in span(area, self.columns, self.rows) {
            out.extend(&self.cells[cell]);
        }
        out.sort_unstable();
        out.dedup();
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "sheets are under two metres")]
fn count(length: f64) -> usize {
    (length / CELL).clamp(0.0, CELLS) as usize + 1
}

/// Indices of the cells that a box touches.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the grid first")]
fn span(area: Rect, columns: usize, rows: usize) -> impl Iterator<Item = usize> {
    let place = |v: f64, n: usize| ((v / CELL).clamp(0.0, (n - 1) as f64)) as usize;
    let (x0, x1) = (place(area.x0, columns), place(area.x1, columns));
    let (y0, y1) = (place(area.y0, rows), place(area.y1, rows));
    (y0..=y1).flat_map(move |y| (x0..=x1).map(move |x| y * columns + x))
}

/// What a mark is, for a message.
pub(super) fn describe(mark: &Mark) -> String {
    match &mark.ink {
        Ink::Text(text) => format!("`{}`", text.reading()),
        Ink::Stroke { .. } | Ink::Fill { .. } => format!("a line ({})", mark.role.name()),
    }
}
