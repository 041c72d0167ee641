//! Rings of corners as paths of lines and true arcs.

use crate::geometry::{DVec2, trig};
use crate::machining::feature::SAME;

/// A path that closes.
#[derive(Clone, Debug, PartialEq)]
pub enum Path {
    /// Corners in order, the last joined to the first.
    Ring(Vec<Vertex>),
    /// A whole circle.
    Circle {
        /// Its centre, mm.
        centre: DVec2,
        /// Its radius, mm.
        radius: f64,
    },
}

/// A corner of a path and the way on to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Where it is, mm.
    pub at: DVec2,
    /// 0 for a straight line; else the tangent of a quarter of the angle the arc turns
    /// through, above 0 where it turns counter-clockwise.
    pub bulge: f64,
}

/// A true circle that an edge is a facet of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Circle {
    /// Its centre, mm.
    pub(super) centre: DVec2,
    /// Its radius, mm.
    pub(super) radius: f64,
}

impl Circle {
    /// Whether both are one circle.
    fn is(&self, other: &Self) -> bool {
        self.centre.distance(other.centre) < SAME && (self.radius - other.radius).abs() < SAME
    }
}

/// A corner of a ring, and the circle that the edge after it is a facet of.
pub(super) type Cornered = (DVec2, Option<Circle>);

/// The path of a ring: facets of one circle become its arc, straight edges in one line one
/// edge.
pub(super) fn path(ring: &[Cornered]) -> Path {
    let n = ring.len();
    let starts: Vec<usize> =
        (0..n).filter(|i| !goes_on(ring[(i + n - 1) % n].1.as_ref(), ring[*i].1.as_ref())).collect();
    let Some(first) = starts.first().copied() else {
        // Every edge is of one circle.
        let circle = ring.first().and_then(|corner| corner.1);
        return circle.map_or(Path::Ring(Vec::new()), |circle| Path::Circle {
            centre: circle.centre,
            radius: circle.radius,
        });
    };
    let ends = starts.iter().skip(1).chain([&first]);
    let vertices = starts.iter().zip(ends).map(|(start, end)| {
        let (at, circle) = ring[*start];
        let next = ring[(start + 1) % n].0;
        Vertex { at, bulge: circle.map_or(0.0, |circle| bulge(at, next, ring[*end].0, &circle)) }
    });
    Path::Ring(without_corners_in_line(&vertices.collect::<Vec<_>>()))
}

/// Whether an edge is a facet of the circle that the edge before it is one of.
fn goes_on(before: Option<&Circle>, after: Option<&Circle>) -> bool {
    before.zip(after).is_some_and(|(a, b)| a.is(b))
}

/// The bulge of an arc from `at` by way of `next` to `end`.
fn bulge(at: DVec2, next: DVec2, end: DVec2, circle: &Circle) -> f64 {
    let [a, b, c] = [at, next, end].map(|point| point - circle.centre);
    let way = a.perp_dot(b).signum();
    let turned = way * trig::atan2(a.perp_dot(c), a.dot(c));
    let sweep = if turned <= 0.0 { turned + std::f64::consts::TAU } else { turned };
    way * trig::tan(sweep / 4.0)
}

/// Corners between two lines that are one line say nothing: a neighbouring cut left them.
fn without_corners_in_line(vertices: &[Vertex]) -> Vec<Vertex> {
    let n = vertices.len();
    let says = |i: usize| {
        let (before, own, after) = (vertices[(i + n - 1) % n], vertices[i], vertices[(i + 1) % n]);
        let (a, b) = (own.at - before.at, after.at - own.at);
        let straight = before.bulge.abs() + own.bulge.abs() <= 0.0;
        !(straight && a.perp_dot(b).abs() <= SAME * a.length().min(b.length()) && a.dot(b) > 0.0)
    };
    let kept: Vec<usize> = (0..n).filter(|i| says(*i)).collect();
    kept.into_iter().map(|i| vertices[i]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;

    fn cornered(outline: &Outline) -> Vec<Cornered> {
        let ring = &outline.rings[0];
        let circle = |id: &Option<u16>| {
            id.map(|id| &outline.arcs[usize::from(id)])
                .map(|arc| Circle { centre: arc.centre, radius: arc.radius })
        };
        ring.points.iter().copied().zip(ring.edges.iter().map(circle)).collect()
    }

    /// A slot 20 between centres of radius 5: two lines, two half circles, whose bulge is
    /// the tangent of 45 degrees.
    #[test]
    fn facets_become_the_arcs_they_stand_for() {
        let slot = Outline::stadium(DVec2::ZERO, DVec2::new(20.0, 0.0), 5.0);
        let Path::Ring(ring) = path(&cornered(&slot)) else { panic!("a slot is no circle") };
        let bulges: Vec<f64> = ring.iter().map(|v| (v.bulge * 1e9).round() / 1e9).collect();
        assert_eq!(bulges, [0.0, 1.0, 0.0, 1.0]);
        let circle = Outline::circle(DVec2::new(3.0, 4.0), 2.5);
        assert_eq!(path(&cornered(&circle)), Path::Circle { centre: DVec2::new(3.0, 4.0), radius: 2.5 });
    }

    #[test]
    fn a_corner_in_a_line_is_left_out() {
        let points = [[0.0, 0.0], [4.0, 0.0], [9.0, 0.0], [9.0, 5.0], [0.0, 5.0]];
        let ring: Vec<Cornered> = points.iter().map(|p| (DVec2::from(*p), None)).collect();
        let Path::Ring(ring) = path(&ring) else { panic!("straight edges are no circle") };
        assert_eq!(ring.len(), 4);
    }
}
