//! Details on sheets of their own, several a sheet, in rows.

use rayon::prelude::*;

use kurbo::{Point, Rect, Vec2};

use super::Detail;
use super::draw::{self, Drawn};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::drawing::page::scale::{Scale, series};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::tolerance::NOISE;
use crate::joinery::WorkedJob;
use crate::model::Job;

/// Least white between two details, mm.
const GAP: f64 = 14.0;

/// On narrow paper a detail may take this much rather than half the width, mm.
const LEAST_HALF: f64 = 120.0;
/// Most white between rows, mm, and what share of it stands above the first.
const MOST_BETWEEN: f64 = 60.0;
const ABOVE: f64 = 0.7;

/// A detail with its scale.
struct Set {
    drawn: Drawn,
    scale: Scale,
    letter: String,
}

/// The sheets of one piece's details. What of `section`, the sheet they are
/// marked on, is `free` takes the first of them where that saves a sheet.
pub(in crate::drawing) fn sheets(
    job: &Job,
    worked: &WorkedJob,
    details: &[Detail],
    (name, look): (&str, &Look),
    section: Option<(&mut SheetBody, Rect)>,
) -> Vec<SheetBody> {
    let area = look.room().above();
    // Views are numbered as details are lettered, after the section; no set has
    // 65,536 of them.
    let numbered: Vec<(u16, &Detail)> = (2..).zip(details).collect();
    let from = Source { job, worked, look };
    let drawn = |(view, detail): &(u16, &Detail)| from.set(detail, area, *view);
    let sets: Vec<Set> = numbered.par_iter().filter_map(drawn).collect();
    let mut rest = sets.as_slice();
    let mut grids = shared_out(rest, area);
    if let Some((body, free)) = section
        && let Some(beside) = beside(&sets, free, area)
        && beside.left.len() < grids.len()
    {
        spread(beside.here, &beside.grid, free, look, body);
        body.title = format!("{}, details", body.title);
        (rest, grids) = (beside.after, beside.left);
    }
    let mut bodies = Vec::new();
    for grid in &grids {
        let (here, after) = rest.split_at(grid.used(rest.len()));
        let first = here.first().map(|set| set.scale);
        let mut body = SheetBody {
            scale: first.filter(|scale| here.iter().all(|set| set.scale == *scale)),
            ..SheetBody::new(SheetKind::Detail, format!("{name}: joint details"))
        };
        spread(here, grid, area, look, &mut body);
        bodies.push(body);
        rest = after;
    }
    bodies
}

/// Details beside a section, and the sheets of the others.
struct Beside<'a> {
    here: &'a [Set],
    grid: Grid,
    after: &'a [Set],
    left: Vec<Grid>,
}

/// As many of the first details as `free` takes, or as few of the last as save
/// more sheets.
fn beside(sets: &[Set], free: Rect, area: Rect) -> Option<Beside<'_>> {
    let first = grid(sets, free).map(|grid| {
        let (here, after) = sets.split_at(grid.used(sets.len()));
        Beside { here, grid, after, left: shared_out(after, area) }
    });
    let last = (1..sets.len()).map_while(|count| {
        let (after, here) = sets.split_at(sets.len() - count);
        let grid = grid(here, free).filter(|grid| grid.used(count) == count)?;
        Some(Beside { here, grid, after, left: shared_out(after, area) })
    });
    first.into_iter().chain(last).min_by_key(|one| one.left.len())
}

/// The grids of as many sheets as some details need.
fn shared_out(sets: &[Set], area: Rect) -> Vec<Grid> {
    let mut grids = Vec::new();
    let mut rest = sets;
    while let Some(first) = rest.first() {
        // What is too large for the paper at any scale stands alone.
        let lone = || Grid { columns: vec![first.drawn.bounds.width()], rows: vec![area.height()] };
        let grid = grid(rest, area).unwrap_or_else(lone);
        rest = rest.get(grid.used(rest.len())..).unwrap_or_default();
        grids.push(grid);
    }
    grids
}

/// What details are drawn from.
struct Source<'a> {
    job: &'a Job,
    worked: &'a WorkedJob,
    look: &'a Look,
}

impl Source<'_> {
    /// A detail at the largest scale, 1:1 or less, that leaves room for another
    /// beside it; failing that, that fits at all.
    fn set(&self, detail: &Detail, area: Rect, view: u16) -> Option<Set> {
        let Self { job, worked, look } = *self;
        let half = ((area.width() - GAP) / 2.0).max(LEAST_HALF).min(area.width());
        let scales = || series(look).iter().copied().filter(|s| s.factor <= 1.0 + NOISE);
        let at = |scale: Scale| {
            let drawn = draw::draw(job, worked, detail, look, scale, view)?;
            Some(Set { drawn, scale, letter: detail.letter.clone() })
        };
        let fits = |set: &Set, width: f64| {
            set.drawn.bounds.width() <= width && set.drawn.bounds.height() <= area.height()
        };
        // Only the two largest scales are worth half a sheet; smaller ones are the last resort.
        let preferred = scales().take(2).filter_map(at).find(|set| fits(set, half));
        preferred.or_else(|| scales().filter_map(at).find(|set| fits(set, area.width())))
    }
}

/// How the details of one sheet are laid out.
struct Grid {
    /// Width of each column.
    columns: Vec<f64>,
    /// Height of each row.
    rows: Vec<f64>,
}

impl Grid {
    /// How many of so many details it takes.
    fn used(&self, of: usize) -> usize {
        (self.columns.len() * self.rows.len()).clamp(1, of.max(1)).min(of)
    }
}

/// As many details as an area takes, in the fewest columns for them; `None` where
/// it takes none.
fn grid(sets: &[Set], area: Rect) -> Option<Grid> {
    let most = sets.len().min(6);
    let all = (1..=most).filter_map(|columns| stacked(sets, area, columns));
    all.rev().max_by_key(|grid| grid.used(sets.len()))
}

/// An area in so many columns: as many rows as it holds; `None` where it does not
/// hold the first.
fn stacked(sets: &[Set], area: Rect, columns: usize) -> Option<Grid> {
    let mut grid = Grid { columns: vec![0.0; columns], rows: Vec::new() };
    let mut top = 0.0;
    for row in sets.chunks(columns) {
        let height =
            above(row) + row.iter().map(|s| s.drawn.bounds.y1 - s.drawn.picture.y1).fold(0.0, f64::max);
        let mut widths = grid.columns.clone();
        for (width, set) in widths.iter_mut().zip(row) {
            *width = width.max(set.drawn.bounds.width());
        }
        let wide = widths.iter().sum::<f64>() + GAP * (columns as f64 - 1.0);
        if top + height > area.height() || wide > area.width() {
            break;
        }
        grid.columns = widths;
        grid.rows.push(height);
        top += height + GAP;
    }
    (!grid.rows.is_empty()).then_some(grid)
}

/// From the top of a row to the feet of its pictures, which stand on one line.
fn above(row: &[Set]) -> f64 {
    row.iter().map(|s| s.drawn.picture.y1 - s.drawn.bounds.y0).fold(0.0, f64::max)
}

/// Puts details on a sheet, rows and columns spread evenly.
fn spread(sets: &[Set], grid: &Grid, area: Rect, look: &Look, body: &mut SheetBody) {
    let mut plate = Plate::new(look);
    let spare = area.height() - grid.rows.iter().sum::<f64>();
    // White above, between and below; the eye wants more of it below than above.
    let between = (spare / (grid.rows.len() as f64 + 1.0)).clamp(0.0, MOST_BETWEEN);
    let aside = (area.width() - grid.columns.iter().sum::<f64>()) / grid.columns.len().max(1) as f64;
    let mut y = area.y0 + between * ABOVE;
    for (row, height) in sets.chunks(grid.columns.len().max(1)).zip(&grid.rows) {
        let foot = y + above(row);
        let mut from = area.x0;
        for (set, width) in row.iter().zip(&grid.columns) {
            let to = from + width + aside;
            let bounds = set.drawn.bounds;
            // Titles stand under one another where notes at a side allow it.
            let x = (f64::midpoint(from, to) - set.drawn.middle).min(to - bounds.x1).max(from - bounds.x0);
            plate.marks.extend(draw::at(&set.drawn, Vec2::new(x, foot - set.drawn.picture.y1)));
            body.bookmarks.push((format!("Detail {}", set.letter), Point::new(x + bounds.x0, y)));
            from = to;
        }
        y += height + between;
    }
    body.full_size |= sets.iter().any(|s| (s.scale.factor - 1.0).abs() < NOISE);
    body.marks.extend(plate.marks);
}
