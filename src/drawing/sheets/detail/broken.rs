//! Parts broken off: lines clipped to an area, freehand break lines.

use kurbo::{BezPath, Point, Rect, Vec2};

use crate::geometry::tolerance::HAIR;
use crate::geometry::trig;

/// How far a freehand line wanders to each side, mm.
const WANDER: f64 = 0.7;
/// Length of its straight bits, mm: short, so that it looks drawn by hand.
const BIT: f64 = 0.7;
/// Its two waves: radians for each mm, and their shares.
const WAVES: ((f64, f64), (f64, f64)) = ((0.71, 0.65), (1.57, 0.35));
/// A longer side stands on no paper, mm.
const LONGEST: f64 = 5000.0;
/// Shorter stretches are specks, mm.
const SPECK: f64 = 1e-3;

/// The area shown: a rectangle whose sides are drawn freehand (ISO 128: 01.1
/// freehand for limits of broken views, as given in public tables).
pub(super) fn freehand(rect: Rect) -> Vec<Point> {
    let corners = [
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
    ];
    let mut ring = Vec::new();
    for (i, &from) in corners.iter().enumerate() {
        let to = corners[(i + 1) % 4];
        let run = to - from;
        let long = run.hypot();
        if !(long > 0.0 && long < LONGEST) {
            ring.push(from);
            continue;
        }
        let dir = run / long;
        let aside = Vec2::new(-dir.y, dir.x);
        let mut s = 0.0;
        while s < long {
            let ((long_wave, share), (short_wave, rest)) = WAVES;
            // Two waves that never quite repeat; still at the corners.
            let wave =
                share * trig::sin_cos(s * long_wave + i as f64).0 + rest * trig::sin_cos(s * short_wave).0;
            let still = (s.min(long - s) / 2.0).min(1.0);
            ring.push(from + dir * s + aside * (WANDER * wave * still));
            s += BIT;
        }
    }
    ring
}

/// Adds the stretches of a straight line that lie inside `rings` (inside is
/// where a ray crosses an odd number of edges).
pub(super) fn inside(rings: &[Vec<Point>], from: Point, to: Point, path: &mut BezPath) {
    let run = to - from;
    let mut cuts = vec![0.0, 1.0];
    for ring in rings {
        for (i, &a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let (side_a, side_b) = (run.cross(a - from), run.cross(b - from));
            if (side_a <= 0.0) != (side_b <= 0.0) {
                let at = a.lerp(b, side_a / (side_a - side_b));
                let t = run.dot(at - from) / run.hypot2();
                if t > 0.0 && t < 1.0 {
                    cuts.push(t);
                }
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    for pair in cuts.windows(2) {
        let (a, b) = (from.lerp(to, pair[0]), from.lerp(to, pair[1]));
        if a.distance(b) > SPECK && holds(rings, a.midpoint(b)) {
            // Stretches that go on from one another stay one line.
            if path_end(path).is_none_or(|end| end.distance(a) > HAIR) {
                path.move_to(a);
            }
            path.line_to(b);
        }
    }
}

fn path_end(path: &BezPath) -> Option<Point> {
    path.elements().last().and_then(kurbo::PathEl::end_point)
}

/// Whether a point lies inside some rings.
pub(super) fn holds(rings: &[Vec<Point>], p: Point) -> bool {
    let mut odd = false;
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
                odd = !odd;
            }
        }
    }
    odd
}

/// The stretches of a straight line that no edge of some rings lies along.
pub(super) fn apart(from: Point, to: Point, rings: &[Vec<Point>]) -> Vec<(Point, Point)> {
    /// Nearer than this two lines are one, mm.
    const SAME: f64 = 0.06;
    let long = from.distance(to);
    if long < SAME {
        return Vec::new();
    }
    let dir = (to - from) / long;
    let mut free = vec![(0.0, long)];
    for ring in rings {
        for (i, &a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if dir.cross(a - from).abs() > SAME || dir.cross(b - from).abs() > SAME {
                continue;
            }
            let (s, e) = (dir.dot(a - from), dir.dot(b - from));
            let (s, e) = (s.min(e), s.max(e));
            free = free
                .into_iter()
                .flat_map(|(f, t): (f64, f64)| [(f, t.min(s)), (f.max(e), t)])
                .filter(|(f, t)| t - f > SAME)
                .collect();
        }
    }
    free.into_iter().map(|(f, t)| (from + dir * f, from + dir * t)).collect()
}

/// The edges of some rings inside some others.
pub(super) fn edges_inside(edges: &[Vec<Point>], rings: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::new();
    for ring in edges {
        for (i, &a) in ring.iter().enumerate() {
            inside(rings, a, ring[(i + 1) % ring.len()], &mut path);
        }
    }
    path
}

/// The straight lines of a path inside some rings.
pub(super) fn lines_inside(lines: &BezPath, rings: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::new();
    for segment in lines.segments() {
        if let kurbo::PathSeg::Line(line) = segment {
            inside(rings, line.p0, line.p1, &mut path);
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use kurbo::Shape;

    use super::*;

    #[test]
    fn a_line_keeps_what_is_inside() {
        let square =
            |a: f64, b: f64| vec![Point::new(a, a), Point::new(b, a), Point::new(b, b), Point::new(a, b)];
        let rings = [square(0.0, 10.0), square(4.0, 6.0)];
        let mut path = BezPath::new();
        inside(&rings, Point::new(-5.0, 5.0), Point::new(15.0, 5.0), &mut path);
        assert!((path.perimeter(1e-9) - 8.0).abs() < 1e-9, "{path:?}");
        let frame = edges_inside(&[square(-5.0, 5.0)], &rings);
        // Two sides of five reach in, the hole takes one off each.
        assert!((frame.perimeter(1e-9) - 8.0).abs() < 1e-9, "{frame:?}");
    }

    #[test]
    fn a_line_along_an_edge_is_left_out_there() {
        let ring =
            vec![Point::new(2.0, 0.0), Point::new(5.0, 0.0), Point::new(5.0, 9.0), Point::new(2.0, 9.0)];
        let left = apart(Point::new(0.0, 0.0), Point::new(10.0, 0.0), std::slice::from_ref(&ring));
        let ends: Vec<(f64, f64)> = left.iter().map(|(a, b)| (a.x, b.x)).collect();
        assert_eq!(ends, [(0.0, 2.0), (5.0, 10.0)]);
        assert_eq!(apart(Point::new(0.0, 1.0), Point::new(10.0, 1.0), &[ring]).len(), 1);
    }

    #[test]
    fn a_freehand_line_keeps_near_its_side() {
        let rect = Rect::new(0.0, 0.0, 60.0, 40.0);
        let ring = freehand(rect);
        assert!(ring.len() > 200);
        let (most, least) = (rect.inflate(WANDER, WANDER), rect.inflate(-WANDER - 1e-9, -WANDER - 1e-9));
        assert!(ring.iter().all(|p| most.contains(*p) && !least.contains(*p)));
        assert_eq!(ring, freehand(rect));
    }
}
