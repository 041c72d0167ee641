//! Strokes of many short lines as few long ones: lines that end where others
//! begin are drawn on without lifting the pen, and corners too slight to see are
//! left out. What stands on the paper stays the same; files get half as long.

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

/// The straight lines of a path; `None` if it has curves.
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

/// Which lines meet where: each place once, its lines in their order.
struct Meeting {
    /// The places at both ends of each line, by their order.
    ends: Vec<[usize; 2]>,
    /// Where the lines of each place begin in `lines`, and where the last end.
    starts: Vec<usize>,
    /// The lines, place by place; those that begin where they end are left out.
    lines: Vec<usize>,
}

impl Meeting {
    /// That of some lines.
    fn of(lines: &[[Point; 2]]) -> Self {
        let places: Vec<[(i64, i64); 2]> = lines.iter().map(|ends| ends.map(place)).collect();
        let mut known: Vec<(i64, i64)> = places.iter().flatten().copied().collect();
        known.sort_unstable();
        known.dedup();
        let order = |place: (i64, i64)| known.partition_point(|other| *other < place);
        let ends: Vec<[usize; 2]> = places.iter().map(|both| both.map(order)).collect();
        let long = || ends.iter().enumerate().filter(|(_, [a, b])| a != b);
        let mut starts = vec![0; known.len() + 1];
        for end in long().flat_map(|(_, both)| both) {
            starts[end + 1] += 1;
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut here = vec![0; starts.last().copied().unwrap_or(0)];
        for (line, end) in long().flat_map(|(line, both)| both.iter().map(move |end| (line, *end))) {
            here[next[end]] = line;
            next[end] += 1;
        }
        Self { ends, starts, lines: here }
    }

    /// The lines that meet at a place.
    fn at(&self, end: usize) -> &[usize] {
        &self.lines[self.starts[end]..self.starts[end + 1]]
    }
}

/// Lines drawn on from one to the next as far as they lead, in the order of
/// their first lines.
fn chained(lines: &[[Point; 2]]) -> Vec<Vec<Point>> {
    let meeting = Meeting::of(lines);
    let mut done = vec![false; lines.len()];
    let mut chains = Vec::new();
    // Open chains first, from an end of theirs, then rings.
    for open in [true, false] {
        for (i, [a, b]) in meeting.ends.iter().enumerate() {
            let is_end = |end: usize| matches!(meeting.at(end).len(), n if n == 0 || n % 2 == 1);
            let start = match (open, is_end(*a), is_end(*b)) {
                (true, true, _) | (false, ..) => 0,
                (true, false, true) => 1,
                (true, false, false) => continue,
            };
            if !done[i] {
                chains.push(follow(lines, &meeting, &mut done, i, start));
            }
        }
    }
    chains
}

/// Follows lines from an end of the line `first` as far as they lead.
fn follow(
    lines: &[[Point; 2]],
    meeting: &Meeting,
    done: &mut [bool],
    first: usize,
    start: usize,
) -> Vec<Point> {
    let mut points = vec![lines[first][start]];
    let (mut at, mut next) = (meeting.ends[first][start], Some(first));
    while let Some(line) = next {
        done[line] = true;
        let far = usize::from(meeting.ends[line][0] == at);
        at = meeting.ends[line][far];
        points.push(lines[line][far]);
        next = meeting.at(at).iter().copied().find(|i| !done[*i]);
    }
    points
}

/// The chains as a path, slight corners left out.
fn drawn(chains: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::with_capacity(chains.iter().map(|points| points.len() + 1).sum());
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
