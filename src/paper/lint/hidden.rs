//! No size to what is not seen.

use std::collections::BTreeMap;

use kurbo::Point;

use super::finding::Add;
use super::rows::{Figure, Row, SAME_PLACE};
use super::scene::{Piece, Scene};
use crate::geometry::tolerance::HAIR;
use crate::paper::Role;

/// How far an extension line may begin from what it measures, mm: the widest
/// gap of the practices, and a little.
const GAP: f64 = 2.0;

/// Corners of a part's view: sheet points where its lines end, seen and hidden.
#[derive(Default)]
struct Corners {
    seen: Vec<Point>,
    hidden: Vec<Point>,
}

/// D12: an extension line that begins at a hidden edge, where nothing seen
/// stands in line with it. Sizes go to the view in which an edge is seen (a rule
/// of drawing books, as given in public tables).
pub(super) fn edges(scene: &Scene<'_>, rows: &[Row<'_>], add: &mut Add<'_>) {
    let mut views: BTreeMap<(&str, u16), Corners> = BTreeMap::new();
    for piece in &scene.pieces {
        let mark = scene.mark(piece.mark);
        let shows = &mark.shows;
        if shows.view == 0 || shows.part.is_empty() {
            continue;
        }
        let corners = views.entry((&shows.part, shows.view)).or_default();
        match mark.role {
            // What runs along a seen line cannot be distinguished from it.
            Role::Hidden if !under(scene, piece) => corners.hidden.extend([piece.a, piece.b]),
            Role::Outline | Role::CutOutline | Role::Centre | Role::Phantom => {
                corners.seen.extend([piece.a, piece.b]);
            }
            _ => {}
        }
    }
    for row in rows.iter().filter(|row| !row.part.is_empty()) {
        for stop in row.stops.iter().filter(|stop| !centre(row, stop.at)) {
            let Some(foot) = foot(scene, row, stop.at) else { continue };
            let along = |p: &Point| if row.upright { (p.y, p.x) } else { (p.x, p.y) };
            let in_line = |p: &&Point| (along(p).0 - stop.at).abs() < IN_LINE;
            let begins = |p: &&Point| in_line(p) && (along(p).1 - foot).abs() < GAP;
            let to_hidden = views.iter().any(|((part, _), corners)| {
                *part == row.part
                    && corners.hidden.iter().any(|p| begins(&p))
                    && !corners.seen.iter().any(|p| in_line(&p))
            });
            if to_hidden {
                let at = if row.upright { Point::new(foot, stop.at) } else { Point::new(stop.at, foot) };
                add("D12", at, format!("a size of part {} goes to a hidden edge", row.part));
            }
        }
    }
}

/// Whether a size goes to the centre of something there, which is no edge.
fn centre(row: &Row<'_>, at: f64) -> bool {
    let ends = |f: &&Figure<'_>| (f.from - at).abs() < SAME_PLACE || (f.to - at).abs() < SAME_PLACE;
    row.figures.iter().filter(ends).any(|f| f.fixes.reaches_a_centre())
}

/// A corner this near an extension line lies on it, mm.
const IN_LINE: f64 = 0.1;

/// Half the least distance of two lines, mm (ISO 128-2): nearer, they are one.
const ONE_LINE: f64 = 0.35;

/// Whether a piece lies along one that is seen.
fn under(scene: &Scene<'_>, piece: &Piece) -> bool {
    let mut near = Vec::new();
    scene.near(kurbo::Rect::from_points(piece.a, piece.b), &mut near);
    near.iter().filter_map(|n| scene.pieces.get(*n as usize)).any(|other| {
        let close = |p| super::heads::distance(other.line(), p) < ONE_LINE;
        scene.mark(other.mark).role == Role::Outline && close(piece.a) && close(piece.b)
    })
}

/// No extension line is longer, mm.
const LONGEST: f64 = 120.0;

/// Widest break of an extension line at a figure, mm.
const BREAK: f64 = 14.0;

/// Where the extension line of a place begins, across the row: from the row it
/// runs to the view, broken at figures perhaps, and only a little way beyond.
pub(super) fn foot(scene: &Scene<'_>, row: &Row<'_>, stop: f64) -> Option<f64> {
    let mut near = Vec::new();
    let here = kurbo::Rect::from_points(row.point(stop), row.point(stop));
    let strip = if row.upright { here.inflate(LONGEST, 0.5) } else { here.inflate(0.5, LONGEST) };
    scene.near(strip, &mut near);
    let stretches: Vec<(f64, f64)> = near
        .iter()
        .filter_map(|n| scene.pieces.get(*n as usize))
        .filter(|piece| {
            let mark = scene.mark(piece.mark);
            mark.role == Role::Extension && mark.shows.part == row.part && mark.shows.view == row.view
        })
        .filter_map(|piece| {
            let [(along, a), (other, b)] =
                [piece.a, piece.b].map(|p| if row.upright { (p.y, p.x) } else { (p.x, p.y) });
            let own = (along - stop).abs() < SAME_PLACE && (other - stop).abs() < SAME_PLACE;
            own.then_some((a.min(b), a.max(b)))
        })
        .collect();
    let (mut low, mut high) = (row.at, row.at);
    while let Some((a, b)) = stretches
        .iter()
        .find(|(a, b)| *a < high + BREAK && *b > low - BREAK && (*a < low - HAIR || *b > high + HAIR))
    {
        (low, high) = (low.min(*a), high.max(*b));
    }
    let far = if row.at - low > high - row.at { low } else { high };
    ((far - row.at).abs() > SAME_PLACE).then_some(far)
}
