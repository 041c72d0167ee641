//! Which sizes the general arrangement carries: overall, and the clear openings
//! between the main members.

use crate::drawing::kit::dimension::figure::Figure;
use crate::drawing::kit::dimension::{Beside, Form, Sizes, Stop};
use crate::drawing::kit::project::{OnSheet, bounds};
use crate::drawing::page::look::Look;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{PartSource, WorkedJob, WorkedPart};
use crate::model::PieceId;
use crate::paper::{Fixes, Text};

/// Most length of figures for the length of their row on the general
/// arrangement: a few may stand staggered.
const MOST: f64 = 1.25;
/// White between two figures of a row, mm.
const CLEAR: f64 = 2.0;

/// Nearer than this two places are one, mm: far less than any gap that is made.
const SAME: f64 = 0.05;
/// A member is narrower along an axis than this share of its length the other way, and
/// longer there than this share of the piece: rails and shelves, no blocks.
const SLENDER: f64 = 0.3;
const LONG: f64 = 0.3;
/// A back covers more than this share of the front view each way, and is thinner than
/// this share of its sides.
const COVERS: f64 = 0.6;
const PANEL: f64 = 0.1;

/// Places of the main members along an axis, mm, rising and apart.
pub(in crate::drawing) fn members(
    worked: &WorkedJob,
    piece: PieceId,
    axis: usize,
    other: usize,
) -> Vec<(f64, f64)> {
    let of_piece = || worked.parts.iter().filter(|part| part.piece == piece);
    let Some((low, high)) = bounds(of_piece()) else { return Vec::new() };
    let whole = high - low;
    let back = back(of_piece(), (low, high));
    let mut found: Vec<(f64, f64)> = Vec::new();
    for part in of_piece().filter(|part| matches!(part.source, PartSource::Part(_))) {
        let Some((a, b)) = bounds(std::iter::once(part)) else { continue };
        let size = b - a;
        // What stands behind the back, as a hanging rail, clears nothing.
        if back.is_some_and(|back| a.y > back - SAME) {
            continue;
        }
        // A member stands across the axis: narrow along it, long the other way.
        if size[axis] < SLENDER * size[other] && size[other] > LONG * whole[other] {
            found.push((a[axis], b[axis]));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut apart: Vec<(f64, f64)> = Vec::new();
    for (a, b) in found {
        match apart.last_mut() {
            Some(last) if a <= last.1 + SAME => last.1 = last.1.max(b),
            _ => apart.push((a, b)),
        }
    }
    apart
}

/// How far back the back of a case reaches: of the panels square to the line of
/// sight in the rear half that cover most of the front view, the foremost.
fn back<'a>(parts: impl Iterator<Item = &'a WorkedPart>, (low, high): (DVec3, DVec3)) -> Option<f64> {
    let whole = high - low;
    parts
        .filter_map(|part| bounds(std::iter::once(part)))
        .filter(|(a, b)| {
            let size = *b - *a;
            let covers = size.x > COVERS * whole.x && size.z > COVERS * whole.z;
            covers && size.y < PANEL * size.x.min(size.z) && a.y > low.y + 0.5 * whole.y
        })
        .map(|(_, b)| b.y)
        .min_by(f64::total_cmp)
}

/// A row of the clear openings between members along `axis` of a view that
/// shows it along or across the sheet; `None` if there are fewer than two.
pub(in crate::drawing) fn openings(
    members: &[(f64, f64)],
    side: Beside,
    view: kurbo::Rect,
    to_sheet: impl Fn(f64) -> f64,
    look: &Look,
) -> Option<Sizes> {
    let mut stops: Vec<(f64, Option<Figure>)> = Vec::new();
    for pair in members.windows(2) {
        let (from, to) = (pair[0].1, pair[1].0);
        stops.push((to_sheet(from), Some(Figure::length(look, to - from, Fixes::Nothing))));
        stops.push((to_sheet(to), None));
    }
    if stops.is_empty() {
        return None;
    }
    // Sheet y runs down, so a row along z comes out falling.
    let falling = stops.first().map(|s| s.0) > stops.last().map(|s| s.0);
    let (places, mut figures): (Vec<f64>, Vec<Option<Figure>>) = stops.into_iter().unzip();
    figures.pop();
    let mut places = places;
    if falling {
        places.reverse();
        figures.reverse();
    }
    let stops = places.into_iter().map(|at| stop(at, side, view)).collect();
    Some(Sizes { side, stops, figures, form: Form::Chain, outermost: false })
}

/// Whether the figures of the openings between members, set side by side, are
/// longer than `share` of `length`, the length of their row on the sheet, mm.
pub(in crate::drawing) fn crowded(members: &[(f64, f64)], length: f64, share: f64, look: &Look) -> bool {
    let width = |pair: &[(f64, f64)]| {
        let runs = Figure::length(look, pair[1].0 - pair[0].1, Fixes::Nothing).runs;
        Text::new(kurbo::Point::ZERO, runs, look.text()).width() + CLEAR
    };
    members.windows(2).map(width).sum::<f64>() > share * length
}

/// An overall size.
pub(in crate::drawing) fn overall(side: Beside, view: kurbo::Rect, value: f64, look: &Look) -> Sizes {
    let (a, b) = if side.across() { (view.x0, view.x1) } else { (view.y0, view.y1) };
    Sizes {
        side,
        stops: vec![stop(a, side, view), stop(b, side, view)],
        figures: vec![Some(Figure::overall(look, value))],
        form: Form::Chain,
        outermost: true,
    }
}

fn stop(at: f64, side: Beside, view: kurbo::Rect) -> Stop {
    Stop { at, foot: side.border(view) }
}

/// Whether a front view `width` mm wide on the sheet is too narrow for the row of
/// its openings, even staggered.
pub(in crate::drawing) fn front_crowded(worked: &WorkedJob, piece: PieceId, width: f64, look: &Look) -> bool {
    crowded(&members(worked, piece, 0, 2), width, MOST, look)
}

/// Rows of sizes of a front view: openings and overall above and at the left.
pub(in crate::drawing) fn front(
    worked: &WorkedJob,
    piece: PieceId,
    on: OnSheet,
    view: kurbo::Rect,
    look: &Look,
) -> Vec<Sizes> {
    let Some((low, high)) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else {
        return Vec::new();
    };
    let size: DVec3 = high - low;
    let across = members(worked, piece, 0, 2);
    let up = members(worked, piece, 2, 0);
    let x = |at: f64| on.point(DVec2::new(at, 0.0)).x;
    let z = |at: f64| on.point(DVec2::new(0.0, at)).y;
    let mut rows: Vec<Sizes> = Vec::new();
    if !crowded(&across, view.width(), MOST, look) {
        rows.extend(openings(&across, Beside::Above, view, x, look));
    }
    rows.push(overall(Beside::Above, view, size.x, look));
    rows.extend(openings(&up, Beside::Left, view, z, look));
    rows.push(overall(Beside::Left, view, size.z, look));
    rows
}
