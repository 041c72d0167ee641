//! Hatching of cut material by what is cut.

use kurbo::{BezPath, Point, Rect, Shape, Vec2};

use crate::geometry::{DVec2, DVec3, trig};
use crate::joinery::WorkedPart;
use crate::model::{Stock, StockKind};
use crate::solid::Camera;

/// How a cut region is hatched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hatch {
    /// Direction of the lines, degrees from the sheet's x axis, counter-clockwise
    /// as seen.
    pub(super) angle: f64,
    /// Line to line, mm.
    pub(super) spacing: f64,
}

/// The hatch of one cut part seen by `camera` at `factor` paper mm per model mm;
/// `around` is the rectangle of the cut on the sheet, `drawn` what is hatched
/// already. Sheet goods: square to the board's plane, half its thickness apart.
/// Long grain: along the grain. End grain: 45°, neighbours opposite, a third one
/// closer (trade-school practice on DIN 919-1, from memory of its teaching).
pub(super) fn of(
    stock: Option<&Stock>,
    part: &WorkedPart,
    camera: Camera,
    factor: f64,
    around: Rect,
    drawn: &[(Rect, Hatch)],
) -> Hatch {
    let flat = |v: DVec3| camera.project(v);
    let degrees = |v: DVec2| trig::atan2(v.y, v.x).to_degrees();
    let through = flat(part.at.z);
    if stock.is_some_and(|s| matches!(s.kind, StockKind::Sheet { .. })) && through.length() > 0.3 {
        let spacing = (part.size.z * factor * 0.5).clamp(0.9, 5.0);
        return Hatch { angle: degrees(through), spacing };
    }
    let grain = flat(part.at.x);
    let base = (around.width().min(around.height()) * 0.25).clamp(0.9, 2.4);
    if grain.length() > 0.7 {
        return Hatch { angle: degrees(grain), spacing: base };
    }
    let touches = |hatch: Hatch| {
        drawn.iter().any(|(rect, other)| {
            let near = rect.inflate(0.1, 0.1).intersect(around);
            near.width() > 0.0
                && near.height() > 0.0
                && (other.angle - hatch.angle).abs() < 1.0
                && (other.spacing - hatch.spacing).abs() < 0.1
        })
    };
    [(45.0, base), (135.0, base), (45.0, base * 0.65), (135.0, base * 0.65)]
        .into_iter()
        .map(|(angle, spacing)| Hatch { angle, spacing })
        .find(|hatch| !touches(*hatch))
        .unwrap_or(Hatch { angle: 45.0, spacing: base * 1.4 })
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
