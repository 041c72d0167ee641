//! The white of a sheet, looked at in cells of a few millimetres: finer ones would place
//! no table better, and cost time on A0.

use kurbo::{Point, Rect, Vec2};

use super::look::Look;

/// Side of a cell, mm.
const CELL: f64 = 4.0;
/// White kept between blocks, mm: two tables are told apart by it.
const GAP: f64 = 8.0;
/// What the lines round a block take of its size, mm: a table as wide as the paper has room
/// on it.
const LINE: f64 = 1.0;

/// Which cells of the paper are taken, row by row.
#[derive(Clone)]
pub(in crate::drawing) struct Cells {
    area: Rect,
    columns: usize,
    rows: usize,
    taken: Vec<bool>,
    /// How many are not.
    free: usize,
    /// Blocks there was no place for, in cells: nor is there later for any as large, since
    /// what is taken stays so.
    refused: Vec<(usize, usize)>,
}

/// So many refused blocks are kept: sheets full of parts are asked thousands of times.
const REFUSED: usize = 8;

impl Cells {
    /// An empty sheet.
    pub(in crate::drawing) fn of(look: &Look, opens: bool) -> Self {
        let look = if opens { look.opening() } else { look.clone() };
        let (room, above) = (look.room(), look.room().above());
        // Beside the whole block there is room down to the foot.
        let area = Rect { y1: room.beside().y1.max(above.y1), ..above };
        let [columns, rows] = [area.width(), area.height()].map(|side| cells(((side + GAP) / CELL).ceil()));
        let mut cells = Self {
            area,
            columns,
            rows,
            taken: vec![false; columns * rows],
            free: columns * rows,
            refused: Vec::new(),
        };
        cells.mark(room.block);
        cells
    }

    /// Where blocks may stand.
    pub(in crate::drawing) fn area(&self) -> Rect {
        self.area
    }

    /// Whether so much white is left in all that a block might find a place.
    pub(in crate::drawing) fn may_hold(&self, block: Rect) -> bool {
        block.area() <= self.free as f64 * CELL * CELL
    }

    /// Marks what a box takes.
    pub(in crate::drawing) fn mark(&mut self, what: Rect) {
        let from = |at: f64| cells((at / CELL).max(0.0));
        let to = |at: f64, most: usize| cells((at / CELL).ceil().max(0.0)).min(most);
        let (x0, y0) = (from(what.x0 - self.area.x0), from(what.y0 - self.area.y0));
        let x1 = to(what.x1 - self.area.x0, self.columns);
        let y1 = to(what.y1 - self.area.y0, self.rows);
        for y in y0..y1 {
            let row = self.taken.get_mut(y * self.columns + x0.min(x1)..y * self.columns + x1);
            for taken in row.into_iter().flatten().filter(|taken| !**taken) {
                *taken = true;
                self.free -= 1;
            }
        }
    }

    /// Takes the first place for a block, from the top down; gives its corner.
    pub(in crate::drawing) fn take(&mut self, block: Rect) -> Option<Point> {
        let corner = self.find(block)?;
        self.mark(Rect::from_origin_size(corner, (block.width() + GAP, block.height() + GAP)));
        Some(corner)
    }

    /// The first place for a block, from the top down.
    pub(in crate::drawing) fn find(&mut self, block: Rect) -> Option<Point> {
        let [wide, high] =
            [block.width(), block.height()].map(|side| cells(((side - LINE + GAP) / CELL).ceil()));
        let refused = |&(least, low): &(usize, usize)| wide >= least && high >= low;
        if wide > self.columns || high > self.rows || self.refused.iter().any(refused) {
            return None;
        }
        let found = self.first(wide, high);
        if found.is_none() {
            self.refused.retain(|&(w, h)| w < wide || h < high);
            if self.refused.len() < REFUSED {
                self.refused.push((wide, high));
            }
        }
        found
    }

    /// The first place so many cells wide and high that are free, from the top down.
    fn first(&self, wide: usize, high: usize) -> Option<Point> {
        // For each cell how many free ones stand under one another up to it.
        let mut deep = vec![0_usize; self.columns];
        for y in 0..self.rows {
            let mut run = 0;
            for (x, deep) in deep.iter_mut().enumerate() {
                let taken = self.taken.get(y * self.columns + x).copied().unwrap_or(true);
                *deep = if taken { 0 } else { *deep + 1 };
                run = if *deep >= high { run + 1 } else { 0 };
                if run >= wide {
                    let at = |cell: usize| cell as f64 * CELL;
                    return Some(self.area.origin() + Vec2::new(at(x + 1 - wide), at(y + 1 - high)));
                }
            }
        }
        None
    }
}

/// So many whole cells.
fn cells(count: f64) -> usize {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no paper has a million cells, and less than none is none"
    )]
    let whole = count.clamp(0.0, 1e6) as usize;
    whole
}
