//! How a door, flap or drawer opens, and where it stands on the way.

use super::tolerance::SAME_ANGLE;
use crate::geometry::{DVec3, Placement, trig};

/// How far a door opens where nothing is said, degrees.
pub(in crate::joinery) const QUARTER: f64 = 90.0;

/// How a part opens: a door or flap about its hinges, a drawer on its runners.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Opening {
    /// It turns.
    Swings {
        /// A point on the axis, piece coordinates, mm.
        about: DVec3,
        /// The axis, unit.
        axis: DVec3,
        /// Where its free edge goes first, unit.
        toward: DVec3,
        /// How far, degrees: a quarter mostly.
        by: f64,
    },
    /// It is drawn out.
    Slides {
        /// Which way, unit.
        toward: DVec3,
        /// How far, mm.
        by: f64,
    },
}

impl Opening {
    /// Where its free edge, or all of it, goes first, unit.
    pub fn toward(self) -> DVec3 {
        match self {
            Self::Swings { toward, .. } | Self::Slides { toward, .. } => toward,
        }
    }

    /// Where it has carried the space of the piece when it is opened by `share` of
    /// its way, 0 shut to 1 open; `middle` is a point well inside what opens.
    pub fn pose(self, middle: DVec3, share: f64) -> Placement {
        match self {
            Self::Slides { toward, by } => Placement::IDENTITY.moved(toward * (by * share)),
            Self::Swings { about, axis, toward, by } => {
                // Right-handed about the axis or against it, so that the leaf
                // comes out of the piece.
                let way = if axis.cross(middle - about).dot(toward) < 0.0 { -axis } else { axis };
                // A quarter is a quarter to the last digit.
                let degrees = by * share;
                let quarter = (degrees - QUARTER).abs() < SAME_ANGLE;
                let (sin, cos) = if quarter { (1.0, 0.0) } else { trig::sin_cos(degrees.to_radians()) };
                let turned = |p: DVec3| {
                    let along = way * way.dot(p);
                    along + (p - along) * cos + way.cross(p) * sin
                };
                let origin = about - turned(about);
                let (x, y, z) = (turned(DVec3::X), turned(DVec3::Y), turned(DVec3::Z));
                Placement { origin, x, y, z }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_door_turns_out_by_a_quarter_and_a_drawer_comes_out() {
        // Hinged at the left of its front, opening to the front.
        let door = Opening::Swings { about: DVec3::ZERO, axis: DVec3::Z, toward: DVec3::NEG_Y, by: 90.0 };
        let middle = DVec3::new(200.0, 9.0, 300.0);
        let near = |a: DVec3, b: DVec3| assert!(a.distance(b) < 1e-9, "{a} is not {b}");
        let at = |share: f64, p: [f64; 3]| door.pose(middle, share).point(p.into());
        near(at(0.0, [400.0, 18.0, 5.0]), DVec3::new(400.0, 18.0, 5.0));
        near(at(1.0, [400.0, 18.0, 5.0]), DVec3::new(18.0, -400.0, 5.0));
        let half = 400.0 * std::f64::consts::FRAC_1_SQRT_2;
        near(at(0.5, [400.0, 0.0, 5.0]), DVec3::new(half, -half, 5.0));
        // By 180 degrees it lies on what stands to its left.
        let flap = Opening::Swings { about: DVec3::ZERO, axis: DVec3::Z, toward: DVec3::NEG_Y, by: 180.0 };
        near(flap.pose(middle, 0.5).point(middle), DVec3::new(9.0, -200.0, 300.0));
        near(flap.pose(middle, 1.0).point(middle), DVec3::new(-200.0, -9.0, 300.0));
        let drawer = Opening::Slides { toward: DVec3::NEG_Y, by: 300.0 };
        near(drawer.pose(middle, 0.5).point(middle), DVec3::new(200.0, -141.0, 300.0));
    }
}
