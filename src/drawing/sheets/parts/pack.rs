//! Cells packed on sheets in rows, white space shared out evenly.

use kurbo::{Point, Rect, Vec2};

use super::subject::Cell;
use crate::drawing::page::cells::Cells;
use crate::drawing::page::look::Look;
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};

/// Least white space between cells, mm.
const GUTTER: f64 = 10.0;

/// The paper part sheets use.
pub(super) fn room(look: &Look) -> Rect {
    look.room().above()
}

/// How far a cell with these bounds by itself reaches beyond the paper, mm; none or less if it
/// has room above the title block or left of it.
pub(super) fn overrun(bounds: Rect, look: &Look) -> f64 {
    let over = |r: Rect| (bounds.width() - r.width()).max(bounds.height() - r.height());
    over(look.room().above()).min(over(look.room().beside()))
}

/// One row of cells.
#[derive(Debug)]
struct Row<T> {
    /// The cells.
    cells: Vec<T>,
    /// Width so far with gutters.
    width: f64,
    /// Greatest height.
    height: f64,
}

/// The paper of a sheet: the full width above the title block, and the full
/// height for a last row that ends left of it.
#[derive(Clone, Copy)]
struct Space {
    /// Above the title block.
    above: Rect,
    /// Left of it, over the full height.
    beside: Rect,
}

impl Space {
    /// That of a look's paper.
    fn of(look: &Look) -> Self {
        Self { above: room(look), beside: look.room().beside() }
    }

    /// Whether rows of these widths and heights fit under one another.
    fn holds(&self, rows: &[(f64, f64)]) -> bool {
        let height = rows.iter().map(|r| r.1 + GUTTER).sum::<f64>() - GUTTER;
        rows.iter().all(|r| r.0 <= self.above.width()) && height <= self.height(rows)
    }

    /// Whether rows stand left of the title block over the full height.
    fn slim(&self, rows: &[(f64, f64)]) -> bool {
        rows.iter().all(|r| r.0 <= self.beside.width())
    }

    /// The height rows may take.
    fn height(&self, rows: &[(f64, f64)]) -> f64 {
        let low = rows.last().is_some_and(|r| r.0 <= self.beside.width());
        if low && (rows.len() > 1 || self.slim(rows)) { self.beside.height() } else { self.above.height() }
    }
}

/// Sheets of rows of things, taken in order, each into the first row or sheet
/// with room for the box round it.
fn packed<T>(things: impl Iterator<Item = (T, Rect)>, space: &Space) -> Vec<Vec<Row<T>>> {
    let mut sheets: Vec<Vec<Row<T>>> = Vec::new();
    for (thing, bounds) in things {
        let (w, h) = (bounds.width(), bounds.height());
        // The first with room, not the best: parts stay nearly in the order of their
        // numbers, in which they are looked for.
        let found = sheets.iter().enumerate().find_map(|(s, rows)| Some((s, spot(rows, (w, h), space)?)));
        let (s, r) = found.unwrap_or((sheets.len(), 0));
        if s == sheets.len() {
            sheets.push(Vec::new());
        }
        let Some(rows) = sheets.get_mut(s) else { continue };
        if r == rows.len() {
            rows.push(Row { cells: Vec::new(), width: 0.0, height: 0.0 });
        }
        let Some(row) = rows.get_mut(r) else { continue };
        row.width += if row.cells.is_empty() { w } else { GUTTER + w };
        row.height = row.height.max(h);
        row.cells.push(thing);
    }
    sheets
}

/// Width and height of the rows of a sheet.
fn extents<T>(rows: &[Row<T>]) -> Vec<(f64, f64)> {
    rows.iter().map(|r| (r.width, r.height)).collect()
}

/// The row of a sheet that takes a cell; one past the last for a new row.
fn spot<T>(rows: &[Row<T>], (w, h): (f64, f64), space: &Space) -> Option<usize> {
    let sizes = extents(rows);
    // A cell that is higher than its row makes the whole row higher, and a last row that
    // grows too wide no longer goes left of the title block: so each is tried as a whole.
    (0..=rows.len()).find(|i| {
        let mut trial = sizes.clone();
        match trial.get_mut(*i) {
            Some(row) => *row = (row.0 + GUTTER + w, row.1.max(h)),
            None => trial.push((w, h)),
        }
        space.holds(&trial)
    })
}

/// Which cells, packed in order, share each sheet.
pub(super) fn together(cells: &[Cell], look: &Look) -> Vec<Vec<usize>> {
    let bounds: Vec<Rect> = cells.iter().map(|cell| cell.bounds).collect();
    if let Some(close) = close(&bounds, look) {
        return close.into_iter().map(|sheet| sheet.into_iter().map(|(i, _)| i).collect()).collect();
    }
    let sheets = packed(cells.iter().enumerate().map(|(i, cell)| (i, cell.bounds)), &Space::of(look));
    sheets.into_iter().map(|rows| rows.into_iter().flat_map(|row| row.cells).collect()).collect()
}

/// Which cells, packed in order, have a sheet to themselves.
pub(super) fn alone(cells: &[Cell], look: &Look) -> Vec<usize> {
    let lone = |sheet: Vec<usize>| <[usize; 1]>::try_from(sheet).ok().map(|[cell]| cell);
    together(cells, look).into_iter().filter_map(lone).collect()
}

/// How many sheets cells with these bounds need, taken in order.
pub(super) fn count(bounds: &[Rect], look: &Look) -> usize {
    if let Some(close) = close(bounds, look) {
        return close.len();
    }
    packed(bounds.iter().map(|bounds| ((), *bounds)), &Space::of(look)).len()
}

/// Packs cells in order, each into the first row or sheet with room for it.
pub(super) fn sheets(cells: Vec<Cell>, look: &Look) -> Vec<SheetBody> {
    let space = Space::of(look);
    let bounds: Vec<Rect> = cells.iter().map(|cell| cell.bounds).collect();
    if let Some(close) = close(&bounds, look) {
        return placed(cells, close, look);
    }
    let sheets = packed(cells.into_iter().map(with_bounds), &space);
    let count = sheets.len();
    sheets.into_iter().enumerate().map(|(i, rows)| body(rows, &space, (i, count))).collect()
}

/// Cells fitted together closely, each with the corner of its box, where that takes fewer
/// sheets than rows do: rows are easier to look through, and spread the white.
fn close(bounds: &[Rect], look: &Look) -> Option<Vec<Vec<(usize, Point)>>> {
    let rows = packed(bounds.iter().map(|bounds| ((), *bounds)), &Space::of(look)).len();
    if rows < 2 {
        return None;
    }
    // The tallest first: what is low goes beside and below.
    let mut order: Vec<usize> = (0..bounds.len()).collect();
    order.sort_by(|a, b| {
        let tall = |i: &usize| bounds.get(*i).map_or(0.0, Rect::height);
        tall(b).total_cmp(&tall(a)).then(a.cmp(b))
    });
    let in_order: Vec<usize> = (0..bounds.len()).collect();
    [in_order, order].iter().filter_map(|order| laid(order, bounds, look)).find(|sheets| sheets.len() < rows)
}

/// Cells laid in some order, each on the first sheet with a place; none where one has
/// no room on a whole sheet.
fn laid(order: &[usize], bounds: &[Rect], look: &Look) -> Option<Vec<Vec<(usize, Point)>>> {
    let mut sheets: Vec<(Cells, Vec<(usize, Point)>)> = Vec::new();
    for i in order {
        let block = *bounds.get(*i)?;
        let found = sheets.iter_mut().find_map(|(cells, on)| Some((cells.take(block)?, on)));
        if let Some((corner, on)) = found {
            on.push((*i, corner));
            continue;
        }
        let mut cells = Cells::of(look, false);
        let corner = cells.take(block)?;
        sheets.push((cells, vec![(*i, corner)]));
    }
    Some(sheets.into_iter().map(|(_, on)| on).collect())
}

/// The sheets of cells fitted together closely, what is left of each shared out round
/// them all.
fn placed(cells: Vec<Cell>, close: Vec<Vec<(usize, Point)>>, look: &Look) -> Vec<SheetBody> {
    let room = room(look);
    let count = close.len();
    let mut cells: Vec<Option<Cell>> = cells.into_iter().map(Some).collect();
    let mut sheets = Vec::new();
    for (index, on) in close.into_iter().enumerate() {
        let mut on: Vec<(Cell, Point)> = on
            .into_iter()
            .filter_map(|(i, at)| Some((cells.get_mut(i).and_then(Option::take)?, at)))
            .collect();
        on.sort_by(|a, b| a.1.y.total_cmp(&b.1.y).then(a.1.x.total_cmp(&b.1.x)));
        let right = on.iter().map(|(cell, at)| at.x + cell.bounds.width()).fold(room.x0, f64::max);
        let foot = on.iter().map(|(cell, at)| at.y + cell.bounds.height()).fold(room.y0, f64::max);
        let aside = Vec2::new((room.x1 - right).max(0.0) / 2.0, (room.y1 - foot).max(0.0) / 2.0);
        let mut sheet = Sheet::new(index, count, on.iter().filter_map(|(cell, _)| cell.scale));
        for (cell, at) in on {
            let by = at - cell.bounds.origin() + aside;
            sheet.put(cell, by);
        }
        sheets.push(sheet.body);
    }
    sheets
}

/// A part sheet being filled.
struct Sheet {
    body: SheetBody,
    dimensions: u32,
    views: u16,
}

impl Sheet {
    /// An empty one.
    fn new(index: usize, count: usize, scales: impl Iterator<Item = Scale>) -> Self {
        let title =
            if count > 1 { format!("Parts, sheet {} of {count}", index + 1) } else { "Parts".to_owned() };
        let mut body = SheetBody::new(SheetKind::Part, title);
        body.scale = main_scale(scales);
        Self { body, dimensions: 0, views: 0 }
    }

    /// Puts a cell down, moved.
    fn put(&mut self, cell: Cell, by: Vec2) {
        self.body.bookmarks.push((cell.title.clone(), cell.bounds.origin() + by));
        for mut mark in cell.marks {
            mark.shift(by);
            // Sizes and views are counted through the sheet, so that no two share one.
            if mark.shows.dimension > 0 {
                mark.shows.dimension += self.dimensions;
            }
            if mark.shows.view > 0 {
                mark.shows.view += self.views;
            }
            self.body.marks.push(mark);
        }
        self.dimensions += cell.dimensions;
        self.views += cell.views;
    }
}

/// A cell with the box round it.
fn with_bounds(cell: Cell) -> (Cell, Rect) {
    let bounds = cell.bounds;
    (cell, bounds)
}

/// One sheet: rows spread down it, cells along each row.
fn body(rows: Vec<Row<Cell>>, space: &Space, (index, count): (usize, usize)) -> SheetBody {
    let scales = rows.iter().flat_map(|r| r.cells.iter().filter_map(|c| c.scale));
    let mut sheet = Sheet::new(index, count, scales);
    let room = space.above;
    let sizes = extents(&rows);
    let free = space.height(&sizes) - rows.iter().map(|r| r.height).sum::<f64>();
    // As much above the first row and below the last as between them.
    let gap = free / (rows.len() as f64 + 1.0);
    let mut y = room.y0;
    let below = room.y1;
    for row in rows {
        y += gap;
        // A row that reaches down beside the title block keeps left of it.
        let aside = y + row.height > below && row.width <= space.beside.width();
        let room = if aside { space.beside } else { room };
        let cells: f64 = row.cells.iter().map(|c| c.bounds.width()).sum();
        let step = (room.width() - cells) / (row.cells.len() as f64 + 1.0);
        let mut x = room.x0;
        for cell in row.cells {
            x += step;
            let by = Vec2::new(x - cell.bounds.x0, y - cell.bounds.y0);
            x += cell.bounds.width();
            sheet.put(cell, by);
        }
        y += row.height;
    }
    sheet.body
}

/// The scale most cells have.
fn main_scale(scales: impl Iterator<Item = Scale>) -> Option<Scale> {
    let all: Vec<Scale> = scales.collect();
    all.iter().copied().max_by_key(|s| all.iter().filter(|t| t.name == s.name).count())
}
