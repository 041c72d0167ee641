//! A prism or turning as a polyhedron, and its section by a plane.

use super::turning::diameter;
use super::{Body, Prism, Surface, Transition, Turning};
use crate::geometry::{DVec2, DVec3, Placement, Plane, trig};

/// A face of a polyhedron: rings of point indices, the outer counter-clockwise
/// seen from outside.
#[derive(Clone, Debug)]
pub(crate) struct PolyFace {
    /// Outward plane.
    pub(crate) plane: Plane,
    /// Rings of point indices.
    pub(crate) rings: Vec<Vec<u32>>,
    /// Which surface it is.
    pub(crate) surface: Surface,
}

/// A closed polyhedron.
#[derive(Clone, Debug, Default)]
pub(crate) struct Poly {
    /// Corners.
    pub(crate) points: Vec<DVec3>,
    /// Faces.
    pub(crate) faces: Vec<PolyFace>,
}

/// Facets of a full turn on the lathe.
const TURNED_FACETS: usize = 48;
/// Steps of a cove or bead along the axis.
const PROFILE_STEPS: usize = 6;

impl Poly {
    /// The polyhedron of a body.
    pub(crate) fn of_body(body: &Body) -> Self {
        match body {
            Body::Prism(prism) => Self::of_prism(prism),
            Body::Turning(turning) => Self::of_turning(turning),
        }
    }

    /// The polyhedron of a prism. Empty if it has no extent.
    pub(crate) fn of_prism(prism: &Prism) -> Self {
        let mut poly = Self::default();
        // No number has no extent either.
        let extent = prism.to - prism.from;
        if extent.is_nan() || extent <= 0.0 {
            return poly;
        }
        let mut near = Vec::new();
        let mut far = Vec::new();
        let at = &prism.at;
        for (r, ring) in prism.outline.rings.iter().enumerate() {
            let n = ring.points.len();
            if n < 3 {
                continue;
            }
            let base = poly.points.len();
            for p in &ring.points {
                poly.points.push(at.point(DVec3::new(p.x, p.y, prism.from)));
            }
            for p in &ring.points {
                poly.points.push(at.point(DVec3::new(p.x, p.y, prism.to)));
            }
            let low = |i: usize| index(base + i % n);
            let high = |i: usize| index(base + n + i % n);
            for i in 0..n {
                let (a, b) = (ring.points[i], ring.points[(i + 1) % n]);
                let along = b - a;
                let out = at.x * along.y - at.y * along.x;
                let Some(plane) = Plane::through(at.point(DVec3::new(a.x, a.y, 0.0)), out) else { continue };
                let surface = match ring.edges.get(i).copied().flatten() {
                    Some(arc) => Surface::Round { arc },
                    None => Surface::Side { ring: short(r), edge: short(i) },
                };
                poly.faces.push(PolyFace {
                    plane,
                    rings: vec![vec![low(i), low(i + 1), high(i + 1), high(i)]],
                    surface,
                });
            }
            // Seen from outside, the near end runs the other way round than the outline.
            near.push((0..n).rev().map(low).collect::<Vec<_>>());
            far.push((0..n).map(high).collect::<Vec<_>>());
        }
        if !near.is_empty() {
            poly.faces.push(cap(at, prism.from, -at.z, near, Surface::NearCap));
            poly.faces.push(cap(at, prism.to, at.z, far, Surface::FarCap));
        }
        poly
    }

    /// The polyhedron of a turning; bands between equal stations vanish.
    fn of_turning(turning: &Turning) -> Self {
        let mut poly = Self::default();
        let steps = profile(turning);
        if steps.len() < 2 {
            return poly;
        }
        let n = TURNED_FACETS;
        for &(along, radius, _) in &steps {
            for k in 0..n {
                let (s, c) = trig::sin_cos(std::f64::consts::TAU * k as f64 / n as f64);
                poly.points.push(turning.at.point(DVec3::new(radius * c, radius * s, along)));
            }
        }
        for (i, pair) in steps.windows(2).enumerate() {
            for k in 0..n {
                let ring = vec![
                    index(i * n + k),
                    index(i * n + (k + 1) % n),
                    index((i + 1) * n + (k + 1) % n),
                    index((i + 1) * n + k),
                ];
                let at = |j: usize| poly.points[ring[j] as usize];
                let out = (at(2) - at(0)).cross(at(3) - at(1));
                if let Some(plane) = Plane::through(at(0), out) {
                    let surface = Surface::Band { band: pair[0].2 };
                    poly.faces.push(PolyFace { plane, rings: vec![ring], surface });
                }
            }
        }
        let last = steps.len() - 1;
        let first_ring = (0..n).rev().map(index).collect();
        let last_ring = (0..n).map(|k| index(last * n + k)).collect();
        for (z, ring, normal, surface) in [
            (steps[0].0, first_ring, -turning.at.z, Surface::NearCap),
            (steps[last].0, last_ring, turning.at.z, Surface::FarCap),
        ] {
            let offset = normal.dot(turning.at.point(DVec3::Z * z));
            poly.faces.push(PolyFace { plane: Plane { normal, offset }, rings: vec![ring], surface });
        }
        poly
    }

    /// The polyhedron of a finished solid.
    pub(crate) fn of_solid(solid: &super::Solid) -> Self {
        let faces = solid.faces.iter().map(|f| PolyFace {
            plane: f.plane,
            rings: f.loops.clone(),
            surface: f.from.surface,
        });
        Self { points: solid.points.clone(), faces: faces.collect() }
    }

    /// The section just below `plane` (on the side its normal points away
    /// from): rings in the coordinates of `frame`, whose z axis is the plane's
    /// normal, material on the left. Points within `tau` count as above.
    pub(crate) fn section(&self, plane: &Plane, frame: &Placement, tau: f64) -> Vec<Vec<DVec2>> {
        let height: Vec<f64> = self.points.iter().map(|&p| plane.distance(p)).collect();
        let above = |i: u32| height[i as usize] > -tau;
        if height.iter().all(|h| *h > -tau) || height.iter().all(|h| *h <= -tau) {
            return Vec::new();
        }
        // Segments of the section, by the polyhedron edge each starts from.
        let mut next: Vec<((u32, u32), (u32, u32))> = Vec::new();
        let mut down: Vec<(f64, (u32, u32))> = Vec::new();
        let mut up: Vec<(f64, (u32, u32))> = Vec::new();
        for face in &self.faces {
            down.clear();
            up.clear();
            let along = plane.normal.cross(face.plane.normal);
            for ring in &face.rings {
                let Some(&last) = ring.last() else { continue };
                let mut before = (last, above(last));
                for here in ring.iter().map(|&i| (i, above(i))) {
                    if before.1 != here.1 {
                        let key = (before.0.min(here.0), before.0.max(here.0));
                        let place = along.dot(self.crossing(key, &height, tau));
                        // A face runs round its material: it comes down where the
                        // section begins and goes up where it ends. Where both are in
                        // one corner, their places alone do not tell.
                        if before.1 { &mut down } else { &mut up }.push((place, key));
                    }
                    before = here;
                }
            }
            down.sort_by(|a, b| a.0.total_cmp(&b.0));
            up.sort_by(|a, b| a.0.total_cmp(&b.0));
            next.extend(down.iter().zip(&up).map(|(begin, end)| (begin.1, end.1)));
        }
        next.sort_by_key(|segment| segment.0);
        // Where two start from one edge, the one found later counts.
        next.reverse();
        next.dedup_by_key(|segment| segment.0);
        next.reverse();
        let mut gone = vec![false; next.len()];
        let mut rings = Vec::new();
        for first in 0..next.len() {
            let mut ring = Vec::new();
            let mut at = next[first].0;
            while let Some(i) = next.binary_search_by_key(&at, |s| s.0).ok().filter(|i| !gone[*i]) {
                gone[i] = true;
                let p = frame.local_point(self.crossing(at, &height, tau));
                ring.push(DVec2::new(p.x, p.y));
                at = next[i].1;
            }
            if ring.len() >= 3 {
                rings.push(ring);
            }
        }
        rings
    }

    /// Where edge `key` crosses height zero; an end within `tau` is taken as it is.
    fn crossing(&self, key: (u32, u32), height: &[f64], tau: f64) -> DVec3 {
        let (a, b) = (self.points[key.0 as usize], self.points[key.1 as usize]);
        let (ha, hb) = (height[key.0 as usize], height[key.1 as usize]);
        if ha.abs() <= tau {
            return a;
        }
        if hb.abs() <= tau {
            return b;
        }
        a + (b - a) * (ha / (ha - hb)).clamp(0.0, 1.0)
    }

    /// Smallest box round it.
    pub(crate) fn bounds(&self) -> (DVec3, DVec3) {
        bounds(&self.points)
    }
}

/// Smallest box round some points; empty gives an inverted box.
pub(crate) fn bounds(points: &[DVec3]) -> (DVec3, DVec3) {
    points.iter().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), &p| (lo.min(p), hi.max(p)))
}

/// Stations with coves and beads broken into steps: distance, radius, band.
fn profile(turning: &Turning) -> Vec<(f64, f64, u16)> {
    let mut steps = Vec::new();
    for (i, pair) in turning.stations.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        let count =
            if matches!(a.then, Transition::Straight | Transition::Fillet) { 1 } else { PROFILE_STEPS };
        for k in 0..count {
            let t = k as f64 / count as f64;
            steps.push((
                a.along + (b.along - a.along) * t,
                0.5 * diameter(a.diameter, b.diameter, t, a.then),
                short(i),
            ));
        }
    }
    if let Some(last) = turning.stations.last() {
        steps.push((last.along, 0.5 * last.diameter, short(turning.stations.len().saturating_sub(2))));
    }
    steps
}

/// Point index; parts never come near four thousand million corners.
fn index(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}

/// Ring or edge index; outlines are held below 65,536 corners.
fn short(i: usize) -> u16 {
    u16::try_from(i).unwrap_or(u16::MAX)
}

/// A face that closes a prism at height `w` above its outline.
fn cap(at: &Placement, w: f64, normal: DVec3, rings: Vec<Vec<u32>>, surface: Surface) -> PolyFace {
    let plane = Plane { normal, offset: normal.dot(at.point(DVec3::new(0.0, 0.0, w))) };
    PolyFace { plane, rings, surface }
}
