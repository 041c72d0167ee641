//! Rules for lines.

use std::collections::BTreeSet;

use kurbo::{Point, Rect};

use super::finding::Add;
use super::scene::{Piece, Scene, describe};
use crate::geometry::tolerance::NOISE;
use crate::paper::merge::{self, LEAST_GAP, SAME};
use crate::paper::{Mark, Role};

/// So much touch is no crossing, and lines so near lie on one another, mm.
const TOUCH: f64 = 0.1;
/// The limits themselves are kept; rounding may go this much below them, mm.
const ROUNDING: f64 = 0.05;
const GAP_ROUNDING: f64 = 0.01;

/// D05: a dimension line crosses another.
pub(super) fn crossing_dimensions(scene: &Scene<'_>, add: &mut Add<'_>) {
    let lines: Vec<&Piece> =
        scene.pieces.iter().filter(|p| scene.mark(p.mark).role == Role::Dimension).collect();
    for (i, a) in lines.iter().enumerate() {
        for b in &lines[i + 1..] {
            let same = scene.mark(a.mark).shows.dimension == scene.mark(b.mark).shows.dimension;
            if !same && let Some(at) = crossing(a, b) {
                add("D05", at, "two dimension lines cross".into());
            }
        }
    }
}

/// Where two pieces cross well inside both.
pub(super) fn crossing(a: &Piece, b: &Piece) -> Option<Point> {
    let (d, e) = (a.b - a.a, b.b - b.a);
    let cross = d.cross(e);
    if cross.abs() < NOISE {
        return None;
    }
    let off = b.a - a.a;
    let (t, s) = (off.cross(e) / cross, off.cross(d) / cross);
    let (dt, ds) = (TOUCH / d.hypot().max(TOUCH), TOUCH / e.hypot().max(TOUCH));
    (t > dt && t < 1.0 - dt && s > ds && s < 1.0 - ds).then(|| a.a + d * t)
}

/// D08: two dimension lines side by side, nearer than twice their text height.
pub(super) fn stacked_too_close(scene: &Scene<'_>, add: &mut Add<'_>) {
    let figures = scene.words.iter().filter(|w| scene.mark(w.mark).role == Role::DimensionText);
    let Some(height) = figures.map(|w| w.text.height).reduce(f64::min) else { return };
    let least = 2.0 * height;
    let lines: Vec<&Piece> =
        scene.pieces.iter().filter(|p| scene.mark(p.mark).role == Role::Dimension).collect();
    for (i, a) in lines.iter().enumerate() {
        for b in &lines[i + 1..] {
            let same = scene.mark(a.mark).shows.dimension == scene.mark(b.mark).shows.dimension;
            // On one line is a chain, and the limit itself is kept.
            if !same
                && let Some((gap, at)) = beside(a, b)
                && gap > TOUCH
                && gap < least - ROUNDING
            {
                let message = format!("two dimension lines are {gap:.1} mm apart, the least is {least:.1}");
                add("D08", at, message);
            }
        }
    }
}

/// Distance of two parallel pieces that run beside one another for more than
/// a millimetre, and where.
pub(super) fn beside(a: &Piece, b: &Piece) -> Option<(f64, Point)> {
    let near = merge::beside(a.line(), b.line()).filter(|n| n.to - n.from > 1.0)?;
    let dir = (a.b - a.a).normalize();
    Some((near.gap, a.a + dir * f64::midpoint(near.from, near.to)))
}

/// Lines of wood that count for nearness.
fn is_wood(role: Role) -> bool {
    matches!(role, Role::Outline | Role::CutOutline)
}

/// Whether two lines outline different cut parts. Where those touch they share
/// a line, and where a joint has play their lines print as one; each outline is
/// whole all the same, for the hatch it bounds.
fn touching(scene: &Scene<'_>, a: usize, b: usize) -> bool {
    let (a, b): (&Mark, &Mark) = (scene.mark(a), scene.mark(b));
    a.role == Role::CutOutline && b.role == Role::CutOutline && a.shows.part != b.shows.part
}

/// The same line drawn twice.
pub(super) fn drawn_twice(scene: &Scene<'_>, add: &mut Add<'_>) {
    parallel(scene, 0.0, SAME, &mut |a, b, at| {
        if a != b && !touching(scene, a, b) {
            add("twice", at, format!("{} is drawn twice", describe(scene.mark(a))));
        }
    });
}

/// D18: two lines of wood so close that they print as one.
pub(super) fn too_close(scene: &Scene<'_>, add: &mut Add<'_>) {
    parallel(scene, SAME, LEAST_GAP - GAP_ROUNDING, &mut |a, b, at| {
        // Parts of one number, such as the fronts of two drawers, are marks of
        // their own.
        let both_cut = [a, b].iter().all(|i| scene.mark(*i).role == Role::CutOutline);
        if a != b && both_cut {
            return;
        }
        add(
            "D18",
            at,
            format!(
                "{} and {} run closer than {LEAST_GAP} mm",
                describe(scene.mark(a)),
                describe(scene.mark(b))
            ),
        );
    });
}

/// Calls `found` for pairs of parallel straight lines of wood whose distance
/// lies between `from` and `to` over more than a millimetre; once for each
/// pair of marks.
fn parallel(scene: &Scene<'_>, from: f64, to: f64, found: &mut dyn FnMut(usize, usize, Point)) {
    let mut near = Vec::new();
    let mut said: BTreeSet<(usize, usize)> = BTreeSet::new();
    for (i, a) in (0_u32..).zip(&scene.pieces) {
        let long = (a.b - a.a).hypot();
        if long < 1.0 || !is_wood(scene.mark(a.mark).role) {
            continue;
        }
        scene.near(Rect::from_points(a.a, a.b).inflate(to, to), &mut near);
        for &j in near.iter().filter(|j| **j > i) {
            let b = scene.pieces[j as usize];
            if (b.b - b.a).hypot() < 1.0 || !is_wood(scene.mark(b.mark).role) {
                continue;
            }
            let pair = (a.mark.min(b.mark), a.mark.max(b.mark));
            if let Some((gap, at)) = beside(a, &b)
                && (from..to).contains(&gap)
                && said.insert(pair)
            {
                found(pair.0, pair.1, at);
            }
        }
    }
}
