//! What a turned profile measures: radii and volume between two places, exact.

use super::{Station, Transition, Turning};
use crate::geometry::tolerance::NOISE;
use crate::geometry::trig;

/// Diameter at `t` (0 to 1) of the way from one station to the next: a cove is
/// the quarter of an ellipse that hollows the wood, a bead the one that swells
/// it, whether the profile rises or falls.
pub(super) fn diameter(a: f64, b: f64, t: f64, how: Transition) -> f64 {
    match curve(a, b, how) {
        Curve::Straight => a + (b - a) * t,
        Curve::FlatFirst => a + (b - a) * (1.0 - (1.0 - t * t).sqrt()),
        Curve::SteepFirst => a + (b - a) * (1.0 - (1.0 - t) * (1.0 - t)).sqrt(),
    }
}

/// How a band runs, read along the axis.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Curve {
    Straight,
    /// It leaves along the axis and arrives square to it.
    FlatFirst,
    /// It leaves square to the axis and arrives along it.
    SteepFirst,
}

fn curve(a: f64, b: f64, how: Transition) -> Curve {
    match (how, a <= b) {
        (Transition::Straight | Transition::Fillet, _) => Curve::Straight,
        (Transition::Cove, true) | (Transition::Bead, false) => Curve::FlatFirst,
        (Transition::Cove, false) | (Transition::Bead, true) => Curve::SteepFirst,
    }
}

impl Station {
    /// Whether the profile from here to `next` leaves along the axis rather than
    /// square to it; false for straight lines.
    pub fn leaves_flat(&self, next: &Self) -> bool {
        curve(self.diameter, next.diameter, self.then) == Curve::FlatFirst
    }
}

impl Turning {
    /// The bands that reach over `from` to `to`, mm along the axis: the two
    /// stations, and the shares of the way between them that lie inside.
    fn bands(&self, from: f64, to: f64) -> impl Iterator<Item = (Station, Station, f64, f64)> {
        self.stations.windows(2).filter_map(move |pair| {
            let (a, b) = (pair[0], pair[1]);
            let long = b.along - a.along;
            let share = |at: f64| ((at - a.along) / long).clamp(0.0, 1.0);
            let reaches = long > NOISE && b.along >= from && a.along <= to;
            reaches.then(|| (a, b, share(from), share(to)))
        })
    }

    /// Least and greatest radius from `from` to `to`, mm along the axis. `None`
    /// where there is no wood.
    pub fn radii(&self, from: f64, to: f64) -> Option<(f64, f64)> {
        // No band turns back between its ends, so the ends are enough.
        let ends = self.bands(from, to).flat_map(|(a, b, low, high)| {
            [low, high].map(|t| 0.5 * diameter(a.diameter, b.diameter, t, a.then))
        });
        ends.fold(None, |all: Option<(f64, f64)>, r| {
            Some(all.map_or((r, r), |(low, high)| (low.min(r), high.max(r))))
        })
    }

    /// Radius at a place, mm; at a shoulder the greater.
    pub fn radius(&self, along: f64) -> Option<f64> {
        self.radii(along, along).map(|(_, greatest)| greatest)
    }

    /// Volume from `from` to `to`, mm3: frustums of cones, and for coves and beads
    /// the quarter of an ellipse turned about the axis, both in closed form.
    pub fn volume(&self, from: f64, to: f64) -> f64 {
        let pi = std::f64::consts::PI;
        let band = |(a, b, low, high): (Station, Station, f64, f64)| {
            let long = b.along - a.along;
            let (ra, rb) = (0.5 * a.diameter, 0.5 * b.diameter);
            let squares = match curve(ra, rb, a.then) {
                Curve::Straight => {
                    let at = |t: f64| ra + (rb - ra) * t;
                    let (p, q) = (at(low), at(high));
                    (high - low) * (p * p + p * q + q * q) / 3.0
                }
                Curve::FlatFirst => quarter(rb, ra - rb, low, high),
                Curve::SteepFirst => quarter(ra, rb - ra, 1.0 - high, 1.0 - low),
            };
            pi * long * squares
        };
        self.bands(from, to).map(band).sum()
    }
}

/// Shares of a quarter of an ellipse that its surface is summed over: Simpson's rule on so
/// many is exact to the last figures of any list.
const SHARES: u32 = 64;

impl Turning {
    /// Surface of the whole, ends and shoulders included, mm2: cones in closed form,
    /// beads and coves by Simpson's rule over the angle of their ellipse.
    pub fn surface(&self) -> f64 {
        let pi = std::f64::consts::PI;
        let disc = |diameter: f64| 0.25 * pi * diameter * diameter;
        let ends = [self.stations.first(), self.stations.last()];
        let ends: f64 = ends.into_iter().flatten().map(|end| disc(end.diameter)).sum();
        let band = |pair: &[Station]| {
            let (a, b) = (pair[0], pair[1]);
            let (long, ra, rb) = (b.along - a.along, 0.5 * a.diameter, 0.5 * b.diameter);
            if long <= NOISE {
                return (disc(a.diameter) - disc(b.diameter)).abs();
            }
            // The radius where the ellipse leaves along the axis, and how far it goes.
            let (from, off) = match curve(ra, rb, a.then) {
                Curve::Straight => return pi * (ra + rb) * libm::hypot(long, rb - ra),
                Curve::FlatFirst => (rb, ra - rb),
                Curve::SteepFirst => (ra, rb - ra),
            };
            let at = |k: u32| {
                let (sin, cos) =
                    trig::sin_cos(std::f64::consts::FRAC_PI_2 * f64::from(k) / f64::from(SHARES));
                let weight = if k == 0 || k == SHARES { 1.0 } else { f64::from(2 + 2 * (k % 2)) };
                weight * (from + off * cos) * libm::hypot(long * cos, off * sin)
            };
            let step = std::f64::consts::FRAC_PI_2 / f64::from(SHARES);
            2.0 * pi * (0..=SHARES).map(at).sum::<f64>() * step / 3.0
        };
        ends + self.stations.windows(2).map(band).sum::<f64>()
    }
}

/// The integral of (c + e sqrt(1 - v2))2 over v from `low` to `high`.
fn quarter(c: f64, e: f64, low: f64, high: f64) -> f64 {
    let whole = |v: f64| {
        let root = (1.0 - v * v).max(0.0).sqrt();
        c * c * v + c * e * (v * root + libm::asin(v.clamp(-1.0, 1.0))) + e * e * (v - v * v * v / 3.0)
    };
    whole(high) - whole(low)
}
