//! Flat outlines with true arcs remembered.

use super::DVec2;
use super::trig::{acos, atan2, sin_cos};
use crate::geometry::tolerance::{HAIR, NOISE};

/// Which entry of [`Outline::arcs`] an edge belongs to.
pub type ArcId = u16;

/// A true circle that some edges of an outline are facets of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre in outline coordinates, mm.
    pub centre: DVec2,
    /// True radius, mm; the facet corners lie on it.
    pub radius: f64,
}

/// One closed polygon. Edge `i` runs from point `i` to point `i + 1`
/// (the last one back to point 0).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ring {
    /// Corners in order; the first is not repeated at the end.
    pub points: Vec<DVec2>,
    /// For each edge, the arc it is a facet of, or `None` for a straight edge.
    /// Same length as `points`.
    pub edges: Vec<Option<ArcId>>,
}

/// A region: outer rings run counter-clockwise, holes clockwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// The rings. At least one for a shape that is not empty.
    pub rings: Vec<Ring>,
    /// The true circles that ring edges refer to.
    pub arcs: Vec<Arc>,
}

impl Ring {
    /// A ring of straight edges.
    pub fn straight(points: Vec<DVec2>) -> Self {
        let edges = vec![None; points.len()];
        Self { points, edges }
    }
}

impl Outline {
    /// One ring of straight edges, counter-clockwise.
    pub fn polygon(points: Vec<DVec2>) -> Self {
        Self { rings: vec![Ring::straight(points)], arcs: Vec::new() }
    }

    /// The rectangle between two opposite corners, `min` lower on both axes.
    pub fn rect(min: DVec2, max: DVec2) -> Self {
        Self::polygon(vec![min, DVec2::new(max.x, min.y), max, DVec2::new(min.x, max.y)])
    }
}

/// A corner of an outline, and how the edge that leaves it runs to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Where it is, mm.
    pub at: DVec2,
    /// The edge that leaves it.
    pub edge: Edge,
}

/// How an edge runs from one corner to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// Straight.
    Straight,
    /// An arc whose middle stands so far off the straight line between its ends,
    /// mm: above 0 to the outside of the outline, below 0 hollow.
    Rise(f64),
    /// An arc through this point.
    Through(DVec2),
}

impl Corner {
    /// A corner that a straight edge leaves.
    pub fn straight(x: f64, y: f64) -> Self {
        Self { at: DVec2::new(x, y), edge: Edge::Straight }
    }

    /// A corner that an arc leaves, of which the rise is given.
    pub fn rising(x: f64, y: f64, rise: f64) -> Self {
        Self { at: DVec2::new(x, y), edge: Edge::Rise(rise) }
    }

    /// Whether all its figures are numbers.
    fn is_finite(&self) -> bool {
        self.at.is_finite()
            && match self.edge {
                Edge::Straight => true,
                Edge::Rise(rise) => rise.is_finite(),
                Edge::Through(point) => point.is_finite(),
            }
    }

    /// How far the edge to `next` stands off its chord, mm, to the right of its
    /// way, in an outline whose corners run round `counter-clockwise` or not;
    /// `None` for a straight edge.
    fn rise_right(&self, next: DVec2, counter_clockwise: bool) -> Option<f64> {
        let rise = match self.edge {
            Edge::Straight => return None,
            Edge::Rise(rise) if counter_clockwise => rise,
            Edge::Rise(rise) => -rise,
            Edge::Through(point) => rise_through(self.at, point, next)?,
        };
        (rise.abs() > FLAT).then_some(rise)
    }
}

/// Arcs that stand less than this off their chord are straight, mm: lengths are
/// kept to as much.
const FLAT: f64 = 1e-6;

/// How far the arc from `a` through `point` to `b` stands off its chord, mm, to
/// the right of its way; `None` if the three lie in one line.
pub fn rise_through(a: DVec2, point: DVec2, b: DVec2) -> Option<f64> {
    let (u, v) = (a - point, b - point);
    // Seen from a point of the arc, its chord fills the angle q that the other arc
    // of the circle has at the centre over two; the rise is half the chord times
    // 1 / tan (q / 2), which is (1 + cos q) / sin q.
    let cross = v.perp_dot(u);
    let rise = 0.5 * a.distance(b) * (u.length() * v.length() + u.dot(v)) / cross;
    (rise.is_finite() && cross.abs() > FLAT * a.distance(b)).then_some(rise)
}

/// Least number of facets of a whole turn. A multiple of four, so that quarters
/// fall on corners; enough for any drilled hole to keep to [`SAGITTA`].
const LEAST_FACETS: u32 = 32;

/// Most facets of a whole turn: beyond a radius of about a metre and a third
/// they grow longer instead of more.
const MOST_FACETS: u32 = 256;

/// How far the middle of a facet may lie inside the true circle, mm: a tenth
/// of a line's width at a scale of one to five.
const SAGITTA: f64 = 0.1;

/// Number of facets of a whole turn of a true radius, mm: a multiple of four.
fn facets(radius: f64) -> u32 {
    // A facet over the angle 2 a leaves the circle by r (1 - cos a).
    let quarter = std::f64::consts::FRAC_PI_4 / acos(1.0 - SAGITTA / radius);
    (1..=MOST_FACETS / 4)
        .map(|n| 4 * n)
        .find(|n| f64::from(*n) >= 4.0 * quarter)
        .map_or(MOST_FACETS, |n| n.max(LEAST_FACETS))
}

impl Outline {
    /// A circle, its facets' corners on the true radius.
    pub fn circle(centre: DVec2, radius: f64) -> Self {
        let n = facets(radius);
        let points = (0..n)
            .map(|k| {
                let (s, c) = sin_cos(std::f64::consts::TAU * f64::from(k) / f64::from(n));
                centre + radius * DVec2::new(c, s)
            })
            .collect();
        let edges = vec![Some(0); n as usize];
        Self { rings: vec![Ring { points, edges }], arcs: vec![Arc { centre, radius }] }
    }

    /// A bore for something round: a circle whose facets touch the true radius from
    /// outside, so that a facetted part of that radius lies within it.
    pub fn bore(centre: DVec2, radius: f64) -> Self {
        let n = facets(radius);
        // Facets look along the axes, so that it is as wide there as it is.
        let half = std::f64::consts::PI / f64::from(n);
        let corner = radius / sin_cos(half).1;
        let points = (0..n)
            .map(|k| {
                let (s, c) = sin_cos(half * f64::from(2 * k + 1));
                centre + corner * DVec2::new(c, s)
            })
            .collect();
        let edges = vec![Some(0); n as usize];
        Self { rings: vec![Ring { points, edges }], arcs: vec![Arc { centre, radius }] }
    }

    /// A slot with round ends between two centres; a circle if they coincide.
    pub fn stadium(a: DVec2, b: DVec2, radius: f64) -> Self {
        let Some(along) = (b - a).try_normalize() else { return Self::circle(a, radius) };
        let side = along.perp() * radius;
        let mut build = Builder::default();
        build.line_to(a - side);
        build.line_to(b - side);
        build.arc_about(b, b + side);
        build.line_to(a + side);
        build.arc_about(a, a - side);
        build.close()
    }

    /// A rectangle with round corners; `radius` is held to half the lesser side.
    pub fn round_rect(min: DVec2, max: DVec2, radius: f64) -> Self {
        let r = radius.min(0.5 * (max.x - min.x)).min(0.5 * (max.y - min.y));
        if r.is_nan() || r <= 0.0 {
            return Self::rect(min, max);
        }
        let mut build = Builder::default();
        let corners = [
            (DVec2::new(max.x - r, min.y + r), DVec2::new(0.0, -r), DVec2::new(r, 0.0)),
            (DVec2::new(max.x - r, max.y - r), DVec2::new(r, 0.0), DVec2::new(0.0, r)),
            (DVec2::new(min.x + r, max.y - r), DVec2::new(0.0, r), DVec2::new(-r, 0.0)),
            (DVec2::new(min.x + r, min.y + r), DVec2::new(-r, 0.0), DVec2::new(0.0, -r)),
        ];
        for (centre, from, to) in corners {
            build.line_to(centre + from);
            build.arc_about(centre, centre + to);
        }
        build.close()
    }

    /// A polygon whose edges may be arcs. Turned round if it runs clockwise. Two
    /// corners, or corners in one line, count as running counter-clockwise where
    /// the outside of an arc is asked for. `None` if what they enclose is nothing.
    pub fn arced(corners: &[Corner]) -> Option<Self> {
        let n = corners.len();
        if n < 2 || corners.iter().any(|c| !c.is_finite()) {
            return None;
        }
        let chords = Ring::straight(corners.iter().map(|c| c.at).collect());
        let counter_clockwise = chords.area() > -1e-9;
        let mut build = Builder::default();
        for (i, corner) in corners.iter().enumerate() {
            let (a, b) = (corner.at, corners[(i + 1) % n].at);
            build.line_to(a);
            if a == b {
                continue;
            }
            if let Some(rise) = corner.rise_right(b, counter_clockwise) {
                // The centre lies on the other side of the chord's middle, by
                // (half chord squared - rise squared) over twice the rise.
                let across = (b - a).perp() / a.distance(b);
                let off = a.distance_squared(b) / (8.0 * rise) - 0.5 * rise;
                build.arc_turning(0.5 * (a + b) + across * off, b, rise > 0.0);
            }
        }
        let mut outline = build.close();
        let area = outline.area();
        if area.is_nan() || area.abs() <= NOISE {
            return None;
        }
        if area < 0.0 {
            for ring in &mut outline.rings {
                ring.points.reverse();
                // Edge i of the reversed ring is the old edge before corner i.
                ring.edges.reverse();
                ring.edges.rotate_left(1);
            }
        }
        Some(outline)
    }

    /// What a quarter round takes of a square corner at the origin: between both axes and
    /// the arc. `None` if the radius is nothing.
    pub fn outside_round(radius: f64) -> Option<Self> {
        // Half the angle of a quarter is 45 degrees.
        let hollow = -radius * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
        Self::arced(&[
            Corner::straight(0.0, 0.0),
            Corner::rising(radius, 0.0, hollow),
            Corner::straight(0.0, radius),
        ])
    }

    /// Area of the facets, mm2; holes count negative.
    pub fn area(&self) -> f64 {
        self.rings.iter().map(Ring::area).sum()
    }

    /// Least and greatest corner; `None` if there are no corners.
    pub fn bounds(&self) -> Option<(DVec2, DVec2)> {
        let mut points = self.rings.iter().flat_map(|r| &r.points).copied();
        let first = points.next()?;
        Some(points.fold((first, first), |(lo, hi), p| (lo.min(p), hi.max(p))))
    }
}

impl Ring {
    /// Signed area, mm2, counter-clockwise positive.
    pub fn area(&self) -> f64 {
        let Some(&origin) = self.points.first() else { return 0.0 };
        let next = self.points.iter().cycle().skip(1);
        0.5 * self.points.iter().zip(next).map(|(a, b)| (*a - origin).perp_dot(*b - origin)).sum::<f64>()
    }
}

/// Builds one ring corner by corner.
#[derive(Default)]
struct Builder {
    ring: Ring,
    arcs: Vec<Arc>,
}

impl Builder {
    /// A straight edge to `p` (the first call only starts there).
    fn line_to(&mut self, p: DVec2) {
        if self.ring.points.last().is_some_and(|q| q.distance(p) < NOISE) {
            return;
        }
        self.ring.points.push(p);
        self.ring.edges.push(None);
    }

    /// A counter-clockwise arc about `centre` to `end`.
    fn arc_about(&mut self, centre: DVec2, end: DVec2) {
        self.arc_turning(centre, end, true);
    }

    fn arc_turning(&mut self, centre: DVec2, end: DVec2, left: bool) {
        let Some(&start) = self.ring.points.last() else { return };
        let (from, to) = (start - centre, end - centre);
        let turn = std::f64::consts::TAU;
        let mut sweep = atan2(from.perp_dot(to), from.dot(to));
        if left && sweep <= 0.0 {
            sweep += turn;
        } else if !left && sweep >= 0.0 {
            sweep -= turn;
        }
        let whole = facets(from.length());
        // The share of a whole turn's facets, rounded up but for noise.
        let share = sweep.abs() / turn * f64::from(whole) - HAIR;
        let steps = (1..whole).find(|n| f64::from(*n) >= share).unwrap_or(whole);
        // An even number has a corner in the middle: where an arch rises to its height, which
        // sizes are taken from.
        let steps = steps.next_multiple_of(2);
        // Outlines are held below 65,536 corners.
        let id = ArcId::try_from(self.arcs.len()).unwrap_or(ArcId::MAX);
        self.arcs.push(Arc { centre, radius: from.length() });
        if let Some(last) = self.ring.edges.last_mut() {
            *last = Some(id);
        }
        for k in 1..=steps {
            let p = if k == steps {
                end
            } else {
                let (s, c) = sin_cos(sweep * f64::from(k) / f64::from(steps));
                centre + DVec2::new(c, s).rotate(from)
            };
            self.ring.points.push(p);
            self.ring.edges.push((k < steps).then_some(id));
        }
    }

    fn close(mut self) -> Outline {
        if let (Some(first), Some(last)) = (self.ring.points.first(), self.ring.points.last())
            && self.ring.points.len() > 1
            && first.distance(*last) < NOISE
        {
            self.ring.points.pop();
            self.ring.edges.pop();
        }
        Outline { rings: vec![self.ring], arcs: self.arcs }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn facets_keep_to_the_circle() {
        for radius in [0.5, 5.0, 17.5, 25.0, 100.0, 600.0, 1300.0] {
            let outline = Outline::circle(DVec2::ZERO, radius);
            let points = &outline.rings[0].points;
            let middle = 0.5 * (points[0] + points[1]);
            assert!(
                points.len().is_multiple_of(4) && radius - middle.length() <= SAGITTA,
                "{radius}: {middle}"
            );
        }
        assert_eq!((facets(4.0), facets(1e9)), (LEAST_FACETS, MOST_FACETS));
    }

    #[test]
    fn shapes_enclose_what_they_should() {
        // A regular n-gon in a circle: n/2 r2 sin(2 pi / n).
        let gon = 16.0 * 25.0 * sin_cos(std::f64::consts::TAU / 32.0).0;
        assert!((Outline::circle(DVec2::ONE, 5.0).area() - gon).abs() < 1e-9);
        let slot = Outline::stadium(DVec2::ZERO, DVec2::new(20.0, 0.0), 5.0);
        assert!((slot.area() - (gon + 200.0)).abs() < 1e-9, "{}", slot.area());
        let rect = Outline::round_rect(DVec2::ZERO, DVec2::new(30.0, 20.0), 5.0);
        assert!((rect.area() - (600.0 - 100.0 + gon)).abs() < 1e-9, "{}", rect.area());
        // Half circle on a 20 mm chord, either way round.
        for rise in [10.0, -10.0] {
            let half =
                Outline::arced(&[Corner::rising(0.0, 0.0, rise), Corner::straight(20.0, 0.0)]).unwrap();
            assert!((half.area() - 2.0 * gon).abs() < 1e-9, "{}", half.area());
            assert!((half.arcs[0].radius - 10.0).abs() < 1e-12);
            assert_eq!(half.rings[0].edges.iter().filter(|e| e.is_none()).count(), 1);
        }
        // A square less a quarter of the circle, whose middle is its far corner.
        let corner = Outline::outside_round(5.0).unwrap();
        assert!((corner.area() - (25.0 - 0.25 * gon)).abs() < 1e-9, "{}", corner.area());
        assert!(corner.arcs[0].centre.distance(DVec2::splat(5.0)) < 1e-9);
        assert_eq!(Outline::outside_round(0.0), None);
        let flat = [Corner::straight(0.0, 0.0), Corner::rising(20.0, 0.0, 0.0)];
        assert_eq!(Outline::arced(&flat), None);
    }

    /// A rail 380 long and 80 wide at its ends, whose top rises by 30: it is 110 wide, whatever
    /// the rise and the number of facets.
    #[test]
    fn an_arch_is_as_high_as_it_rises() {
        let straight = |x, y| Corner { at: DVec2::new(x, y), edge: Edge::Straight };
        for rise in [1.0, 7.0, 19.0, 30.0, 55.0, 120.0] {
            let arch = Corner { at: DVec2::new(380.0, 80.0), edge: Edge::Rise(rise) };
            let rail = [straight(0.0, 0.0), straight(380.0, 0.0), arch, straight(0.0, 80.0)];
            let (low, high) = Outline::arced(&rail).unwrap().bounds().unwrap();
            assert!((high.y - low.y - 80.0 - rise).abs() < 1e-9, "{rise}: {}", high.y - low.y);
        }
    }

    /// Three corners of a quarter circle of radius 10 about the first; its arc
    /// rises by 10 (1 - cos 45 degrees).
    #[test]
    fn arcs_rise_outward_whichever_way_the_corners_run() {
        let rise = 10.0 * (1.0 - 0.5_f64.sqrt());
        let on = DVec2::splat(10.0 * 0.5_f64.sqrt());
        // A quarter has eight of the circle's 32 facets.
        let pie = 8.0 * 50.0 * sin_cos(std::f64::consts::TAU / 32.0).0;
        let triangle = 50.0;
        let (a, b, c) = (DVec2::ZERO, DVec2::new(10.0, 0.0), DVec2::new(0.0, 10.0));
        let straight = |at| Corner { at, edge: Edge::Straight };
        for (edge, area) in [
            (Edge::Rise(rise), pie),
            (Edge::Through(on), pie),
            (Edge::Through(DVec2::new(10.0 * 0.8, 10.0 * 0.6)), pie),
            (Edge::Rise(-rise), 2.0 * triangle - pie),
            (Edge::Through(DVec2::splat(10.0) - on), 2.0 * triangle - pie),
        ] {
            let way = [straight(a), Corner { at: b, edge }, straight(c)];
            let back = [straight(a), Corner { at: c, edge }, straight(b)];
            for corners in [way, back] {
                let outline = Outline::arced(&corners).unwrap();
                assert!((outline.area() - area).abs() < 1e-9, "{edge:?}: {} is not {area}", outline.area());
                assert!((outline.arcs[0].radius - 10.0).abs() < 1e-9);
            }
        }
        // Three quarters of a circle: the middle stands more than half the chord off.
        let long =
            [straight(a), Corner { at: b, edge: Edge::Rise(10.0 + 10.0 * 0.5_f64.sqrt()) }, straight(c)];
        let arc = Outline::arced(&long).unwrap().arcs[0];
        assert!(
            arc.centre.distance(DVec2::splat(10.0)) < 1e-9 && (arc.radius - 10.0).abs() < 1e-9,
            "{arc:?}"
        );
        assert_eq!(rise_through(a, DVec2::new(4.0, 0.0), b), None);
        assert_eq!(rise_through(a, b, b), None);
    }
}
