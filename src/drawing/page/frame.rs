//! Frame, centring marks, grid strip and trim marks of a sheet (ISO 5457), and
//! the zones of ASME Y14.1.

use kurbo::{Point, Rect};

use super::look::{Look, Paper, PaperSeries, Room};
use super::plate::{Lettering, Plate, ring};
use crate::paper::{Anchor, Role};

/// Width of the frame line and centring marks, mm (ISO 5457, from memory).
const FRAME: f64 = 0.7;
/// Width of the grid lines, mm (ISO 5457 as given in public tables).
const GRID: f64 = 0.35;
/// Width of the grid strip, mm.
const STRIP: f64 = 5.0;
/// Length of a grid field, mm; the corner fields take what is left.
const FIELD: f64 = 50.0;

/// White between a centring mark and what is drawn, mm.
const CLEAR: f64 = 1.5;

/// Least distance of the corner fields' borders from the edge of the trimmed
/// paper, mm: with it the fields come out in the numbers of ISO 5457, the
/// shortest corner being 44.5 mm on A0.
const CORNER: f64 = 44.0;

/// Draws the frame with its marks, round a sheet with its title block at `block`.
pub(in crate::drawing) fn draw(plate: &mut Plate, look: &Look, block: Rect) {
    let space = look.paper.space();
    plate.rect(space, FRAME, Role::Frame);
    match look.paper.series() {
        PaperSeries::Iso => {
            grid(plate, look.paper, space);
            centring(plate, look.paper, space, block);
            trim(plate, look.paper);
        }
        PaperSeries::Asme => zones(plate, look.paper, space),
    }
}

/// The zones of ASME Y14.1 in the margins: numbers from right to left and
/// letters upwards, both from the corner of the title block, 4.25 or 5.5 in
/// long; none on size A (counts and lengths from memory).
fn zones(plate: &mut Plate, paper: Paper, space: Rect) {
    let (columns, rows) = match paper {
        Paper::Tabloid => (4, 2),
        Paper::C => (4, 4),
        Paper::D => (8, 4),
        Paper::E => (8, 8),
        _ => return,
    };
    let (width, height) = paper.size();
    // The narrowest margin of the series, 0.38 in, holds the letters.
    let strip = STRIP;
    for i in 0..columns {
        let (from, to) =
            (width * f64::from(i) / f64::from(columns), width * f64::from(i + 1) / f64::from(columns));
        let middle = f64::midpoint(from.max(space.x0), to.min(space.x1));
        for (edge, out) in [(space.y0, -1.0), (space.y1, 1.0)] {
            label(plate, Point::new(middle, edge + out * strip / 2.0), &(columns - i).to_string());
            if i > 0 {
                plate.line((from, edge), (from, edge + out * strip), GRID, Role::Frame);
            }
        }
    }
    for (i, letter) in (0..rows).zip('A'..) {
        let (from, to) = (
            height * (1.0 - f64::from(i + 1) / f64::from(rows)),
            height * (1.0 - f64::from(i) / f64::from(rows)),
        );
        let middle = f64::midpoint(from.max(space.y0), to.min(space.y1));
        for (edge, out) in [(space.x0, -1.0), (space.x1, 1.0)] {
            label(plate, Point::new(edge + out * strip / 2.0, middle), &letter.to_string());
            if i > 0 {
                plate.line((edge, to), (edge + out * strip, to), GRID, Role::Frame);
            }
        }
    }
}

/// The grid strip round the frame with letters down from the top left (no I
/// and no O) and numbers to the right; on A4 only above and at the right.
fn grid(plate: &mut Plate, paper: Paper, space: Rect) {
    let (width, height) = paper.size();
    let outer = Rect::new(space.x0 - STRIP, space.y0 - STRIP, space.x1 + STRIP, space.y1 + STRIP);
    let a4 = paper == Paper::A4;
    if a4 {
        plate.line((space.x0, outer.y0), (outer.x1, outer.y0), GRID, Role::Frame);
        plate.line((outer.x1, outer.y0), (outer.x1, space.y1), GRID, Role::Frame);
    } else {
        plate.rect(outer, GRID, Role::Frame);
    }
    numbers(plate, space, &fields(space.x0, space.x1, width / 2.0), a4);
    letters(plate, space, &fields(space.y0, space.y1, height / 2.0), a4);
}

/// The numbers of the columns between some borders, and the lines between them.
fn numbers(plate: &mut Plate, space: Rect, columns: &[f64], a4: bool) {
    for (i, pair) in columns.windows(2).enumerate() {
        let x = f64::midpoint(pair[0], pair[1]);
        let name = (i + 1).to_string();
        label(plate, Point::new(x, space.y0 - STRIP / 2.0), &name);
        if !a4 {
            label(plate, Point::new(x, space.y1 + STRIP / 2.0), &name);
        }
    }
    for x in &columns[1..columns.len() - 1] {
        plate.line((*x, space.y0 - STRIP), (*x, space.y0), GRID, Role::Frame);
        if !a4 {
            plate.line((*x, space.y1), (*x, space.y1 + STRIP), GRID, Role::Frame);
        }
    }
}

/// The letters of the rows between some borders, and the lines between them.
fn letters(plate: &mut Plate, space: Rect, rows: &[f64], a4: bool) {
    let letters: Vec<char> = ('A'..='Z').filter(|c| *c != 'I' && *c != 'O').collect();
    for (pair, name) in rows.windows(2).zip(&letters) {
        let y = f64::midpoint(pair[0], pair[1]);
        label(plate, Point::new(space.x1 + STRIP / 2.0, y), &name.to_string());
        if !a4 {
            label(plate, Point::new(space.x0 - STRIP / 2.0, y), &name.to_string());
        }
    }
    for y in &rows[1..rows.len() - 1] {
        plate.line((space.x1, *y), (space.x1 + STRIP, *y), GRID, Role::Frame);
        if !a4 {
            plate.line((space.x0 - STRIP, *y), (space.x0, *y), GRID, Role::Frame);
        }
    }
}

/// Field borders between `from` and `to` along a sheet whose axis lies at
/// `axis`: the ends, and every 50 mm from the axis as far as the corner field
/// keeps its least length.
fn fields(from: f64, to: f64, axis: f64) -> Vec<f64> {
    let mut borders = vec![axis];
    let mut off = FIELD;
    while axis - off > CORNER {
        borders.insert(0, axis - off);
        borders.push(axis + off);
        off += FIELD;
    }
    borders.insert(0, from);
    borders.push(to);
    borders
}

fn label(plate: &mut Plate, at: Point, text: &str) {
    let height = Lettering::MIDDLE;
    let how = Lettering::note(height).anchored(Anchor::Middle).role(Role::Frame);
    plate.text((at.x, at.y + height / 2.0), text, how);
}

/// Four marks at the ends of the sheet's axes, from the grid strip's outer edge
/// to just short of the drawing (ISO 5457, from memory: 10 mm past the strip, which is
/// 5 mm inside the frame, where titles begin here).
fn centring(plate: &mut Plate, paper: Paper, space: Rect, block: Rect) {
    let (w, h) = paper.size();
    let (x, y) = (w / 2.0, h / 2.0);
    // Its round end keeps clear of what is drawn, a title at the head of the sheet above all.
    let reach = Room::MARGIN - CLEAR - FRAME / 2.0;
    plate.line((x, space.y0 - STRIP), (x, space.y0 + reach), FRAME, Role::Frame);
    // A block or strip across the middle has words there, and the mark stops at it.
    let up = if block.x0 < x && x < block.x1 { 0.0 } else { reach };
    plate.line((x, space.y1 + STRIP), (x, space.y1 - up), FRAME, Role::Frame);
    plate.line((space.x0 - STRIP, y), (space.x0 + reach, y), FRAME, Role::Frame);
    plate.line((space.x1 + STRIP, y), (space.x1 - reach, y), FRAME, Role::Frame);
}

/// Long and short side of the rectangles of a trim mark, mm.
const TRIM: (f64, f64) = (10.0, 5.0);

/// Trim marks: two overlapping filled rectangles 10 × 5 mm in each corner
/// (ISO 5457, from memory).
fn trim(plate: &mut Plate, paper: Paper) {
    let (w, h) = paper.size();
    for (x, dx) in [(0.0, 1.0), (w, -1.0)] {
        for (y, dy) in [(0.0, 1.0), (h, -1.0)] {
            for (a, b) in [(TRIM.0, TRIM.1), (TRIM.1, TRIM.0)] {
                let corner = Rect::from_points((x, y), (x + dx * a, y + dy * b));
                plate.fill(ring(corner), 0.0, Role::Frame);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Fields along the short and the long side: ISO 5457, as given in public
    /// tables.
    #[test]
    fn fields_are_those_of_iso_5457() {
        for (paper, short, long) in [
            (Paper::A0, 16, 24),
            (Paper::A1, 12, 16),
            (Paper::A2, 8, 12),
            (Paper::A3, 6, 8),
            (Paper::A4, 4, 6),
        ] {
            let ((w, h), space) = (paper.size(), paper.space());
            let across = fields(space.x0, space.x1, w / 2.0).len() - 1;
            let up = fields(space.y0, space.y1, h / 2.0).len() - 1;
            assert_eq!((across.min(up), across.max(up)), (short, long), "{paper:?}");
        }
    }
}
