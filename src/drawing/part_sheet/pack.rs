//! Cells packed on sheets in rows, white space shared out evenly.

use kurbo::{Rect, Vec2};

use super::cell::Cell;
use crate::drawing::dimension::moved;
use crate::drawing::{Look, SheetBody, SheetKind};

/// Least white space between cells, mm.
const GUTTER: f64 = 10.0;

/// The paper part sheets use.
pub(super) fn room(look: &Look) -> Rect {
    look.room().above()
}

/// One row of cells.
#[derive(Debug, Default)]
struct Row {
    /// The cells.
    cells: Vec<Cell>,
    /// Width so far with gutters.
    width: f64,
    /// Greatest height.
    height: f64,
}

/// Packs cells in order, each into the first row or sheet with room for it.
pub(super) fn sheets(cells: Vec<Cell>, look: &Look) -> Vec<SheetBody> {
    let room = room(look);
    let mut sheets: Vec<Vec<Row>> = Vec::new();
    for cell in cells {
        let (w, h) = (cell.bounds.width(), cell.bounds.height());
        let spot = sheets.iter().enumerate().find_map(|(s, rows)| {
            let used: f64 = rows.iter().map(|r| r.height + GUTTER).sum::<f64>() - GUTTER;
            let row = rows.iter().position(|r| {
                r.width + GUTTER + w <= room.width() && used - r.height + r.height.max(h) <= room.height()
            });
            row.map(|r| (s, Some(r))).or_else(|| (used + GUTTER + h <= room.height()).then_some((s, None)))
        });
        let (s, row) = spot.unwrap_or_else(|| {
            sheets.push(Vec::new());
            (sheets.len() - 1, None)
        });
        let Some(rows) = sheets.get_mut(s) else { continue };
        let row = match row.and_then(|r| rows.get_mut(r)) {
            Some(row) => row,
            None => {
                rows.push(Row::default());
                let last = rows.len() - 1;
                &mut rows[last]
            }
        };
        row.width += if row.cells.is_empty() { w } else { GUTTER + w };
        row.height = row.height.max(h);
        row.cells.push(cell);
    }
    let count = sheets.len();
    sheets.into_iter().enumerate().map(|(i, rows)| body(rows, room, (i, count))).collect()
}

/// One sheet: rows spread down it, cells along each row.
fn body(rows: Vec<Row>, room: Rect, (index, count): (usize, usize)) -> SheetBody {
    let title = if count > 1 { format!("parts, sheet {} of {count}", index + 1) } else { "parts".to_owned() };
    let mut body = SheetBody::new(SheetKind::Part, title);
    body.scale = main_scale(&rows);
    let free = room.height() - rows.iter().map(|r| r.height).sum::<f64>();
    let gap = free / (rows.len() as f64 + 1.0);
    let (mut y, mut dimensions, mut views) = (room.y0, 0, 0);
    for row in rows {
        y += gap;
        let cells: f64 = row.cells.iter().map(|c| c.bounds.width()).sum();
        let step = (room.width() - cells) / (row.cells.len() as f64 + 1.0);
        let mut x = room.x0;
        for cell in row.cells {
            x += step;
            let by = Vec2::new(x - cell.bounds.x0, y - cell.bounds.y0);
            body.bookmarks.push((cell.title.clone(), cell.bounds.origin() + by));
            for mark in &cell.marks {
                let mut mark = moved(mark, by);
                if mark.shows.dimension > 0 {
                    mark.shows.dimension += dimensions;
                }
                if mark.shows.view > 0 {
                    mark.shows.view += views;
                }
                body.marks.push(mark);
            }
            dimensions += cell.dimensions;
            views += cell.views;
            x += cell.bounds.width();
        }
        y += row.height;
    }
    body
}

/// The scale most cells have.
fn main_scale(rows: &[Row]) -> Option<crate::drawing::Scale> {
    let all: Vec<_> = rows.iter().flat_map(|r| r.cells.iter().map(|c| c.scale)).collect();
    all.iter().copied().max_by_key(|s| all.iter().filter(|t| t.name == s.name).count())
}
