//! Volume and surface of true rounds, where the solid has facets.
//!
//! Over a facet of a cylinder the true surface stands off by H(s) at s along its chord.
//! What lies between is the integral of H over the facet, and at its borders, where the
//! neighbour's plane leans by k from square, k H²/2 along each edge. Both are taken by
//! Green's theorem round the facet, so that ends cut at any angle are exact.

use std::collections::BTreeMap;

use super::{Body, Face, Prism, Provenance, Round, Solid, Surface, Surplus, Touched, Turning};
use crate::geometry::tolerance::{NOISE, NOTHING};
use crate::geometry::{ArcId, DVec3, Outline, trig};

/// Neighbours that lean further than this over a facet, as a tangent, bound nothing of
/// the strip over it: they are facets of a round beside it.
const STEEP: f64 = 1e3;

/// Places and weights of Gauss and Legendre's rule of five points on -1 to 1, which is
/// exact for polynomials of the ninth degree; a facet is far flatter.
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// The mean of a function between two places.
fn mean(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (middle, half) = (f64::midpoint(a, b), 0.5 * (b - a));
    GAUSS.iter().map(|(place, weight)| 0.5 * weight * f(middle + half * place)).sum()
}

/// Notes on a solid the true rounds that its facets stand for.
pub(super) fn remember(solid: &mut Solid, body: &Body, cutters: &[Prism]) {
    let prisms = (0_u32..).zip(cutters).map(|(i, prism)| (Some(i), prism));
    let own = match body {
        Body::Prism(prism) => Some((None, prism)),
        Body::Turning(turning) => {
            solid.turned = surplus(turning);
            None
        }
    };
    let mut used: Vec<Provenance> = solid.faces.iter().map(|f| f.from).collect();
    used.retain(|from| matches!(from.surface, Surface::Round { .. }));
    // Most parts have nothing round in them and pay nothing for this.
    if used.is_empty() {
        return;
    }
    used.sort_unstable();
    used.dedup();
    for (cutter, prism) in own.into_iter().chain(prisms) {
        for (arc, circle) in (0_u16..).zip(&prism.outline.arcs) {
            let from = Provenance { cutter, surface: Surface::Round { arc } };
            if used.binary_search(&from).is_err() {
                continue;
            }
            let origin = prism.at.point(circle.centre.extend(0.0));
            let touched = touched(&prism.outline, arc);
            solid.rounds.push(Round { from, origin, axis: prism.at.z, radius: circle.radius, touched });
        }
    }
}

/// What is true of facets that touch an arc from outside; `None` for all others.
fn touched(outline: &Outline, arc: ArcId) -> Option<Touched> {
    let circle = outline.arcs.get(usize::from(arc))?;
    let edges = outline.rings.iter().flat_map(|ring| {
        let next = ring.points.iter().cycle().skip(1);
        ring.points.iter().zip(next).zip(&ring.edges).filter(|(_, edge)| **edge == Some(arc))
    });
    let ((a, b), _) = edges.into_iter().next()?;
    let (radius, half) = (circle.radius, 0.5 * a.distance(*b));
    let off = (0.5 * (*a + *b)).distance(circle.centre);
    if (off - radius).abs() > NOISE * radius || half > radius {
        return None;
    }
    let turn = radius * trig::atan2(half, radius);
    let strip = half * mean(0.0, half, |s| radius - (radius * radius - s * s).sqrt());
    Some(Touched { strip: 0.5 * radius * (half - turn) / strip, surface: turn / half })
}

/// A facet seen along its chord: what the strip over it needs.
struct Facet {
    /// Along the chord, along the axis, out of the material.
    along: DVec3,
    axis: DVec3,
    out: DVec3,
    origin: DVec3,
    radius: f64,
    /// How far the facet's plane is from the axis, mm.
    off: f64,
    /// 1 where the true round holds more than the facet, -1 where it is hollow.
    more: f64,
    touched: Option<Touched>,
}

impl Facet {
    fn new(face: &Face, round: &Round) -> Option<Self> {
        let out = face.plane.normal;
        let off = face.plane.distance(round.origin);
        let along = round.axis.cross(out).try_normalize()?;
        Some(Self {
            along,
            axis: round.axis,
            out,
            origin: round.origin,
            radius: round.radius,
            off: off.abs(),
            // The normal points away from the axis, or to it.
            more: if off < 0.0 { 1.0 } else { -1.0 },
            touched: round.touched,
        })
    }

    /// Where a point is along the chord and along the axis.
    fn flat(&self, p: DVec3) -> (f64, f64) {
        let q = p - self.origin;
        (self.along.dot(q), self.axis.dot(q))
    }

    /// Half the chord of the round at `s` off the axis.
    fn half(&self, s: f64) -> f64 {
        (self.radius * self.radius - s * s).max(0.0).sqrt()
    }

    /// How far the true round stands off the facet.
    fn height(&self, s: f64) -> f64 {
        self.share() * (self.half(s) - self.off)
    }

    /// The integral of the height from the middle of the chord.
    fn strip(&self, s: f64) -> f64 {
        let round = s * self.half(s) + self.radius * self.radius * self.arc(s);
        self.share() * (0.5 * round - self.off * s)
    }

    fn share(&self) -> f64 {
        self.touched.map_or(1.0, |touched| touched.strip)
    }

    /// What the round is longer than the chord, from its middle to `s`.
    fn longer(&self, s: f64) -> f64 {
        match self.touched {
            Some(touched) => (touched.surface - 1.0) * s,
            None => self.radius * self.arc(s) - s,
        }
    }

    /// The angle that `s` is seen under from the axis.
    fn arc(&self, s: f64) -> f64 {
        libm::asin((s / self.radius).clamp(-1.0, 1.0))
    }
}

/// An edge of a facet, with the plane beyond it.
struct Border {
    from: DVec3,
    to: DVec3,
    /// Normal of the neighbour, if it bounds the strip.
    beyond: Option<DVec3>,
}

impl Facet {
    /// Along an edge: how far the neighbour's plane falls outward over each mm the round
    /// stands off, and how much the neighbour gains by it.
    fn lean(&self, border: &Border) -> Option<(f64, f64)> {
        let normal = border.beyond?;
        let edge = (border.to - border.from).try_normalize()?;
        let (toward, outward) = (self.out * self.more, edge.cross(self.out));
        let across = normal.dot(outward);
        if across.abs() * STEEP < 1.0 {
            return None;
        }
        let lean = -normal.dot(toward) / across;
        Some((lean, (toward + outward * lean).dot(normal.cross(edge))))
    }

    /// What the true round holds over the facet, seen from one edge of it.
    fn surplus(&self, border: &Border) -> Surplus {
        let ((s, l), (t, m)) = (self.flat(border.from), self.flat(border.to));
        let long = border.from.distance(border.to);
        let mut found = Surplus {
            volume: self.more * (m - l) * mean(s, t, |s| self.strip(s)),
            area: (m - l) * mean(s, t, |s| self.longer(s)),
        };
        if let Some((lean, gain)) = self.lean(border) {
            let half = |s: f64| self.half(s).max(NOTHING);
            found.volume += self.more * lean * long * mean(s, t, |s| 0.5 * self.height(s) * self.height(s));
            found.area += lean * long * mean(s, t, |s| self.height(s) * self.radius / half(s));
            found.area += gain * long * mean(s, t, |s| self.height(s));
        }
        found
    }
}

impl Solid {
    /// What the true rounds hold over the facets.
    fn surplus(&self) -> Surplus {
        let mut sum = self.turned;
        if self.rounds.is_empty() {
            return sum;
        }
        let rounds: BTreeMap<Provenance, &Round> = self.rounds.iter().map(|r| (r.from, r)).collect();
        let edges = |face: &Face| {
            let rings = face.loops.iter();
            rings
                .flat_map(|ring| ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)))
                .collect::<Vec<(u32, u32)>>()
        };
        let mut beside: BTreeMap<(u32, u32), &Face> = BTreeMap::new();
        for face in &self.faces {
            beside.extend(edges(face).into_iter().map(|edge| (edge, face)));
        }
        let at = |i: u32| self.points.get(i as usize).copied().unwrap_or_default();
        for face in &self.faces {
            let Some(facet) = rounds.get(&face.from).and_then(|round| Facet::new(face, round)) else {
                continue;
            };
            for (a, b) in edges(face) {
                // The next facet of the same round meets this one where both are true.
                let beyond = beside.get(&(b, a)).filter(|other| other.from != face.from);
                let border = Border { from: at(a), to: at(b), beyond: beyond.map(|f| f.plane.normal) };
                let found = facet.surplus(&border);
                sum.volume += found.volume;
                sum.area += found.area;
            }
        }
        sum
    }

    /// Volume with round surfaces truly round, mm3: holes, arcs and turned profiles in
    /// closed form. Where two rounds cut into one another the facets of the one bound
    /// the other.
    pub fn true_volume(&self) -> f64 {
        self.volume() + self.surplus().volume
    }

    /// Surface with round surfaces truly round, mm2.
    pub fn true_area(&self) -> f64 {
        self.area() + self.surplus().area
    }
}

/// What a turned body holds over its facets.
fn surplus(turning: &Turning) -> Surplus {
    let Ok(facets) = super::carve::facetted(&Body::Turning(turning.clone()), &[]) else {
        return Surplus::default();
    };
    let ends = turning.stations.first().zip(turning.stations.last());
    let Some((first, last)) = ends else { return Surplus::default() };
    Surplus {
        volume: turning.volume(first.along, last.along) - facets.volume(),
        area: turning.surface() - facets.area(),
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::geometry::{DVec2, Placement};
    use crate::solid::{Station, Transition, carve};

    const SIZE: DVec3 = DVec3::new(100.0, 60.0, 18.0);

    fn board(cutters: &[Prism]) -> Solid {
        carve(&Body::Prism(Prism::cuboid(DVec3::ZERO, SIZE)), cutters).unwrap()
    }

    #[track_caller]
    fn near(found: f64, exact: f64) {
        assert!((found - exact).abs() < 1e-9 * exact.abs(), "{found}, exactly {exact}");
    }

    const WHOLE: f64 = 100.0 * 60.0 * 18.0;
    const SKIN: f64 = 2.0 * (100.0 * 60.0 + 100.0 * 18.0 + 60.0 * 18.0);

    #[test]
    fn holes_take_what_a_cylinder_holds() {
        let middle = DVec3::new(50.0, 30.0, -1.0);
        for diameter in [3.0, 8.0, 35.0, 55.0] {
            let r = 0.5 * diameter;
            let through = board(&[Prism::hole(middle, DVec3::Z, 30.0, diameter).unwrap()]);
            near(through.true_volume(), WHOLE - PI * r * r * 18.0);
            near(through.true_area(), SKIN - 2.0 * PI * r * r + 2.0 * PI * r * 18.0);
            let blind = board(&[Prism::hole(middle, DVec3::Z, 11.0, diameter).unwrap()]);
            near(blind.true_volume(), WHOLE - PI * r * r * 10.0);
            near(blind.true_area(), SKIN + 2.0 * PI * r * 10.0);
        }
        // At an angle: its length along the axis, whatever it is cut by.
        let way = DVec3::new(3.0, 0.0, 4.0);
        let start = middle - way * 10.0;
        let skew = board(&[Prism::hole(start, way, 300.0, 20.0).unwrap()]);
        near(skew.true_volume(), WHOLE - PI * 100.0 * 18.0 / 0.8);
        // Two ellipses of 20 and 25 for a tube of that length.
        near(skew.true_area(), SKIN - 2.0 * PI * 10.0 * 12.5 + PI * 20.0 * 18.0 / 0.8);
    }

    #[test]
    fn arcs_and_round_ends_hold_what_they_should() {
        // A stadium as a body, and as a slot.
        let outline = Outline::stadium(DVec2::new(20.0, 30.0), DVec2::new(70.0, 30.0), 12.0);
        let body = Prism { at: Placement::IDENTITY, outline, from: 0.0, to: 18.0 };
        let area = PI * 144.0 + 50.0 * 24.0;
        let round = (2.0 * PI * 12.0 + 100.0) * 18.0;
        let solid = carve(&Body::Prism(body.clone()), &[]).unwrap();
        near(solid.true_volume(), area * 18.0);
        near(solid.true_area(), 2.0 * area + round);
        let slot = board(&[Prism { from: 7.0, to: 30.0, ..body }]);
        near(slot.true_volume(), WHOLE - area * 11.0);
        near(slot.true_area(), SKIN + (2.0 * PI * 12.0 + 100.0) * 11.0);
        // A bore is touched by its facets from outside.
        let outline = Outline::bore(DVec2::new(50.0, 30.0), 9.0);
        let bore = board(&[Prism { at: Placement::IDENTITY, outline, from: 6.0, to: 30.0 }]);
        near(bore.true_volume(), WHOLE - PI * 81.0 * 12.0);
        near(bore.true_area(), SKIN + 18.0 * PI * 12.0);
        // A hole in an edge, whose arris lies within a chord: less the segment beyond it.
        let hole = board(&[Prism::hole(DVec3::new(50.0, 1.0, -1.0), DVec3::Z, 30.0, 20.0).unwrap()]);
        let segment = 100.0 * trig::acos(0.1) - 99.0_f64.sqrt();
        let exact = WHOLE - (PI * 100.0 - segment) * 18.0;
        assert!((hole.true_volume() / exact - 1.0).abs() < 1e-7, "{} {exact}", hole.true_volume());
    }

    #[test]
    fn turned_parts_hold_what_their_profile_does() {
        let station = |along, diameter, then| Station { along, diameter, then };
        let turning = |stations| Turning { at: Placement::IDENTITY, stations };
        let cone = turning(vec![
            station(0.0, 40.0, Transition::Straight),
            station(100.0, 40.0, Transition::Straight),
            station(300.0, 20.0, Transition::Straight),
        ]);
        let solid = carve(&Body::Turning(cone), &[]).unwrap();
        near(solid.true_volume(), PI * 400.0 * 100.0 + PI * 200.0 / 3.0 * 700.0);
        let slope = (200.0_f64 * 200.0 + 100.0).sqrt();
        near(solid.true_area(), PI * (400.0 + 100.0) + 40.0 * PI * 100.0 + PI * 30.0 * slope);
        // A ball: two beads of a quarter circle.
        let ball = turning(vec![
            station(0.0, 0.5, Transition::Bead),
            station(29.75, 60.0, Transition::Bead),
            station(59.5, 0.5, Transition::Straight),
        ]);
        let solid = carve(&Body::Turning(ball.clone()), &[]).unwrap();
        near(solid.true_volume(), ball.volume(0.0, 59.5));
        // Bored in its end.
        let post = turning(vec![
            station(0.0, 60.0, Transition::Straight),
            station(400.0, 60.0, Transition::Straight),
        ]);
        let bored = Prism::hole(DVec3::new(0.0, 0.0, 300.0), DVec3::Z, 200.0, 20.0).unwrap();
        let solid = carve(&Body::Turning(post), &[bored]).unwrap();
        near(solid.true_volume(), PI * 900.0 * 400.0 - PI * 100.0 * 100.0);
    }
}
