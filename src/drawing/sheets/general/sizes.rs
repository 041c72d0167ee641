//! Which sizes the general arrangement carries: overall, and the clear openings
//! between the main members.

use super::heights::{Side, is_square, of_front, of_side};
use crate::drawing::kit::dimension::figure::Figure;
use crate::drawing::kit::dimension::{Beside, Form, Sizes, Stop};
use crate::drawing::kit::opening::Opens;
use crate::drawing::kit::project::{OnSheet, bounds};
use crate::drawing::page::look::Look;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{PartSource, WorkedJob, WorkedPart};
use crate::model::PieceId;
use crate::paper::{Fixes, Text};
use crate::solid::Camera;

/// Most length of figures for the length of their row on the general
/// arrangement: a few may stand staggered.
const MOST: f64 = 1.25;
/// White between two figures of a row, mm.
const CLEAR: f64 = 2.0;

/// Nearer than this two places are one, mm: far less than any gap that is made.
pub(super) const SAME: f64 = 0.05;
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
    apart(members_by(worked, piece, (axis, other), &|_| true))
}

/// Places rising, those that touch as one.
pub(super) fn apart(rising: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let mut apart: Vec<(f64, f64)> = Vec::new();
    for (a, b) in rising {
        match apart.last_mut() {
            Some(last) if a <= last.1 + SAME => last.1 = last.1.max(b),
            _ => apart.push((a, b)),
        }
    }
    apart
}

/// Places of the main members along an axis that stand across it along `other`, mm, rising,
/// each by itself.
pub(super) fn members_by(
    worked: &WorkedJob,
    piece: PieceId,
    (axis, other): (usize, usize),
    wanted: &dyn Fn(&WorkedPart) -> bool,
) -> Vec<(f64, f64)> {
    let of_piece = || worked.parts.iter().filter(|part| part.piece == piece);
    let Some((low, high)) = bounds(of_piece()) else { return Vec::new() };
    let whole = high - low;
    let back = back(of_piece(), (low, high));
    let mut found: Vec<(f64, f64)> = Vec::new();
    for part in of_piece().filter(|part| matches!(part.source, PartSource::Part(_)) && wanted(part)) {
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
    found
}

/// Whether a part stands square across `axis`, narrow along it and long along `other`.
pub(in crate::drawing::sheets) fn is_member(part: &WorkedPart, (axis, other): (usize, usize)) -> bool {
    let Some((a, b)) = bounds(std::iter::once(part)) else { return false };
    let size = b - a;
    let own = matches!(part.source, PartSource::Part(_));
    own && is_square(part) && size[axis] < SLENDER * size[other]
}

/// Whether a part stands square and upright across the width, as the side of a case.
pub(in crate::drawing::sheets) fn is_upright(part: &WorkedPart) -> bool {
    is_member(part, (0, 2)) && is_member(part, (0, 1))
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
    let mut links = Vec::new();
    for pair in members.windows(2) {
        links.push(Link { from: pair[0].1, to: pair[1].0, shown: Shown::Size });
        links.push(Link { from: pair[1].0, to: pair[1].1, shown: Shown::Not });
    }
    links.pop();
    chain(&links, side, view, &to_sheet, look)
}

/// Whether the figure of a link stands there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Shown {
    /// As a size.
    Size,
    /// In brackets: it follows from the others as they are shown, mm, so that they add up.
    Aside(f64),
    /// Not at all.
    Not,
}

impl Shown {
    /// A size where it is wanted.
    pub(super) fn if_wanted(wanted: bool) -> Self {
        if wanted { Self::Size } else { Self::Not }
    }

    /// Whether anything stands there.
    pub(super) fn is_any(self) -> bool {
        self != Self::Not
    }
}

/// A link of a chain of sizes, piece mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Link {
    pub(super) from: f64,
    pub(super) to: f64,
    /// How its figure stands there.
    pub(super) shown: Shown,
}

/// A row of links that follow on one another; `None` without any.
pub(super) fn chain(
    links: &[Link],
    side: Beside,
    view: kurbo::Rect,
    to_sheet: &dyn Fn(f64) -> f64,
    look: &Look,
) -> Option<Sizes> {
    let figure = |link: &Link| {
        let figure = |long: f64| Figure::length(look, long, Fixes::Nothing);
        match link.shown {
            Shown::Size => Some(figure(link.to - link.from)),
            Shown::Aside(rest) => Some(figure(rest).bracketed()),
            Shown::Not => None,
        }
    };
    let last = links.last()?;
    let mut stops: Vec<(f64, Option<Figure>)> =
        links.iter().map(|link| (to_sheet(link.from), figure(link))).collect();
    stops.push((to_sheet(last.to), None));
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

/// Clear between uprights, and how far what lies on them reaches over: on one side only
/// where it is the same on both.
pub(super) fn across_a_view(
    members: &[(f64, f64)],
    (low, high): (f64, f64),
    side: Beside,
    (view, to_sheet, look): (kurbo::Rect, &dyn Fn(f64) -> f64, &Look),
) -> Option<Sizes> {
    let (first, last) = members.first().zip(members.last())?;
    let link = |from, to, shown| Link { from, to, shown };
    let over = (first.0 - low, high - last.1);
    let mut links = Vec::new();
    if over.0 > SAME {
        links.push(link(low, first.0, Shown::Size));
        links.push(link(first.0, first.1, Shown::Not));
    }
    for pair in members.windows(2) {
        links.push(link(pair[0].1, pair[1].0, Shown::Size));
        links.push(link(pair[1].0, pair[1].1, Shown::Not));
    }
    if over.1 > SAME && (over.0 - over.1).abs() > SAME {
        if members.len() < 2 && over.0 <= SAME {
            links.push(link(last.0, last.1, Shown::Not));
        }
        links.push(link(last.1, high, Shown::Size));
    }
    // A row begins and ends with a figure.
    let from = links.iter().position(|link| link.shown.is_any())?;
    let to = links.iter().rposition(|link| link.shown.is_any())?;
    chain(links.get(from..=to)?, side, view, to_sheet, look)
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

/// A piece with what opens in it.
#[derive(Clone, Copy)]
pub(in crate::drawing) struct Measured<'a> {
    pub(in crate::drawing) worked: &'a WorkedJob,
    pub(in crate::drawing) piece: PieceId,
    pub(in crate::drawing) moving: &'a [Opens],
}

impl Measured<'_> {
    /// Its members that stand still: a door is told by its own size.
    fn still(&self, axes: (usize, usize)) -> Vec<(f64, f64)> {
        let fronts = || self.moving.iter().filter(|one| one.is_front(Camera::FRONT));
        let wanted = |part: &WorkedPart| {
            let moves = bounds(std::iter::once(part)).map(|b| fronts().any(|one| one.holds(b)));
            !moves.unwrap_or(false)
        };
        members_by(self.worked, self.piece, axes, &wanted)
    }
}

/// Rows of sizes of a front view: openings and overall above and at the left.
pub(super) fn front(of: Measured<'_>, on: OnSheet, view: kurbo::Rect, look: &Look) -> Vec<Sizes> {
    let Measured { worked, piece, .. } = of;
    let Some((low, high)) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else {
        return Vec::new();
    };
    let size: DVec3 = high - low;
    let across = apart(of.still((0, 2)));
    let x = |at: f64| on.point(DVec2::new(at, 0.0)).x;
    let z = |at: f64| on.point(DVec2::new(0.0, at)).y;
    let mut rows: Vec<Sizes> = Vec::new();
    if !crowded(&across, view.width(), MOST, look) {
        // The box of an upright that leans says nothing of where it stands.
        let leans = worked.parts.iter().any(|part| part.piece == piece && !is_square(part));
        rows.extend(if leans {
            over_tops(worked, piece, 0, (Beside::Above, view), (&x, look))
                .or_else(|| openings(&across, Beside::Above, view, x, look))
        } else {
            across_a_view(&across, (low.x, high.x), Beside::Above, (view, &x, look))
        });
        rows.extend(on_top(worked, piece, 0, (Beside::Above, view), (&x, look)));
    }
    rows.push(overall(Beside::Above, view, size.x, look));
    rows.extend(of_front(of.still((2, 0)), (low.z, high.z), (view, &z, look)));
    rows.push(overall(Beside::Left, view, size.z, look));
    rows
}

/// How wide a piece is over the tops of what leans in it, where that is not its overall size:
/// it is set out by its widths at the top and at the foot.
fn over_tops(
    worked: &WorkedJob,
    piece: PieceId,
    axis: usize,
    (side, view): (Beside, kurbo::Rect),
    (to_sheet, look): (&dyn Fn(f64) -> f64, &Look),
) -> Option<Sizes> {
    let of_piece = || worked.parts.iter().filter(|part| part.piece == piece);
    let (low, high) = bounds(of_piece())?;
    let leaning = || of_piece().filter(|part| !is_square(part));
    let top = bounds(leaning())?.1.z;
    let points = leaning().flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p)));
    let tops = points.filter(|p| p.z > top - SAME).map(|p| p[axis]);
    let (from, to) = tops.fold((f64::MAX, f64::MIN), |(from, to), at| (from.min(at), to.max(at)));
    let narrower = to - from < high[axis] - low[axis] - SAME && to > from + SAME;
    let link = Link { from, to, shown: Shown::Size };
    narrower.then(|| chain(&[link], side, view, to_sheet, look)).flatten()
}

/// How wide what lies on top is, where legs that lean reach out beyond it: the seat or top is
/// what was asked for, and the overall size is that of the feet.
fn on_top(
    worked: &WorkedJob,
    piece: PieceId,
    axis: usize,
    (side, view): (Beside, kurbo::Rect),
    (to_sheet, look): (&dyn Fn(f64) -> f64, &Look),
) -> Option<Sizes> {
    let of_piece = || worked.parts.iter().filter(|part| part.piece == piece);
    let (low, high) = bounds(of_piece())?;
    let lies = |part: &&WorkedPart| {
        let reaches = bounds(std::iter::once(*part)).is_some_and(|b| b.1.z > high.z - SAME);
        reaches && is_square(part) && part.at.z.z.abs() > LIES
    };
    let (under, from, to) = bounds(of_piece().filter(lies)).map(|(a, b)| (a.z, a[axis], b[axis]))?;
    // Nothing beside it reaches as high.
    let below = |part: &WorkedPart| {
        bounds(std::iter::once(part))
            .is_some_and(|(a, b)| b.z < under + SAME || (a[axis] > from - SAME && b[axis] < to + SAME))
    };
    let feet_only = of_piece().all(below) && of_piece().any(|part| !is_square(part));
    let narrower = from > low[axis] + SAME && to < high[axis] - SAME;
    let link = Link { from, to, shown: Shown::Size };
    (narrower && feet_only).then(|| chain(&[link], side, view, to_sheet, look)).flatten()
}

/// Cosine over which the face of a part looks up.
const LIES: f64 = 0.999;

/// Rows of sizes of a side view seen by `camera`: its depth, below where something is put up
/// above it, and what a piece on posts needs.
pub(super) fn side(
    worked: &WorkedJob,
    piece: PieceId,
    (camera, on, view): (Camera, OnSheet, kurbo::Rect),
    across: Beside,
    look: &Look,
) -> Vec<Sizes> {
    let Some((low, high)) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else {
        return Vec::new();
    };
    let y = |at: f64| on.point(camera.project(DVec3::new(0.0, at, 0.0))).x;
    let z = |at: f64| on.point(DVec2::new(0.0, at)).y;
    let mut rows = of_side(worked, piece, (low, high), (view, &Side { across, y: &y, z: &z }, look));
    rows.extend(on_top(worked, piece, 1, (across, view), (&y, look)));
    rows.push(overall(across, view, high.y - low.y, look));
    rows
}
