//! Hatching of cut material by what is cut.

use kurbo::{BezPath, Point, Rect, Shape, Vec2};

use crate::geometry::trig;

/// How a cut region is hatched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hatch {
    /// Direction of the lines, degrees from the sheet's x axis, counter-clockwise
    /// as seen.
    pub(super) angle: f64,
    /// Line to line, mm.
    pub(super) spacing: f64,
}

/// The hatch lines inside `rings` (sheet mm; inside is where a ray crosses an
/// odd number of edges). Lines of equal hatch run on from region to region, as
/// they are counted from the sheet's corner.
pub(super) fn lines(rings: &[Vec<Point>], hatch: Hatch) -> BezPath {
    let (sin, cos) = trig::sin_cos(hatch.angle.to_radians());
    // Sheet y runs down.
    let along = Vec2::new(cos, -sin);
    let across = Vec2::new(sin, cos);
    let rotated: Vec<Vec<(f64, f64)>> = rings
        .iter()
        .map(|ring| ring.iter().map(|p| (p.to_vec2().dot(along), p.to_vec2().dot(across))).collect())
        .collect();
    let (low, high) =
        rotated.iter().flatten().fold((f64::MAX, f64::MIN), |(low, high), p| (low.min(p.1), high.max(p.1)));
    let mut path = BezPath::new();
    let mut row = (low / hatch.spacing).floor() + 0.5;
    while row * hatch.spacing < high {
        let v = row * hatch.spacing;
        let mut hits: Vec<f64> = Vec::new();
        for ring in &rotated {
            for i in 0..ring.len() {
                let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
                if (a.1 <= v) != (b.1 <= v) {
                    hits.push(a.0 + (b.0 - a.0) * (v - a.1) / (b.1 - a.1));
                }
            }
        }
        hits.sort_by(f64::total_cmp);
        for pair in hits.chunks_exact(2) {
            if pair[1] - pair[0] > 0.05 {
                path.move_to((along * pair[0] + across * v).to_point());
                path.line_to((along * pair[1] + across * v).to_point());
            }
        }
        row += 1.0;
    }
    path
}

/// The closed path of some rings.
pub(super) fn outline(rings: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::new();
    for ring in rings {
        let mut points = ring.iter();
        if let Some(first) = points.next() {
            path.move_to(*first);
            points.for_each(|p| path.line_to(*p));
            path.close_path();
        }
    }
    path
}

/// Bounds of some rings.
pub(super) fn bounds(rings: &[Vec<Point>]) -> Rect {
    outline(rings).bounding_box()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatch_lines_fill_a_square_with_a_hole() {
        // Length of hatch times spacing is the area, by Cavalieri.
        let square =
            |a: f64, b: f64| vec![Point::new(a, a), Point::new(b, a), Point::new(b, b), Point::new(a, b)];
        let rings = [square(10.0, 50.0), square(20.0, 30.0)];
        for angle in [0.0, 45.0, 90.0, 135.0] {
            let path = lines(&rings, Hatch { angle, spacing: 0.1 });
            let area = path.perimeter(1e-6) * 0.1;
            assert!((area - 1500.0).abs() < 6.0, "{angle}: {area}");
        }
    }
}
