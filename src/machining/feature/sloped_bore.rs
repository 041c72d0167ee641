//! The pocket of a pocket screw with its bore, and how a way in slopes.

use super::faces::SAME;
use crate::geometry::{DVec3, trig};
use crate::model::Face;

/// The pocket of a pocket screw with the bore that goes on from it.
#[derive(Clone, Debug)]
pub(crate) struct SlopedBore {
    /// Where its axis crosses the face.
    pub(crate) centre: DVec3,
    /// Unit vector into the wood.
    pub(crate) into: DVec3,
    /// Diameter of the pocket.
    pub(crate) diameter: f64,
    /// The cut that goes on, and its diameter.
    pub(crate) bore: Option<(usize, f64)>,
    /// From the shoulder along the bore to where it comes out.
    pub(crate) seat: f64,
    /// The face it is bored from.
    pub(crate) entry: Face,
}

/// How far a way into the wood slopes to the face, degrees.
pub(crate) fn slope(into: DVec3) -> f64 {
    trig::atan2(into.z.abs(), into.truncate().length()).to_degrees()
}

impl SlopedBore {
    /// Slope to the face, degrees.
    pub(crate) fn slope(&self) -> f64 {
        slope(self.into)
    }

    /// Whether two are alike but for their place and end.
    pub(crate) fn alike(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        self.entry == other.entry
            && (0..3).all(|i| close(self.into[i].abs(), other.into[i].abs()))
            && close(self.diameter, other.diameter)
            && close(self.seat, other.seat)
            && match (self.bore, other.bore) {
                (Some((_, a)), Some((_, b))) => close(a, b),
                (None, None) => true,
                _ => false,
            }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bores_are_alike_wherever_they_stand_and_at_either_end() {
        let bore = SlopedBore {
            centre: DVec3::new(20.0, 10.0, 0.0),
            into: DVec3::new(0.96, 0.0, 0.28),
            diameter: 9.5,
            bore: Some((1, 4.0)),
            seat: 15.0,
            entry: Face::Marked,
        };
        let other = SlopedBore {
            centre: DVec3::new(480.0, 70.0, 0.0),
            into: DVec3::new(-0.96, 0.0, 0.28),
            bore: Some((7, 4.0)),
            ..bore.clone()
        };
        assert!(bore.alike(&other));
        let differs = [
            SlopedBore { seat: 14.0, ..bore.clone() },
            SlopedBore { diameter: 9.0, ..bore.clone() },
            SlopedBore { bore: Some((1, 5.0)), ..bore.clone() },
            SlopedBore { bore: None, ..bore.clone() },
            SlopedBore { entry: Face::Back, ..bore.clone() },
            SlopedBore { into: DVec3::new(0.8, 0.0, 0.6), ..bore.clone() },
        ];
        assert!(differs.iter().all(|one| !bore.alike(one) && !one.alike(&bore)));
    }
}
