//! Reading outlines and flat sides of cutters.

use super::faces::SAME;
use crate::geometry::{DVec3, Outline};
use crate::machining::tolerance::{ALONG, STRAIGHT};
use crate::solid::Prism;

/// The coordinate axis a unit vector lies along.
pub(crate) fn axis_of(v: DVec3) -> Option<usize> {
    (0..3).find(|i| v[*i].abs() > ALONG)
}

/// Centre and radius if the outline is one whole circle.
pub(crate) fn circle(outline: &Outline) -> Option<(crate::geometry::DVec2, f64)> {
    let [ring] = outline.rings.as_slice() else { return None };
    let first = ring.edges.first().copied().flatten()?;
    let arc = outline.arcs.get(usize::from(first))?;
    let round = ring.edges.iter().all(|e| {
        e.and_then(|e| outline.arcs.get(usize::from(e)))
            .is_some_and(|a| (a.centre - arc.centre).length() < SAME && (a.radius - arc.radius).abs() < SAME)
    });
    round.then_some((arc.centre, arc.radius))
}

/// Whether the outline is one rectangle along its axes.
pub(crate) fn is_rectangle(outline: &Outline) -> bool {
    let [ring] = outline.rings.as_slice() else { return false };
    let n = ring.points.len();
    n == 4
        && ring.edges.iter().all(Option::is_none)
        && (0..n).all(|i| {
            let d = ring.points[(i + 1) % n] - ring.points[i];
            d.x.abs() < STRAIGHT || d.y.abs() < STRAIGHT
        })
}

/// Whether the outline is a rectangle with half-round ends.
pub(crate) fn has_round_ends(outline: &Outline) -> bool {
    let [ring] = outline.rings.as_slice() else { return false };
    let straight: Vec<usize> = (0..ring.points.len()).filter(|i| ring.edges[*i].is_none()).collect();
    let r = round_of(outline);
    straight.len() == 2
        && r > 0.0
        && straight.iter().all(|i| {
            let d = ring.points[(i + 1) % ring.points.len()] - ring.points[*i];
            d.x.abs() < STRAIGHT || d.y.abs() < STRAIGHT
        })
}

/// Radius of round ends, 0 if there are none.
pub(crate) fn round_of(outline: &Outline) -> f64 {
    outline.arcs.first().map_or(0.0, |a| a.radius)
}

/// The box round a prism in part coordinates, true circles included.
pub(crate) fn bounds(shape: &Prism) -> (DVec3, DVec3) {
    let mut points: Vec<crate::geometry::DVec2> =
        shape.outline.rings.iter().flat_map(|r| r.points.iter().copied()).collect();
    // A single arc is the quarter of a rounded arris, which ends at its corners.
    for arc in shape.outline.arcs.iter().filter(|_| shape.outline.arcs.len() > 1) {
        let r = crate::geometry::DVec2::splat(arc.radius);
        points.extend([arc.centre - r, arc.centre + r]);
    }
    let (mut min, mut max) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
    for p in points {
        for w in [shape.from, shape.to] {
            let q = shape.at.point(DVec3::new(p.x, p.y, w));
            min = min.min(q);
            max = max.max(q);
        }
    }
    (min, max)
}

/// A point and the outward normal of every flat side of a prism.
pub(crate) fn flats(shape: &Prism) -> Vec<(DVec3, DVec3)> {
    let mut flats = vec![
        (shape.at.point(DVec3::new(0.0, 0.0, shape.from)), -shape.at.z),
        (shape.at.point(DVec3::new(0.0, 0.0, shape.to)), shape.at.z),
    ];
    for ring in &shape.outline.rings {
        let n = ring.points.len();
        for i in 0..n {
            let (a, b) = (ring.points[i], ring.points[(i + 1) % n]);
            let out = shape.at.dir(DVec3::new(b.y - a.y, a.x - b.x, 0.0)).normalize_or_zero();
            flats.push((shape.at.point(DVec3::new(a.x, a.y, shape.from)), out));
        }
    }
    flats
}

/// Whether a plane has corners of the blank on both sides.
pub(crate) fn cuts_blank(point: DVec3, normal: DVec3, size: DVec3) -> bool {
    let (mut over, mut under) = (false, false);
    for i in 0..8_u8 {
        let corner = DVec3::new(
            if i & 1 == 0 { 0.0 } else { size.x },
            if i & 2 == 0 { 0.0 } else { size.y },
            if i & 4 == 0 { 0.0 } else { size.z },
        );
        let d = normal.dot(corner - point);
        over |= d > SAME;
        under |= d < -SAME;
    }
    over && under
}

/// Where a plane along axis `along` enters and leaves the blank's
/// cross-section, nearer the reference corner first.
pub(crate) fn section(point: DVec3, normal: DVec3, along: usize, size: DVec3) -> Option<[DVec3; 2]> {
    let (i, j) = ((along + 1) % 3, (along + 2) % 3);
    let mut hits: Vec<DVec3> = Vec::new();
    for (a, b) in [(i, j), (j, i)] {
        for at in [0.0, size[a]] {
            let mut hit = DVec3::ZERO;
            hit[a] = at;
            hit[b] = point[b] + normal[a] * (point[a] - at) / normal[b];
            let inside = hit[b] > -SAME && hit[b] < size[b] + SAME;
            if inside && hits.iter().all(|h| (*h - hit).length() > SAME) {
                hits.push(hit);
            }
        }
    }
    let [p, q] = hits.as_slice() else { return None };
    Some(if p[i].min(p[j]) <= q[i].min(q[j]) { [*p, *q] } else { [*q, *p] })
}
