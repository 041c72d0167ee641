//! Strokes of many short lines as few long ones: lines that end where others
//! begin are drawn on without lifting the pen, and corners too slight to see are
//! left out. What stands on the paper stays the same; files get half as long.

use std::collections::BTreeMap;

use kurbo::{BezPath, PathEl, Point};

use super::{Ink, Mark};

/// Ends this near one another are one, mm: far below what a pen can set apart.
const SAME: f64 = 1e-5;
/// A corner this near the line past it is left out, mm: a twelfth of the
/// narrowest line (0.13 mm, ISO 128-2).
const SLIGHT: f64 = 0.01;

/// Chains the lines of every continuous stroke.
pub fn join_lines(marks: &mut [Mark]) {
    for mark in marks {
        let Ink::Stroke { path, pen } = &mut mark.ink else { continue };
        // A broken line would begin its dashes anew.
        if !pen.dash.is_empty() {
            continue;
        }
        if let Some(lines) = lines(path).filter(|lines| lines.len() > 1) {
            *path = drawn(&chained(&lines));
        }
    }
}

/// The straight lines of a path; none where it has curves.
fn lines(path: &BezPath) -> Option<Vec<[Point; 2]>> {
    let mut lines = Vec::new();
    let (mut start, mut at) = (Point::ZERO, Point::ZERO);
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => (start, at) = (p, p),
            PathEl::LineTo(p) => {
                lines.push([at, p]);
                at = p;
            }
            PathEl::ClosePath => {
                lines.push([at, start]);
                at = start;
            }
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => return None,
        }
    }
    let finite = lines.iter().flatten().all(|p| p.is_finite());
    finite.then_some(lines)
}

/// A point as a place that can be looked up.
fn place(p: Point) -> (i64, i64) {
    // Paper is small: no number of it comes near the bounds of the integer.
    #[expect(clippy::cast_possible_truncation, reason = "see above")]
    let whole = |v: f64| (v / SAME).round() as i64;
    (whole(p.x), whole(p.y))
}

/// Lines drawn on from one to the next as far as they lead, in the order of
/// their first lines.
fn chained(lines: &[[Point; 2]]) -> Vec<Vec<Point>> {
    let mut meeting: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (i, [a, b]) in lines.iter().enumerate() {
        if place(*a) != place(*b) {
            meeting.entry(place(*a)).or_default().push(i);
            meeting.entry(place(*b)).or_default().push(i);
        }
    }
    let mut done = vec![false; lines.len()];
    let mut chains = Vec::new();
    // Open chains first, from an end of theirs, then rings.
    for open in [true, false] {
        for (i, [a, b]) in lines.iter().enumerate() {
            let is_end = |p: &Point| meeting.get(&place(*p)).is_none_or(|list| list.len() % 2 == 1);
            let start = match (open, is_end(a), is_end(b)) {
                (true, true, _) | (false, ..) => *a,
                (true, false, true) => *b,
                (true, false, false) => continue,
            };
            if !done[i] {
                chains.push(follow(lines, &meeting, &mut done, i, start));
            }
        }
    }
    chains
}

/// Follows lines from `start`, the end of line `first`, as far as they lead.
fn follow(
    lines: &[[Point; 2]],
    meeting: &BTreeMap<(i64, i64), Vec<usize>>,
    done: &mut [bool],
    first: usize,
    start: Point,
) -> Vec<Point> {
    let mut points = vec![start];
    let (mut at, mut next) = (start, Some(first));
    while let Some(line) = next {
        done[line] = true;
        let [a, b] = lines[line];
        at = if place(a) == place(at) { b } else { a };
        points.push(at);
        let here = meeting.get(&place(at)).map_or(&[][..], Vec::as_slice);
        next = here.iter().copied().find(|i| !done[*i]);
    }
    points
}

/// The chains as a path, slight corners left out.
fn drawn(chains: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::new();
    for points in chains {
        let kept = plain(points);
        let ring = kept.len() > 3 && kept.first().map(|p| place(*p)) == kept.last().map(|p| place(*p));
        let last = kept.len() - usize::from(ring);
        for (i, p) in kept.iter().take(last).enumerate() {
            if i == 0 { path.move_to(*p) } else { path.line_to(*p) }
        }
        if ring {
            path.close_path();
        }
    }
    path
}

/// The points without those that lie on the line between the others.
fn plain(points: &[Point]) -> Vec<Point> {
    let mut keep = vec![false; points.len()];
    let mut spans = vec![(0, points.len().saturating_sub(1))];
    while let Some((from, to)) = spans.pop() {
        keep[from] = true;
        keep[to] = true;
        let (a, b) = (points[from], points[to]);
        let furthest = (from + 1..to).map(|i| (i, off(points[i], a, b))).fold(
            None,
            |most: Option<(usize, f64)>, one| if most.is_none_or(|m| one.1 > m.1) { Some(one) } else { most },
        );
        if let Some((middle, away)) = furthest
            && away > SLIGHT
        {
            spans.push((from, middle));
            spans.push((middle, to));
        }
    }
    points.iter().zip(keep).filter(|(_, keep)| *keep).map(|(p, _)| *p).collect()
}

/// Distance of `p` from the line from `a` to `b`, mm.
fn off(p: Point, a: Point, b: Point) -> f64 {
    let (along, to) = (b - a, p - a);
    let long = along.hypot2();
    if long == 0.0 {
        return to.hypot();
    }
    let t = (to.dot(along) / long).clamp(0.0, 1.0);
    (to - along * t).hypot()
}

#[cfg(test)]
mod tests {
    use std::fmt::Write;

    use super::*;
    use crate::paper::{Pen, Role, Shows};
    use kurbo::Shape;

    fn stroke(svg: &str, dash: &'static [f64]) -> Mark {
        let path = BezPath::from_svg(svg).unwrap();
        Mark {
            ink: Ink::Stroke { path, pen: Pen { width: 0.25, dash } },
            role: Role::Outline,
            shows: Shows::default(),
        }
    }

    fn after(svg: &str, dash: &'static [f64]) -> String {
        let mut marks = [stroke(svg, dash)];
        join_lines(&mut marks);
        let Ink::Stroke { path, .. } = &marks[0].ink else { unreachable!() };
        path.to_svg()
    }

    #[test]
    fn lines_that_meet_are_drawn_on() {
        assert_eq!(after("M0 0L10 0M20 5L10 0M20 5L20 9", &[]), "M0,0 L10,0 L20,5 L20,9");
        assert_eq!(after("M0 0L10 0M10 0L10 10M10 10L0 0", &[]), "M0,0 L10,0 L10,10 Z");
    }

    #[test]
    fn what_lies_on_a_line_is_left_out_and_corners_stay() {
        assert_eq!(after("M0 0L5 0.004M5 0.004L10 0", &[]), "M0,0 L10,0");
        assert_eq!(after("M0 0L5 0.4M5 0.4L10 0", &[]), "M0,0 L5,0.4 L10,0");
    }

    #[test]
    fn broken_lines_keep_their_beginnings() {
        assert_eq!(after("M0 0L10 0M10 0L20 0", crate::paper::dash::HIDDEN), "M0,0 L10,0 M10,0 L20,0");
    }

    /// A grid of crossing lines keeps all its ink: the length is the same.
    #[test]
    fn no_line_is_lost_where_many_meet() {
        let mut svg = String::new();
        for i in 0..6 {
            for k in 0..5 {
                let _ = write!(svg, "M{i} {k}L{i} {}M{k} {i}L{} {i}", k + 1, k + 1);
            }
        }
        let path = |text: &str| BezPath::from_svg(text).unwrap();
        let long = |text: &str| path(text).perimeter(1e-9);
        assert!((long(&after(&svg, &[])) - long(&svg)).abs() < 1e-9);
        assert!(path(&after(&svg, &[])).elements().len() < path(&svg).elements().len());
    }
}
