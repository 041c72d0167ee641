//! Details on sheets of their own, several a sheet, in rows.

use rayon::prelude::*;

use kurbo::{Point, Rect, Vec2};

use super::Detail;
use super::draw::{self, Drawn};
use crate::drawing::plate::Plate;
use crate::drawing::{Look, Scale, SheetBody, SheetKind, series};
use crate::joinery::WorkedJob;
use crate::model::Job;

/// Least white between two details, mm.
const GAP: f64 = 14.0;

/// A detail with its scale.
struct Set {
    drawn: Drawn,
    scale: Scale,
    letter: String,
}

/// The sheets of one piece's details.
pub(in crate::drawing) fn sheets(
    job: &Job,
    worked: &WorkedJob,
    details: &[Detail],
    name: &str,
    look: &Look,
) -> Vec<SheetBody> {
    let area = look.room().above();
    // Views are numbered as details are lettered; no set has 65,536 of them.
    let numbered: Vec<(u16, &Detail)> = (1..).zip(details).collect();
    let drawn = |(view, detail): &(u16, &Detail)| set(job, worked, detail, look, area, *view);
    let sets: Vec<Set> = numbered.par_iter().filter_map(drawn).collect();
    let mut bodies: Vec<SheetBody> = Vec::new();
    let mut rest = sets.as_slice();
    while !rest.is_empty() {
        let grid = grid(rest, area);
        let used = grid.columns * grid.rows.len();
        let (here, after) = rest.split_at(used.clamp(1, rest.len()));
        bodies.push(body(here, &grid, area, name, look));
        rest = after;
    }
    bodies
}

/// A detail at the largest scale, 1:1 or less, that leaves room for another
/// beside it; failing that, that fits at all.
fn set(job: &Job, worked: &WorkedJob, detail: &Detail, look: &Look, area: Rect, view: u16) -> Option<Set> {
    let half = ((area.width() - GAP) / 2.0).max(120.0).min(area.width());
    let scales = || series(look).iter().copied().filter(|s| s.factor <= 1.0 + 1e-9);
    let at = |scale: Scale| {
        let drawn = draw::draw(job, worked, detail, look, scale, view)?;
        Some(Set { drawn, scale, letter: detail.letter.clone() })
    };
    let fits = |set: &Set, width: f64| {
        set.drawn.bounds.width() <= width && set.drawn.bounds.height() <= area.height()
    };
    let preferred = scales().take(2).filter_map(at).find(|set| fits(set, half));
    preferred.or_else(|| scales().filter_map(at).find(|set| fits(set, area.width())))
}

/// How the details of one sheet are laid out.
struct Grid {
    columns: usize,
    /// Height of each row.
    rows: Vec<f64>,
}

/// As many details as a sheet takes: columns of one width, each row as high as
/// it needs.
fn grid(sets: &[Set], area: Rect) -> Grid {
    let most = sets.len().clamp(1, 6);
    (1..=most)
        .rev()
        .find_map(|columns| stacked(sets, area, columns))
        .unwrap_or_else(|| Grid { columns: 1, rows: vec![area.height()] })
}

/// A sheet in so many columns; `None` where a detail is too wide for them.
fn stacked(sets: &[Set], area: Rect, columns: usize) -> Option<Grid> {
    let mut rows: Vec<f64> = Vec::new();
    let mut top = 0.0;
    for row in sets.chunks(columns) {
        let height =
            above(row) + row.iter().map(|s| s.drawn.bounds.y1 - s.drawn.picture.y1).fold(0.0, f64::max);
        if top + height > area.height() {
            // One tall picture beside one long caption need more than either.
            match (rows.is_empty(), columns) {
                (true, 2..) => return None,
                (true, _) => {}
                (false, _) => break,
            }
        }
        let cell = area.width() / columns as f64 - if columns > 1 { GAP / 2.0 } else { 0.0 };
        if row.iter().any(|s| s.drawn.bounds.width() > cell) {
            return None;
        }
        rows.push(height);
        top += height + GAP;
    }
    (!rows.is_empty()).then_some(Grid { columns, rows })
}

/// From the top of a row to the feet of its pictures, which stand on one line.
fn above(row: &[Set]) -> f64 {
    row.iter().map(|s| s.drawn.picture.y1 - s.drawn.bounds.y0).fold(0.0, f64::max)
}

/// A sheet with its rows and columns spread evenly.
fn body(sets: &[Set], grid: &Grid, area: Rect, name: &str, look: &Look) -> SheetBody {
    let mut plate = Plate::new(look);
    let mut bookmarks = Vec::new();
    let spare = area.height() - grid.rows.iter().sum::<f64>();
    // White above, between and below; the eye wants more of it below than above.
    let between = (spare / (grid.rows.len() as f64 + 1.0)).clamp(0.0, 60.0);
    let cell = area.width() / grid.columns as f64;
    let mut y = area.y0 + between * 0.7;
    for (row, height) in sets.chunks(grid.columns).zip(&grid.rows) {
        let foot = y + above(row);
        for (i, set) in row.iter().enumerate() {
            let bounds = set.drawn.bounds;
            // Titles stand under one another where notes at a side allow it.
            let (from, to) = (area.x0 + cell * i as f64, area.x0 + cell * (i as f64 + 1.0));
            let x = (f64::midpoint(from, to) - set.drawn.middle).min(to - bounds.x1).max(from - bounds.x0);
            plate.marks.extend(draw::at(&set.drawn, Vec2::new(x, foot - set.drawn.picture.y1)));
            bookmarks.push((format!("Detail {}", set.letter), Point::new(x + bounds.x0, y)));
        }
        y += height + between;
    }
    let first = sets.first().map(|s| s.scale);
    let scale = first.filter(|scale| sets.iter().all(|s| s.scale == *scale));
    SheetBody {
        scale,
        marks: plate.marks,
        bookmarks,
        full_size: sets.iter().any(|s| (s.scale.factor - 1.0).abs() < 1e-9),
        ..SheetBody::new(SheetKind::Detail, format!("{name}: joint details"))
    }
}
