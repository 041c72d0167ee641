//! What the outlines of the views leave out: sizes and swing of doors and drawer fronts,
//! and what the sides hide.

use kurbo::{BezPath, Point, Rect};

use super::arrangement::Shown;
use super::gaps::gaps;
use super::sizes::is_member;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::project::{OnSheet, bounds, extent};
use crate::drawing::kit::words::{length_text, stacked};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{PartSource, WorkedPart};
use crate::measure::Unit;
use crate::paper::{Anchor, Mark, Pen, Role, Shows, dash, lettering};
use crate::solid::{Camera, ViewLine, Viewed};

/// Base line to base line of what is written on a front, in text heights, and the same with
/// stacked fractions.
const PITCH: f64 = 1.6;
const FRACTIONS: f64 = 2.2;
/// White round the size of a front, mm.
const ROUND: f64 = 0.8;
/// White it keeps to the edges of its front, mm.
const WITHIN: f64 = 1.5;
/// Lines nearer than this run into one another on paper, mm (ISO 128 teaching: 0.7).
const NEAR: f64 = 0.75;
/// A top covers more than this share of the plan, and is thinner than this share of its
/// sides.
const COVERS: f64 = 0.7;
const FLAT: f64 = 0.2;
/// From a plan up to the words over it, mm.
const OVER: f64 = 1.5;
/// How much farther off each step looks for a place for them, mm, and how many there are.
const STEP: f64 = 2.0;
const STEPS: u8 = 8;
/// How far letters hang under the line, in their height.
const HANGS: f64 = 0.3;
/// Shorter bits of a dashed line are not drawn, mm.
const SHORT: f64 = 1.5;
/// Thinner than this on paper nothing hidden is shown by two lines, mm.
const THIN: f64 = 1.0;

/// Which fronts open how in a front view, each with its width and height and the gaps round
/// it, as far as they have room there.
pub(super) fn fronts_told(plate: &mut Plate, shown: &Shown<'_>, (camera, on): (Camera, OnSheet)) {
    let Shown { worked, piece, look, moving, .. } = *shown;
    for one in moving {
        let Some((rect, [wide, high])) = one.front(camera, on) else { continue };
        one.way(plate, camera, on, rect);
        let size = format!("{} × {}", length_text(look, wide), length_text(look, high));
        let own = worked.parts.iter().filter(|part| part.piece == piece);
        let gaps = gaps(one, own, look);
        let all: Vec<String> = std::iter::once(size.clone()).chain(gaps).collect();
        if !written_on(plate, rect, &all, look) {
            written_on(plate, rect, &[size], look);
        }
    }
}

/// Writes lines in the middle of a front on the sheet; says whether they have room.
fn written_on(plate: &mut Plate, rect: Rect, lines: &[String], look: &Look) -> bool {
    let how = Lettering { anchor: Anchor::Middle, ..Lettering::note(look.small()).role(Role::DimensionText) };
    let shows = Shows { view: 1, ..Shows::default() };
    let from = plate.marks.len();
    let pitch = how.height * if look.unit == Unit::Inch { FRACTIONS } else { PITCH };
    let top = rect.center().y - pitch * (lines.len().saturating_sub(1)) as f64 / 2.0;
    for (i, line) in lines.iter().enumerate() {
        let foot = Point::new(rect.center().x, top + how.height / 2.0 + pitch * i as f64);
        plate.runs_of(foot, stacked(line), how.role(Role::Note), shows.clone());
    }
    // As high as it stands: a fraction reaches over and under the figures beside it.
    let written = plate.marks.iter().skip(from).map(Mark::bounds).reduce(|a, b| a.union(b));
    let Some(behind) = written else { return true };
    if behind.width() + 2.0 * WITHIN > rect.width() || behind.height() + 2.0 * WITHIN > rect.height() {
        plate.marks.truncate(from);
        return false;
    }
    plate.marks.insert(from, Mark::mask(behind.inflate(ROUND, ROUND)));
    true
}

/// Shelves, cleats and rails that the side hides, dashed by their boxes.
pub(super) fn hidden(
    plate: &mut Plate,
    shown: &Shown<'_>,
    (camera, on): (Camera, OnSheet),
    lines: &[ViewLine],
) {
    let mut drawn = on_paper(lines, on);
    let is_seen = |tag: usize| lines.iter().any(|l| l.tag == tag && !l.kind.is_hidden());
    let within: Vec<(usize, &WorkedPart)> = shown
        .items
        .iter()
        .map(|item| item.tag)
        .filter(|tag| !is_seen(*tag))
        .filter_map(|tag| Some((tag, shown.worked.parts.get(tag)?)))
        .filter(|(_, part)| is_member(part, (2, 0)))
        .collect();
    for (_, part) in within {
        let Some((low, high)) = bounds(std::iter::once(part)) else { continue };
        let (a, b) = extent(camera, low, high);
        let rect = on.rect(a, b);
        if rect.width().min(rect.height()) < THIN {
            continue;
        }
        let path = beside_what_is_drawn(rect, &mut drawn);
        if !path.elements().is_empty() {
            let shows = Shows { view: 2, part: part.mark(), ..Shows::default() };
            plate.stroke_of(path, Pen { width: plate.narrow, dash: dash::HIDDEN }, Role::Hidden, shows);
        }
    }
}

/// The lines seen, on paper.
fn on_paper(lines: &[ViewLine], on: OnSheet) -> Vec<(Point, Point)> {
    lines.iter().filter(|l| !l.kind.is_hidden()).map(|l| (on.point(l.a), on.point(l.b))).collect()
}

/// The sides of a box as far as no line is drawn there, which then are.
fn beside_what_is_drawn(rect: Rect, drawn: &mut Vec<(Point, Point)>) -> BezPath {
    let corners =
        [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)].map(Point::from);
    let mut path = BezPath::new();
    for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let left = drawn.iter().fold(vec![(*from, *to)], |left, other| {
            left.into_iter().flat_map(|line| without(line, *other)).collect()
        });
        for (from, to) in left {
            path.move_to(from);
            path.line_to(to);
        }
        drawn.push((*from, *to));
    }
    path
}

/// A plan without the top that would hide all else: what is left, and the box of the top.
pub(super) struct Uncovered<'a> {
    pub(super) items: Vec<Viewed<'a>>,
    top: (DVec3, DVec3),
}

impl<'a> Uncovered<'a> {
    /// That of a piece whose uppermost board covers nearly all of it; none for others, nor
    /// where nothing stands under it: a board with its ends is no top. What is glued to the
    /// edges of the top goes with it.
    pub(super) fn of(shown: &Shown<'a>) -> Option<Self> {
        let (low, high) = shown.corners;
        let whole = high - low;
        let parts = &shown.worked.parts;
        let lies = |tag: usize| {
            let (a, b) = bounds(std::iter::once(parts.get(tag)?))?;
            let size = b - a;
            let covers = size.x * size.y > COVERS * whole.x * whole.y && size.z < size.x.min(size.y) * FLAT;
            (covers && b.z > high.z - HAIR).then_some((a, b))
        };
        let (top, corners) = shown.items.iter().find_map(|item| Some((item.tag, lies(item.tag)?)))?;
        let goes = |tag: usize| match parts.get(tag).map(|part| &part.source) {
            Some(PartSource::Lipping { of, .. }) => *of == top,
            _ => tag == top,
        };
        let items: Vec<Viewed<'a>> = shown.items.iter().filter(|item| !goes(item.tag)).copied().collect();
        let under = |item: &Viewed<'_>| {
            let stands = parts.get(item.tag).and_then(|part| bounds(std::iter::once(part)));
            stands.is_some_and(|(low, _)| low.z < corners.0.z - HAIR)
        };
        items.iter().any(under).then_some(Self { items, top: corners })
    }

    /// Draws where the top was.
    pub(super) fn outline(&self, plate: &mut Plate, (camera, on): (Camera, OnSheet), lines: &[ViewLine]) {
        let (a, b) = extent(camera, self.top.0, self.top.1);
        let rect = on.rect(a, b);
        let path = beside_what_is_drawn(rect, &mut on_paper(lines, on));
        if !path.elements().is_empty() {
            plate.stroke(path, Pen { width: plate.narrow, dash: dash::PHANTOM }, Role::Phantom);
        }
    }
}

/// Says that a plan is drawn without its top, over it or below it where nothing stands.
pub(super) fn top_not_drawn(plate: &mut Plate, plan: Rect, look: &Look) {
    // The top's edge is drawn in chain line: the words say why it is empty.
    let words = "Seen without the top";
    let how = Lettering::note(look.small());
    let wide = lettering::width(words, how.height, how.weight);
    let mut white = White::new(look.room().space);
    white.ink(&plate.marks);
    let left = |y: f64| Point::new(plan.x0, y);
    let right = |y: f64| Point::new(plan.x1 - wide, y);
    let over = |step: u8| plan.y0 - OVER - STEP * f64::from(step);
    let under = |step: u8| plan.y1 + OVER + how.height + STEP * f64::from(step);
    let beside = |step: u8| Point::new(plan.x1 + STEP, plan.y0 + how.height + STEP * f64::from(step));
    let middle = |y: f64| Point::new(plan.center().x - wide / 2.0, y);
    let near = |n: u8| [left(over(n)), right(over(n)), left(under(n)), right(under(n)), beside(n)];
    let places = (0..STEPS).flat_map(near);
    let places = places.chain((0..STEPS).flat_map(|n| [middle(over(n)), middle(under(n))]));
    let free = |foot: &Point| {
        // Some letters hang under the line.
        let text = Rect::new(foot.x, foot.y - how.height, foot.x + wide, foot.y + HANGS * how.height);
        white.free(text.inflate(ROUND, 0.0))
    };
    let foot = places.into_iter().find(free).unwrap_or(left(over(0)));
    plate.text(foot, words, how);
}

/// What of a level or upright line is left beside another that runs along it, so near that
/// both are one on paper.
fn without(line: (Point, Point), other: (Point, Point)) -> Vec<(Point, Point)> {
    // Both turned so that the line is level.
    let upright = (line.0.x - line.1.x).abs() < HAIR;
    let flat = |p: Point| if upright { Point::new(p.y, p.x) } else { p };
    let (a, b) = (flat(line.0), flat(line.1));
    let (c, d) = (flat(other.0), flat(other.1));
    if (c.y - d.y).abs() > HAIR || (a.y - c.y).abs() > NEAR {
        return vec![line];
    }
    let (low, high) = (a.x.min(b.x), a.x.max(b.x));
    let (from, to) = (c.x.min(d.x), c.x.max(d.x));
    let pieces = [(low, high.min(from)), (low.max(to), high)];
    let left = pieces.into_iter().filter(|(from, to)| to - from > SHORT);
    left.map(|(from, to)| (flat(Point::new(from, a.y)), flat(Point::new(to, a.y)))).collect()
}
