//! Rules for rows beside one another: crossings and stacked figures.

use super::finding::Add;
use super::hidden;
use super::rows::{Row, SAME_PLACE};
use super::scene::Scene;
use crate::paper::Role;

/// Rows farther apart than this do not belong to one stack, mm: the widest step
/// between bands, with lifted or upright figures between.
const STACK: f64 = 40.0;

/// How far inside a line a place must be for another to cross it there, mm.
const WITHIN: f64 = 0.2;
/// Rows of one stack are no farther apart, mm.
const NEIGHBOURS: f64 = 12.0;
/// What the heads of a size take of its length, mm.
const HEADS: f64 = 4.0;
/// A figure stands aside when it has moved by this share of its width.
const ASIDE: f64 = 1.2;

/// D06: extension lines cross a dimension line where they would not if the two
/// rows changed places (ASME Y14.5: shorter sizes inside). Crossings that stay
/// either way are no finding.
pub(super) fn avoidable(scene: &Scene<'_>, rows: &[Row<'_>], add: &mut Add<'_>) {
    for (i, a) in rows.iter().enumerate() {
        for b in &rows[i + 1..] {
            let near = (a.at - b.at).abs();
            if !a.of_one_view(b) || !a.beside(b) || !(1.0..=STACK).contains(&near) {
                continue;
            }
            // What stands between them would have to move as well.
            if rows.iter().any(|c| c.of_one_view(a) && between(c, a, b)) {
                continue;
            }
            for (inner, outer) in [(a, b), (b, a)] {
                if !farther(scene, inner, outer) {
                    continue;
                }
                let now = struck(inner, outer);
                if now > at_most(outer, inner) && passes(scene, inner, outer) {
                    let message =
                        format!("{now} extension lines cross a row of sizes that could stand outside");
                    add("D06", inner.point(inner.reach().0), message);
                }
            }
        }
    }
}

/// Whether a row stands between two others and beside either.
fn between(c: &Row<'_>, a: &Row<'_>, b: &Row<'_>) -> bool {
    let (low, high) = (a.at.min(b.at), a.at.max(b.at));
    (c.beside(a) || c.beside(b)) && c.at > low + SAME_PLACE && c.at < high - SAME_PLACE
}

/// Whether `outer` stands farther from what it measures than `inner` does: a line
/// both share runs through the nearer to the farther.
fn farther(scene: &Scene<'_>, inner: &Row<'_>, outer: &Row<'_>) -> bool {
    let foot = inner.stops.iter().find_map(|stop| hidden::foot(scene, inner, stop.at));
    foot.is_some_and(|foot| (outer.at - inner.at) * (inner.at - foot) > 0.0)
}

/// How many places of `outer` lie inside the line of `inner`, at none of its own.
fn struck(inner: &Row<'_>, outer: &Row<'_>) -> usize {
    let own = |at: f64| inner.stops.iter().any(|s| (s.at - at).abs() < SAME_PLACE);
    let inside = |at: f64| inner.lines.iter().any(|(a, b)| at > a + WITHIN && at < b - WITHIN);
    outer.stops.iter().filter(|s| inside(s.at) && !own(s.at)).count()
}

/// How many extension lines could cross the line of `inner` if it stood inside:
/// where its figures would part it then is not known, so it counts as whole.
fn at_most(inner: &Row<'_>, outer: &Row<'_>) -> usize {
    let own = |at: f64| inner.stops.iter().any(|s| (s.at - at).abs() < SAME_PLACE);
    let ends = inner.lines.iter().fold((f64::MAX, f64::MIN), |(l, h), (a, b)| (l.min(*a), h.max(*b)));
    let inside = |at: f64| at > ends.0 + WITHIN && at < ends.1 - WITHIN;
    outer.stops.iter().filter(|s| inside(s.at) && !own(s.at)).count()
}

/// Whether an extension line of `outer` runs through the line of `inner`.
fn passes(scene: &Scene<'_>, inner: &Row<'_>, outer: &Row<'_>) -> bool {
    let mut near = Vec::new();
    let (low, high) = inner.reach();
    scene.near(kurbo::Rect::from_points(inner.point(low), inner.point(high)), &mut near);
    near.iter().filter_map(|n| scene.pieces.get(*n as usize)).any(|piece| {
        let ((along, a), (_, b)) = if inner.upright {
            ((piece.a.y, piece.a.x), (piece.b.y, piece.b.x))
        } else {
            ((piece.a.x, piece.a.y), (piece.b.x, piece.b.y))
        };
        scene.mark(piece.mark).role == Role::Extension
            && a.min(b) < inner.at - WITHIN
            && a.max(b) > inner.at + WITHIN
            && outer.stops.iter().any(|s| (s.at - along).abs() < SAME_PLACE)
            && !inner.stops.iter().any(|s| (s.at - along).abs() < SAME_PLACE)
            && inner.lines.iter().any(|(l, h)| along > l + WITHIN && along < h - WITHIN)
            // It goes on to the outer row.
            && a.max(b) > outer.at - 0.5
            && a.min(b) < outer.at + 0.5
    })
}

/// Figures of three rows in a stack whose middles are nearer than this share of
/// their width stand over one another.
const OVER: f64 = 0.5;

/// D14: a row on more than one line; the figures of three rows of one stack over
/// one another where the middle one has room to stand aside (ASME Y14.5: figures
/// of parallel sizes are staggered).
pub(super) fn lined_up(rows: &[Row<'_>], add: &mut Add<'_>) {
    for row in rows.iter().filter(|row| !row.straight) {
        add("D14", row.point(row.reach().0), "a row of sizes lies on more than one line".into());
    }
    let mut order: Vec<&Row<'_>> = rows.iter().filter(|r| r.origin.is_none()).collect();
    order.sort_by(|a, b| {
        a.part
            .cmp(b.part)
            .then(a.view.cmp(&b.view))
            .then(a.upright.cmp(&b.upright))
            .then(a.at.total_cmp(&b.at))
    });
    for triple in order.windows(3) {
        let [a, b, c] = triple else { continue };
        let stacked = a.of_one_view(b)
            && b.of_one_view(c)
            && a.beside(b)
            && b.beside(c)
            && (b.at - a.at).max(c.at - b.at) < NEIGHBOURS;
        if !stacked {
            continue;
        }
        let over = |f: &super::rows::Figure<'_>, row: &Row<'_>| {
            row.figures.iter().any(|g| {
                let least = extent(f, b).min(extent(g, row)) * OVER;
                (middle(f, b) - middle(g, row)).abs() < least
            })
        };
        for figure in &b.figures {
            let room = figure.to - figure.from - extent(figure, b) - HEADS;
            let aside = extent(figure, b) * ASIDE;
            if over(figure, a) && over(figure, c) && room > 2.0 * aside {
                let message = format!(
                    "`{}` stands between two figures and could stand aside",
                    figure.words.text.reading()
                );
                add("D14", figure.words.text.at, message);
            }
        }
    }
}

/// Extent of a figure along its row.
fn extent(figure: &super::rows::Figure<'_>, row: &Row<'_>) -> f64 {
    let b = figure.words.bounds;
    if row.upright { b.height() } else { b.width() }
}

/// Middle of a figure along its row.
fn middle(figure: &super::rows::Figure<'_>, row: &Row<'_>) -> f64 {
    let m = figure.words.bounds.center();
    if row.upright { m.y } else { m.x }
}
