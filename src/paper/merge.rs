//! Lines of wood that would print as one are drawn as one.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;

use kurbo::{BezPath, Line, PathEl, Point, Rect};

use super::{Ink, Mark, Role, dashes};

/// Slopes this little above the limit are still at it, after rounding.
const ROUNDED: f64 = 1.05;

/// Lines of wood nearer than this run into one when printed, mm (ISO 128, as
/// given in public tables).
pub const LEAST_GAP: f64 = 0.7;

/// Nearer than this two lines are one and the same, mm.
pub(super) const SAME: f64 = 0.05;

/// Lines whose distance changes by less than this along what they share, taken as a
/// millimetre at least, run beside one another, mm. So short facets of a round never
/// do that turn by more than a degree.
const ASKEW: f64 = 0.02;

/// Near one another, lines may part by this and still print as one, mm: a tenth of a
/// wide line.
const PARTING: f64 = 0.06;

/// How one straight line runs beside another.
#[derive(Clone, Copy, Debug)]
pub struct Beside {
    /// Distance half way along the stretch they share, mm.
    pub gap: f64,
    /// Where the stretch begins, mm along the first line.
    pub from: f64,
    /// Where it ends; more than `from`.
    pub to: f64,
}

/// The stretch of `a` that the parallel line `b` runs beside; `None` if they
/// are not parallel or stand clear of one another end to end.
///
/// Whether they are is judged by the stretch alone: a line that leaves another
/// only far past its end prints as one with it, whichever of them is the longer.
pub(super) fn beside(a: Line, b: Line) -> Option<Beside> {
    along(a, b).filter(|(near, slope)| (near.to - near.from).max(1.0) * slope <= ASKEW).map(|(near, _)| near)
}

/// The stretch of `a` that `b` runs so near that both print as one.
///
/// Lines that part a little more than those that count as parallel are among them,
/// so that a drawing never shows two lines which a look from the other side calls one.
#[must_use]
pub fn run_together(a: Line, b: Line) -> Option<Beside> {
    let one = |(near, slope): &(Beside, f64)| {
        near.gap < LEAST_GAP && *slope <= ROUNDED * ASKEW && (near.to - near.from) * slope <= PARTING
    };
    along(a, b).filter(one).map(|(near, _)| near)
}

/// The stretch of `a` that has `b` beside it, and how steeply they part.
fn along(a: Line, b: Line) -> Option<(Beside, f64)> {
    let along = a.p1 - a.p0;
    let long = along.hypot();
    if long.is_nan() || long <= 0.0 {
        return None;
    }
    let dir = along / long;
    let (p, q) = (b.p0 - a.p0, b.p1 - a.p0);
    let (sp, sq) = (dir.dot(p), dir.dot(q));
    let (from, to) = (sp.min(sq).max(0.0), sp.max(sq).min(long));
    if to <= from {
        return None;
    }
    let (hp, hq) = (dir.cross(p), dir.cross(q));
    let slope = (hq - hp) / (sq - sp);
    let gap = (hp + slope * (f64::midpoint(from, to) - sp)).abs();
    Some((Beside { gap, from, to }, slope.abs()))
}

/// Takes out the stretches of outlines that run nearer than [`LEAST_GAP`] to a
/// longer outline of the same view. Cut outlines stay whole, and so do the
/// sides of the box round a view, so that it keeps its size, and everything but
/// straight lines.
pub fn merge_close(marks: &mut Vec<Mark>) {
    let mut lines = straight(marks);
    outermost(&mut lines);
    lines.sort_by(|a, b| {
        let firm = |one: &Straight| (one.cut, one.outermost);
        firm(b).cmp(&firm(a)).then(b.line.length().total_cmp(&a.line.length())).then(a.place.cmp(&b.place))
    });
    let mut kept = Kept::default();
    let mut changed: BTreeSet<usize> = BTreeSet::new();
    for one in lines {
        let stretches = if one.cut { vec![one.line] } else { left_over(&one, &kept) };
        if stretches.as_slice() != [one.line] {
            changed.insert(one.place.0);
        }
        for line in stretches {
            kept.add(Straight { line, ..one });
        }
    }
    let mut kept = kept.lines;
    kept.sort_by_key(|one| one.place);
    for at in &changed {
        let lines = kept.iter().filter(|one| one.place.0 == *at);
        redraw(&mut marks[*at], lines);
    }
    marks.retain(|m| !matches!(&m.ink, Ink::Stroke { path, .. } if path.elements().is_empty()));
}

/// A straight piece of an outline.
#[derive(Clone, Copy)]
struct Straight {
    line: Line,
    /// Whether it outlines a cut.
    cut: bool,
    /// Whether it lies on the box round its view.
    outermost: bool,
    /// Which view it belongs to: its number, or where views are not numbered
    /// its mark, since such views are one mark each.
    view: View,
    /// Mark and piece of its path.
    place: (usize, usize),
}

/// The straight pieces of outlines that stand by themselves in their path.
fn straight(marks: &[Mark]) -> Vec<Straight> {
    let mut found = Vec::new();
    for (i, mark) in marks.iter().enumerate() {
        let Ink::Stroke { path, .. } = &mark.ink else { continue };
        let cut = mark.role == Role::CutOutline;
        if !(cut || mark.role == Role::Outline) {
            continue;
        }
        for (j, piece) in dashes::pieces(path).iter().enumerate() {
            let sides: Vec<Line> = if cut {
                piece.segments().filter_map(as_line).collect()
            } else {
                alone(piece).into_iter().collect()
            };
            let view = (mark.shows.view, if mark.shows.view == 0 { i } else { 0 });
            let one = |line| Straight { line, cut, outermost: false, view, place: (i, j) };
            found.extend(sides.into_iter().map(one));
        }
    }
    found
}

/// Marks the lines that lie along a side of the box round their view.
fn outermost(lines: &mut [Straight]) {
    let mut boxes: BTreeMap<View, Rect> = BTreeMap::new();
    for one in lines.iter() {
        let own = Rect::from_points(one.line.p0, one.line.p1);
        boxes.entry(one.view).and_modify(|all| *all = all.union(own)).or_insert(own);
    }
    for one in lines {
        let Some(all) = boxes.get(&one.view) else { continue };
        let (a, b) = (one.line.p0, one.line.p1);
        let on = |p: f64, q: f64, side: f64| (p - side).abs() < SAME && (q - side).abs() < SAME;
        one.outermost = [all.x0, all.x1].iter().any(|side| on(a.x, b.x, *side))
            || [all.y0, all.y1].iter().any(|side| on(a.y, b.y, *side));
    }
}

fn as_line(segment: kurbo::PathSeg) -> Option<Line> {
    match segment {
        kurbo::PathSeg::Line(line) => Some(line),
        kurbo::PathSeg::Quad(_) | kurbo::PathSeg::Cubic(_) => None,
    }
}

/// The line of a path that is one straight line.
fn alone(piece: &BezPath) -> Option<Line> {
    match piece.elements() {
        [PathEl::MoveTo(a), PathEl::LineTo(b)] if a != b => Some(Line::new(*a, *b)),
        _ => None,
    }
}

/// Lines that stay, found again by where on the sheet they run: of the thousands round the
/// holes of a panel few are near any one.
#[derive(Default)]
struct Kept {
    lines: Vec<Straight>,
    /// Those of a view that are few cells wide, by the cells their box reaches into: row,
    /// then column, and their place in `lines`.
    short: BTreeMap<(View, i32, i32), Vec<usize>>,
    /// The others by row alone: there are few, and a row of a sheet has thousands of cells.
    long: BTreeMap<(View, i32), Vec<usize>>,
}

/// What a line belongs to: the number of its view, or its mark.
type View = (u16, usize);

/// Side of a cell, mm: some times the gap that lines are held apart by.
const CELL: f64 = 4.0;

/// Cells across that a short line reaches into at most.
const FEW: usize = 4;

impl Kept {
    fn add(&mut self, one: Straight) {
        let (rows, columns) = cells(Rect::from_points(one.line.p0, one.line.p1));
        for row in rows {
            if columns.clone().nth(FEW).is_some() {
                self.long.entry((one.view, row)).or_default().push(self.lines.len());
                continue;
            }
            for column in columns.clone() {
                self.short.entry((one.view, row, column)).or_default().push(self.lines.len());
            }
        }
        self.lines.push(one);
    }

    /// Those of a view that may meet a box, in the order they were added.
    fn near(&self, view: View, around: Rect) -> Vec<&Straight> {
        let (rows, columns) = cells(around);
        let mut near: Vec<usize> = Vec::new();
        for row in rows {
            near.extend(self.long.get(&(view, row)).into_iter().flatten());
            let cells = (view, row, *columns.start())..=(view, row, *columns.end());
            near.extend(self.short.range(cells).flat_map(|(_, lines)| lines));
        }
        near.sort_unstable();
        near.dedup();
        near.into_iter().filter_map(|at| self.lines.get(at)).collect()
    }
}

/// The rows and columns of cells that a box reaches into.
fn cells(around: Rect) -> (RangeInclusive<i32>, RangeInclusive<i32>) {
    #[expect(clippy::cast_possible_truncation, reason = "no paper is four metres high")]
    let cell = |at: f64| (at / CELL).floor().clamp(-1e3, 1e3) as i32;
    (cell(around.y0)..=cell(around.y1), cell(around.x0)..=cell(around.x1))
}

/// What is left of a line where no kept line runs close by it.
fn left_over(one: &Straight, kept: &Kept) -> Vec<Line> {
    let long = one.line.length();
    let around = Rect::from_points(one.line.p0, one.line.p1).inflate(LEAST_GAP, LEAST_GAP);
    let mut free: Vec<(f64, f64)> = vec![(0.0, long)];
    for other in kept.near(one.view, around) {
        if !around.overlaps(Rect::from_points(other.line.p0, other.line.p1)) {
            continue;
        }
        // Lines that meet end to end touch by a hair.
        let hair = SAME.min(0.5 * long);
        let Some(near) = run_together(one.line, other.line).filter(|n| n.to - n.from > hair) else {
            continue;
        };
        free = free
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(near.from)), (a.max(near.to), b)])
            .filter(|(a, b)| b > a)
            .collect();
    }
    if free == [(0.0, long)] {
        return vec![one.line];
    }
    let dir = (one.line.p1 - one.line.p0) / long;
    let at = |s: f64| -> Point { one.line.p0 + dir * s };
    // A stub as short as the gap closes nothing and only makes a blot.
    free.into_iter().filter(|(a, b)| b - a > LEAST_GAP).map(|(a, b)| Line::new(at(a), at(b))).collect()
}

/// Draws a mark anew with the lines kept of its straight pieces.
fn redraw<'a>(mark: &mut Mark, kept: impl Iterator<Item = &'a Straight>) {
    let Ink::Stroke { path, .. } = &mut mark.ink else { return };
    let mut new = BezPath::new();
    for piece in dashes::pieces(path).iter().filter(|piece| alone(piece).is_none()) {
        new.extend(piece.elements().iter().copied());
    }
    for one in kept {
        new.move_to(one.line.p0);
        new.line_to(one.line.p1);
    }
    *path = new;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{Pen, Shows, dash};

    const PEN: Pen = Pen { width: 0.5, dash: dash::SOLID };

    fn line(a: (f64, f64), b: (f64, f64)) -> Mark {
        in_view(1, Mark::line(a.into(), b.into(), PEN, Role::Outline))
    }

    fn in_view(view: u16, mark: Mark) -> Mark {
        mark.showing(Shows { view, ..Shows::default() })
    }

    /// Two ends.
    type Ends = ((f64, f64), (f64, f64));

    #[track_caller]
    fn left(mut marks: Vec<Mark>, expected: &[Ends]) {
        merge_close(&mut marks);
        let found: Vec<Line> = straight(&marks).iter().map(|s| s.line).collect();
        let expected: Vec<Line> = expected.iter().map(|(a, b)| Line::new(*a, *b)).collect();
        assert_eq!(found, expected);
    }

    /// Two lines far off, so that nothing between them is outermost.
    const ABOVE: Ends = ((-9.0, -9.0), (90.0, -9.0));
    const BELOW: Ends = ((-9.0, 9.0), (90.0, 9.0));

    fn between(lines: &[Ends]) -> Vec<Mark> {
        [ABOVE, BELOW].iter().chain(lines).map(|(a, b)| line(*a, *b)).collect()
    }

    #[test]
    fn of_two_lines_too_close_the_longer_stays() {
        let long = ((0.0, 0.0), (50.0, 0.0));
        left(between(&[((5.0, 0.4), (45.0, 0.4)), long]), &[ABOVE, BELOW, long]);
        let clear = ((5.0, 0.75), (45.0, 0.75));
        left(between(&[clear, long]), &[ABOVE, BELOW, clear, long]);
        // Play in a joint, at a small scale, makes the same line again.
        left(between(&[long, ((5.0, 0.02), (45.0, 0.02))]), &[ABOVE, BELOW, long]);
        left(between(&[long, long]), &[ABOVE, BELOW, long]);
    }

    #[test]
    fn lines_that_part_only_past_the_shorter_are_one() {
        // Arrises of boards that slope unlike, on either side of a mitre, as seen from above.
        let (long, short) = (((5.0, 0.0), (11.0, 0.03)), ((8.0, 0.01), (10.0, 0.018)));
        left(between(&[short, long]), &[ABOVE, BELOW, long]);
        // Those that part on the way stay.
        let parting = ((8.0, 0.01), (10.0, 0.6));
        left(between(&[parting, long]), &[ABOVE, BELOW, parting, long]);
    }

    /// Lines short and long, level and not, in rows as round the holes of a panel: what is
    /// found by place is all that a look through them finds.
    #[test]
    fn lines_near_a_box_are_all_found() {
        let mut kept = Kept::default();
        for i in 0..600_u32 {
            let (x, y) = (f64::from(i % 30) * 7.3 - 20.0, f64::from(i / 30) * 9.1 - 15.0);
            let (long, turn) = ([1.5, 4.0, 19.0, 150.0][i as usize % 4], f64::from(i % 9));
            let line = Line::new((x, y), (x + long, y + 0.25 * long * (turn - 4.0)));
            kept.add(Straight {
                line,
                cut: false,
                outermost: false,
                view: (if i % 2 == 0 { 1 } else { 2 }, 0),
                place: (0, 0),
            });
        }
        assert!(!kept.short.is_empty() && !kept.long.is_empty());
        let mut most = 0;
        for one in &kept.lines {
            let around = Rect::from_points(one.line.p0, one.line.p1).inflate(LEAST_GAP, LEAST_GAP);
            let meets = |other: &&Straight| around.overlaps(Rect::from_points(other.line.p0, other.line.p1));
            let found: Vec<Line> =
                kept.near((1, 0), around).into_iter().filter(meets).map(|s| s.line).collect();
            let all = kept.lines.iter().filter(|other| other.view == (1, 0)).filter(meets);
            assert_eq!(found, all.map(|s| s.line).collect::<Vec<_>>());
            most = most.max(found.len());
        }
        assert!(most > 100);
    }

    #[test]
    fn what_runs_on_past_the_longer_line_stays() {
        let long = ((0.0, 0.0), (50.0, 0.0));
        left(between(&[((40.0, 0.4), (70.0, 0.4)), long]), &[ABOVE, BELOW, ((50.0, 0.4), (70.0, 0.4)), long]);
    }

    #[test]
    fn a_view_keeps_its_size() {
        // A lipping as long as the part: the line seen outside is the one kept.
        let (inner, outer) = (((0.0, 8.5), (50.0, 8.5)), ((0.0, 9.0), (50.0, 9.0)));
        left(vec![line(inner.0, inner.1), line(ABOVE.0, ABOVE.1), line(outer.0, outer.1)], &[ABOVE, outer]);
    }

    #[test]
    fn lines_of_other_views_and_cut_outlines_are_left_alone() {
        let long = ((0.0, 0.0), (50.0, 0.0));
        let near = ((5.0, 0.4), (45.0, 0.4));
        let mut marks = between(&[long]);
        marks.push(in_view(2, line(near.0, near.1)));
        left(marks, &[ABOVE, BELOW, long, near]);
        let cut = in_view(1, Mark::line(near.0.into(), near.1.into(), PEN, Role::CutOutline));
        // The outline makes way for the cut, even though it is longer.
        left(vec![line(long.0, long.1), cut], &[((0.0, 0.0), (5.0, 0.0)), ((45.0, 0.0), (50.0, 0.0)), near]);
    }
}
