//! How a part stands out of the square: what its space goes through after it is placed.

use crate::geometry::{DVec3, Interval, Placement, trig};

/// A turn about a line whose place is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::script) struct Spin {
    /// The way of the line, unit.
    pub(in crate::script) axis: DVec3,
    /// Degrees, right-handed.
    pub(in crate::script) by: f64,
    /// A point of it, piece coordinates, mm.
    pub(in crate::script) about: DVec3,
}

/// What a part goes through from the space it is written for to where it stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::script) struct Pose {
    /// Stood along a line: where the coordinates of its space come to lie.
    pub(in crate::script) stood: Option<Placement>,
    /// Turns after that, in their order.
    pub(in crate::script) spins: Vec<Spin>,
}

/// What is known of a part while the space it fills is read: faces that lean are where
/// they are only at the height and place where the part stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::script) struct Beside {
    /// How the part itself is turned: its space is measured as it lies before.
    pub(in crate::script) own: Pose,
    /// Its space on each axis, where that is known.
    pub(in crate::script) within: [Option<Interval>; 3],
}

/// A quarter turn, degrees.
const QUARTER: f64 = 90.0;

impl Pose {
    /// Whether the part stands just as it is written.
    pub(in crate::script) fn is_square(&self) -> bool {
        self.stood.is_none() && self.spins.is_empty()
    }

    /// Where a frame of the space comes to stand.
    pub(in crate::script) fn of(&self, at: Placement) -> Placement {
        let stood = self.stood.map_or(at, |stood| at.within(&stood));
        self.spins.iter().fold(stood, |at, spin| spin.turned(at))
    }
}

impl Spin {
    /// A frame turned about the line.
    fn turned(&self, at: Placement) -> Placement {
        let (sin, cos) = sin_cos(self.by);
        // Rodrigues' formula for a unit axis.
        let spin =
            |v: DVec3| v * cos + self.axis.cross(v) * sin + self.axis * (self.axis.dot(v) * (1.0 - cos));
        let (x, y) = (spin(at.x), spin(at.y));
        Placement { origin: self.about + spin(at.origin - self.about), x, y, z: x.cross(y) }
    }
}

/// Sine and cosine of an angle in degrees, exact at quarter turns: what is turned by
/// one is square to the last digit.
fn sin_cos(degrees: f64) -> (f64, f64) {
    let quarters = degrees / QUARTER;
    if quarters.fract() != 0.0 {
        return trig::sin_cos(degrees.to_radians());
    }
    // Of four, so that none is left over.
    match quarters.rem_euclid(4.0) {
        q if q < 0.5 => (0.0, 1.0),
        q if q < 1.5 => (1.0, 0.0),
        q if q < 2.5 => (0.0, -1.0),
        _ => (-1.0, 0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_follow_one_another_and_quarters_are_exact() {
        let spin = |axis: DVec3, by: f64| Spin { axis, by, about: DVec3::ZERO };
        let pose = Pose { stood: None, spins: vec![spin(DVec3::Z, 90.0), spin(DVec3::X, 90.0)] };
        // x goes to y and then to z, to the last digit.
        assert_eq!(pose.of(Placement::IDENTITY).x, DVec3::Z);
        let back = Pose { stood: None, spins: vec![spin(DVec3::X, 90.0), spin(DVec3::Z, 90.0)] };
        assert_eq!(back.of(Placement::IDENTITY).x, DVec3::Y);
        for turns in [-450.0, -270.0, 90.0, 450.0] {
            let (sin, cos) = sin_cos(turns);
            assert!((sin - trig::sin_cos(turns.to_radians()).0).abs() < 1e-9 && cos == 0.0, "{turns}");
        }
    }
}
