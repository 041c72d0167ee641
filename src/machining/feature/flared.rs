//! Sockets with sides that lean: for the pins and tails of dovetails.

use super::faces::{SAME, face_on};
use super::outlines::axis_of;
use crate::geometry::DVec3;
use crate::model::Face;
use crate::solid::Prism;

/// A socket with sides that lean: for a pin or a dovetail. Part coordinates, mm.
#[derive(Clone, Debug)]
pub(crate) struct Flared {
    /// Least corner inside the blank.
    pub(crate) min: DVec3,
    /// Greatest corner inside the blank.
    pub(crate) max: DVec3,
    /// The face it is cut from.
    pub(crate) entry: Face,
    /// The axis along the corner.
    pub(crate) run: usize,
    /// The axis along which it widens.
    pub(crate) rise: usize,
    /// Width at the lower and at the higher place of `rise`.
    pub(crate) widths: (f64, f64),
    /// One in this.
    pub(crate) ratio: f64,
    /// How many of its sides lean: one beside an edge of the board.
    pub(crate) leaning: usize,
    /// Whether it comes out behind.
    pub(crate) through: bool,
    /// How much of the blank there is along `rise`.
    pub(crate) blank_rise: f64,
}

/// A four-cornered outline with two sides along one axis, as a socket.
pub(crate) fn flared(shape: &Prism, size: DVec3, sweep: usize) -> Option<Flared> {
    let (run, rise) = (axis_of(shape.at.x)?, axis_of(shape.at.y)?);
    let [ring] = shape.outline.rings.as_slice() else { return None };
    let points: Vec<DVec3> =
        ring.points.iter().map(|p| shape.at.point(DVec3::new(p.x, p.y, shape.from))).collect();
    let (lo, hi) = span(points.iter().map(|p| p[rise]));
    let at = |level: f64| span(points.iter().filter(|p| (p[rise] - level).abs() < SAME).map(|p| p[run]));
    let (low, high) = (at(lo), at(hi));
    if points.len() != 4 || !low.0.is_finite() || !high.0.is_finite() || hi - lo < SAME {
        return None;
    }
    // The sides where they cross the blank.
    let (from, to) = (lo.max(0.0), hi.min(size[rise]));
    let on = |level: f64| {
        let t = (level - lo) / (hi - lo);
        let side = |a: f64, b: f64| (a + (b - a) * t).clamp(0.0, size[run]);
        (side(low.0, high.0), side(low.1, high.1))
    };
    let (first, last) = (on(from), on(to));
    let leans = [last.0 - first.0, last.1 - first.1].map(f64::abs);
    let leaning = leans.iter().filter(|l| **l > SAME).count();
    let lean = leans[0].max(leans[1]);
    let a = shape.at.point(DVec3::new(0.0, 0.0, shape.from))[sweep];
    let b = shape.at.point(DVec3::new(0.0, 0.0, shape.to))[sweep];
    let (near, far) = (a.min(b).max(0.0), a.max(b).min(size[sweep]));
    if far - near < SAME || leaning == 0 {
        return None;
    }
    let opens = (near < SAME, far > size[sweep] - SAME);
    let (mut min, mut max) = (DVec3::ZERO, DVec3::ZERO);
    (min[run], max[run]) = (first.0.min(last.0), first.1.max(last.1));
    (min[rise], max[rise]) = (from, to);
    (min[sweep], max[sweep]) = (near, far);
    Some(Flared {
        min,
        max,
        entry: face_on(sweep, opens.1 && !opens.0),
        run,
        rise,
        widths: (first.1 - first.0, last.1 - last.0),
        ratio: (to - from) / lean,
        leaning,
        through: opens.0 && opens.1,
        blank_rise: size[rise],
    })
}

/// Least and greatest.
fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
}

/// Steps to one that a slope is told in.
const FINEST: f64 = 100.0;

impl Flared {
    /// Width of its narrow side, mm.
    pub(crate) fn narrow(&self) -> f64 {
        self.widths.0.min(self.widths.1)
    }

    /// One in this, to a hundredth.
    pub(crate) fn ratio(&self) -> f64 {
        (self.ratio * FINEST).round() / FINEST
    }

    /// How deep it is cut from the end, mm.
    pub(crate) fn deep(&self) -> f64 {
        self.max.x - self.min.x
    }

    /// Whether two are alike but for their place.
    pub(crate) fn alike(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        let sorted = |f: &Self| (f.widths.0.min(f.widths.1), f.widths.0.max(f.widths.1));
        let ((a, b), (c, d)) = (sorted(self), sorted(other));
        (self.run, self.rise, self.leaning, self.through)
            == (other.run, other.rise, other.leaning, other.through)
            && close(a, c)
            && close(b, d)
            && (0..3).all(|i| close(self.max[i] - self.min[i], other.max[i] - other.min[i]))
    }

    /// Where it stands along the corner: its middle, or the low side of one that
    /// leans to one side only; `None` at an edge of the board.
    pub(crate) fn place(&self, size: DVec3) -> Option<(f64, char)> {
        let (low, high) = (self.min[self.run], self.max[self.run]);
        if self.leaning == 2 {
            return Some((f64::midpoint(low, high), 'c'));
        }
        (low > SAME && high < size[self.run] - SAME).then_some((low, 'a'))
    }

    /// Places on its outline a leader may touch: its sides, then its bottom.
    pub(crate) fn targets(&self, size: DVec3) -> Vec<DVec3> {
        let middle = f64::midpoint(self.min[self.rise], self.max[self.rise]);
        let lean = 0.5 * (self.widths.0 - self.widths.1).abs() / self.leaning as f64;
        let mut list = Vec::new();
        for (at, inward) in [(self.min[self.run], lean), (self.max[self.run], -lean)] {
            if at > SAME && at < size[self.run] - SAME {
                let mut p = 0.5 * (self.min + self.max);
                (p[self.run], p[self.rise]) = (at + inward, middle);
                list.push(p);
            }
        }
        for level in [self.min[self.rise], self.max[self.rise]] {
            if level > SAME && level < size[self.rise] - SAME {
                let mut p = 0.5 * (self.min + self.max);
                p[self.rise] = level;
                list.push(p);
            }
        }
        list
    }
}

impl Flared {
    /// Whether its wide side stops inside the board.
    pub(crate) fn lapped(&self) -> bool {
        let rise = self.max[self.rise] - self.min[self.rise];
        // Seen from an end, a through socket takes the whole thickness.
        matches!(self.entry, Face::NearEnd | Face::FarEnd) && self.blank_rise > rise + SAME
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{DVec2, Outline, Placement};

    fn socket(corners: &[(f64, f64)]) -> Option<Flared> {
        let outline = Outline::polygon(corners.iter().map(|c| DVec2::new(c.0, c.1)).collect());
        let shape = Prism { at: Placement::IDENTITY, outline, from: -1.0, to: 21.0 };
        flared(&shape, DVec3::new(100.0, 60.0, 20.0), 2)
    }

    /// By hand: 3 in 18 on either side is one in six, also where the cutter begins outside
    /// the board; a socket at the board's edge leans on one side only.
    #[test]
    fn the_slope_of_a_socket_is_that_of_its_sides() {
        for corners in [
            [(10.0, 0.0), (30.0, 0.0), (27.0, 18.0), (13.0, 18.0)],
            [(9.0, -6.0), (31.0, -6.0), (27.0, 18.0), (13.0, 18.0)],
        ] {
            let found = socket(&corners).unwrap();
            assert!((found.ratio - 6.0).abs() < 1e-9, "{found:?}");
            assert!(
                (found.widths.0 - 20.0).abs() < 1e-9 && (found.widths.1 - 14.0).abs() < 1e-9,
                "{found:?}"
            );
            assert_eq!((found.run, found.rise, found.leaning, found.through), (0, 1, 2, true));
            assert!((found.min - DVec3::new(10.0, 0.0, 0.0)).length() < 1e-9);
            assert!((found.max - DVec3::new(30.0, 18.0, 20.0)).length() < 1e-9);
        }
        let beside = socket(&[(-5.0, 0.0), (30.0, 0.0), (27.0, 18.0), (-5.0, 18.0)]).unwrap();
        assert_eq!(beside.leaning, 1);
        // Lapped is one that is cut from an end and stops inside the thickness.
        let lapped = |entry: Face, blank_rise: f64| {
            Flared {
                entry,
                blank_rise,
                ..socket(&[(10.0, 0.0), (30.0, 0.0), (27.0, 18.0), (13.0, 18.0)]).unwrap()
            }
            .lapped()
        };
        assert_eq!([20.0, 18.0].map(|thick| lapped(Face::NearEnd, thick)), [true, false]);
        assert!(lapped(Face::FarEnd, 20.0) && !lapped(Face::Marked, 20.0));
        // With a fifth corner, or without a slope, it is none.
        assert!(socket(&[(10.0, 0.0), (30.0, 0.0), (27.0, 18.0), (20.0, 18.5), (13.0, 18.0)]).is_none());
        assert!(socket(&[(10.0, 0.0), (30.0, 0.0), (30.0, 18.0), (10.0, 18.0)]).is_none());
    }
}
