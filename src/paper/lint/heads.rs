//! Rules for the ends of lines: arrow heads, dots and leaders.

use kurbo::{Point, Shape, Vec2};

use super::finding::Add;
use super::rows::{Row, SAME_PLACE, Stop, head};
use super::scene::{Piece, Scene};
use crate::geometry::tolerance::NOTHING;
use crate::geometry::trig;
use crate::paper::{Ink, Role};

/// Under this length arrow heads stand outside, mm (ISO teaching).
const SHORT: f64 = 10.0;

/// A figure belongs to a stretch where both its ends together differ by less, mm.
const SAME_ENDS: f64 = 0.06;
/// The limit itself is kept; rounding may go this much below it, mm and degrees.
const ROUNDING: f64 = 0.01;
const LEAN_ROUNDING: f64 = 0.1;
/// Shorter bits of hatching are not taken for a leader, mm.
const SPECK: f64 = 3.0;
/// A leader runs along a line of hatching where they turn by less than this, degrees,
/// and lie nearer than this, mm.
const ALIKE: f64 = 3.0;
const BESIDE: f64 = 2.5;
/// A line ends on another that is this near, mm.
const TOUCH: f64 = 0.1;

/// D11: heads inside a stretch shorter than 10 mm; a head between two such
/// stretches, where a dot belongs; a place without either.
pub(super) fn inside_short(rows: &[Row<'_>], add: &mut Add<'_>) {
    for row in rows.iter().filter(|row| row.origin.is_none()) {
        for pair in row.stops.windows(2) {
            let [a, b] = pair else { continue };
            let figured = row.figures.iter().any(|f| (f.from - a.at).abs() + (f.to - b.at).abs() < SAME_ENDS);
            let inside = a.heads.contains(&-1.0) || b.heads.contains(&1.0);
            if figured && inside && b.at - a.at < SHORT - ROUNDING {
                let message = format!("arrow heads stand inside {:.1} mm", b.at - a.at);
                add("D11", row.point(a.at), message);
            }
        }
        if row.stops.iter().any(|s| s.heads.is_empty() && !s.dot) {
            add("D11", row.point(row.reach().0), "a row of sizes has a place without a head".into());
        }
        let short = |from: f64, to: f64| {
            to - from < SHORT - ROUNDING
                && row.figures.iter().any(|f| (f.from - from).abs() + (f.to - to).abs() < SAME_ENDS)
        };
        for triple in row.stops.windows(3) {
            let [a, b, c] = triple else { continue };
            if short(a.at, b.at) && short(b.at, c.at) && !b.dot {
                add("D11", row.point(b.at), "a head stands between two short sizes, not a dot".into());
            }
        }
    }
}

/// Leaders less off level, upright or the hatching than this are mistaken for
/// other lines, degrees (from memory).
const LEAN: f64 = 15.0;
/// How near a head or dot must be to the end of its leader, mm.
const END: f64 = 0.6;

/// D16: leaders end in a head or a dot, lean 15 degrees off level and upright,
/// and do not run along the hatching they cross.
pub(super) fn leaders(scene: &Scene<'_>, add: &mut Add<'_>) {
    let ends: Vec<Point> =
        scene.sheet.marks.iter().filter(|m| m.role == Role::Arrow).filter_map(tip).collect();
    let mut near = Vec::new();
    for piece in scene.pieces.iter().filter(|p| scene.mark(p.mark).role == Role::Leader) {
        let run = piece.b - piece.a;
        // From a dimension line to a figure that found no room on it.
        if from_dimension(scene, piece) {
            continue;
        }
        let ended = ends.iter().any(|end| end.distance(piece.a).min(end.distance(piece.b)) < END);
        if !ended {
            // The landing of a note goes on from its leader.
            if !joins(scene, piece, &ends) {
                add("D16", piece.a, "a leader ends in neither head nor dot".into());
            }
            continue;
        }
        // Numbers point with dots, straight over where they can.
        let to_head = ends_in_head(scene, piece);
        let lean = off_axes(run);
        if to_head && lean < LEAN - LEAN_ROUNDING {
            add("D16", piece.b, format!("a leader runs {lean:.0}° off level or upright"));
        }
        scene.near(kurbo::Rect::from_points(piece.a, piece.b), &mut near);
        let along = near.iter().filter_map(|n| scene.pieces.get(*n as usize)).any(|other| {
            let way = other.b - other.a;
            let hatch = scene.mark(other.mark).role == Role::Hatch && way.hypot() > SPECK;
            hatch && between(run, way) < ALIKE && apart(piece, other) < BESIDE
        });
        if to_head && along {
            add("D16", piece.b, "a leader runs along the hatching".into());
        }
    }
}

/// The tip of a head or the middle of a dot.
fn tip(mark: &crate::paper::Mark) -> Option<Point> {
    match &mark.ink {
        Ink::Fill { path, .. } if mark.is_finite() => {
            Some(head(path).map_or_else(|| path.bounding_box().center(), |(tip, _)| tip))
        }
        Ink::Fill { .. } | Ink::Stroke { .. } | Ink::Text(_) => None,
    }
}

/// Whether an end of a leader is the tip of a head.
fn ends_in_head(scene: &Scene<'_>, piece: &Piece) -> bool {
    let at = |p: Point| p.distance(piece.a).min(p.distance(piece.b)) < END;
    scene.sheet.marks.iter().filter(|m| m.role == Role::Arrow && m.is_finite()).any(|m| match &m.ink {
        Ink::Fill { path, .. } => head(path).is_some_and(|(tip, _)| at(tip)),
        Ink::Stroke { .. } | Ink::Text(_) => false,
    })
}

/// Whether a piece goes on from a leader that is ended.
fn joins(scene: &Scene<'_>, piece: &Piece, ends: &[Point]) -> bool {
    scene.pieces.iter().any(|other| {
        let ended = || ends.iter().any(|end| end.distance(other.a).min(end.distance(other.b)) < END);
        scene.mark(other.mark).role == Role::Leader && ended() && touches(piece, other)
    })
}

/// Whether a leader leaves a dimension line: nothing ends it there (ISO 129-1).
fn from_dimension(scene: &Scene<'_>, piece: &Piece) -> bool {
    scene.pieces.iter().any(|o| scene.mark(o.mark).role == Role::Dimension && touches(piece, o))
}

/// Whether a piece ends on another.
fn touches(piece: &Piece, other: &Piece) -> bool {
    [piece.a, piece.b].into_iter().any(|p| distance(other.line(), p) < TOUCH)
}

/// Distance of a point from a stretch.
pub(super) fn distance(line: kurbo::Line, p: Point) -> f64 {
    let run = line.p1 - line.p0;
    let t = ((p - line.p0).dot(run) / run.hypot2().max(NOTHING)).clamp(0.0, 1.0);
    (line.p0 + run * t).distance(p)
}

/// Least distance of two stretches' ends from one another.
fn apart(a: &Piece, b: &Piece) -> f64 {
    let (la, lb) = (a.line(), b.line());
    distance(la, b.a).min(distance(la, b.b)).min(distance(lb, a.a)).min(distance(lb, a.b))
}

/// Degrees between a direction and the nearer of level and upright.
fn off_axes(run: Vec2) -> f64 {
    trig::atan2(run.x.abs().min(run.y.abs()), run.x.abs().max(run.y.abs())).to_degrees()
}

/// Degrees between two lines.
fn between(a: Vec2, b: Vec2) -> f64 {
    trig::atan2(a.cross(b).abs(), a.dot(b).abs()).to_degrees()
}

/// D25: between two arrow heads that face away from one another inside a row stands a figure,
/// and in any longer span that a head stands in: a span with arrows and none asks the maker to
/// work it out.
pub(super) fn without_a_figure(rows: &[Row<'_>], add: &mut Add<'_>) {
    for row in rows.iter().filter(|row| row.origin.is_none()) {
        let told = |from: &Stop, to: &Stop| {
            row.figures.iter().any(|figure| {
                (figure.from - from.at).abs() < SAME_PLACE && (figure.to - to.at).abs() < SAME_PLACE
            })
        };
        let points = |stop: &Stop, way: f64| stop.heads.iter().any(|head| head * way > 0.0);
        for (i, pair) in row.stops.windows(2).enumerate() {
            let [from, to] = pair else { continue };
            // Heads outside a short size beside it are that one's.
            let before = i.checked_sub(1).and_then(|i| row.stops.get(i));
            let of_before = before.is_some_and(|stop| told(stop, from) && points(stop, 1.0));
            let of_after = row.stops.get(i + 2).is_some_and(|stop| told(to, stop) && points(stop, -1.0));
            let (first, last) = (points(from, -1.0), points(to, 1.0));
            let within = first && last && !of_before && !of_after;
            // In a short span heads are read as those of its neighbours.
            let long = to.at - from.at >= SHORT - ROUNDING && (first || last);
            if (within || long) && !told(from, to) {
                let middle = row.point(f64::midpoint(from.at, to.at));
                add("D25", middle, "a span between two arrows has no figure".into());
            }
        }
    }
}
