//! The shapes a solid is made from.

use super::tolerance::ASKEW;
use crate::geometry::{DVec2, DVec3, Outline, Placement};

/// An outline swept along the z axis of its placement.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// Frame of the outline: outline x and y are frame x and y.
    pub at: Placement,
    /// The outline swept.
    pub outline: Outline,
    /// Where the sweep begins, along frame z.
    pub from: f64,
    /// Where it ends; greater than `from`.
    pub to: f64,
}

/// How a turned profile runs from a station to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Transition {
    /// A straight line: a cylinder or a taper.
    Straight,
    /// A hollow quarter.
    Cove,
    /// A round bead.
    Bead,
    /// A flat: a cylinder, mostly narrow, that ends in a square step.
    Fillet,
}

/// A place along a turning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Distance along the axis, mm.
    pub along: f64,
    /// Diameter there, mm.
    pub diameter: f64,
    /// How the profile runs on to the next station.
    pub then: Transition,
}

/// A body of revolution about the z axis of its placement.
#[derive(Clone, Debug, PartialEq)]
pub struct Turning {
    /// Frame whose z axis is the lathe axis.
    pub at: Placement,
    /// Stations in order of `along`.
    pub stations: Vec<Station>,
}

/// What a part is before anything is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub enum Body {
    /// Flat stock.
    Prism(Prism),
    /// Turned stock.
    Turning(Turning),
}

impl Prism {
    /// The box between two opposite corners, outline in the xy plane of the
    /// space, swept along z.
    pub fn cuboid(min: DVec3, max: DVec3) -> Self {
        Self {
            at: Placement::IDENTITY,
            outline: Outline::rect(DVec2::new(min.x, min.y), DVec2::new(max.x, max.y)),
            from: min.z,
            to: max.z,
        }
    }
}

/// How far a half space reaches beyond the place it is given for, mm; more
/// than any piece is long.
const REACH: f64 = 20_000.0;

impl Prism {
    /// The box that spans `min` to `max` in the coordinates of `at`.
    pub fn block(at: Placement, min: DVec3, max: DVec3) -> Self {
        Self {
            at,
            outline: Outline::rect(DVec2::new(min.x, min.y), DVec2::new(max.x, max.y)),
            from: min.z,
            to: max.z,
        }
    }

    /// Everything on the side of the plane through `point` that `normal`
    /// points to. `None` if `normal` is null.
    pub fn half_space(point: DVec3, normal: DVec3) -> Option<Self> {
        // Any way across serves, but one near the normal itself would leave a frame of
        // noise.
        let hint = if normal.x.abs() < ASKEW * normal.length() { DVec3::X } else { DVec3::Y };
        let at = Placement::looking(point, normal, hint)?;
        let corner = DVec3::new(REACH, REACH, REACH);
        Some(Self::block(at, DVec3::new(-REACH, -REACH, 0.0), corner))
    }

    /// A round hole: from `start` along `along` (any length but null) for
    /// `depth`, of diameter `diameter`. `None` if a size is not positive.
    pub fn hole(start: DVec3, along: DVec3, depth: f64, diameter: f64) -> Option<Self> {
        let hint = if along.x.abs() < ASKEW * along.length() { DVec3::X } else { DVec3::Y };
        let at = Placement::looking(start, along, hint)?;
        (depth > 0.0 && diameter > 0.0).then(|| Self {
            at,
            outline: Outline::circle(DVec2::ZERO, 0.5 * diameter),
            from: 0.0,
            to: depth,
        })
    }

    /// The same shape in the space that `outer` is placed in.
    pub fn within(&self, outer: &Placement) -> Self {
        Self { at: self.at.within(outer), ..self.clone() }
    }

    /// The same shape, given in the surrounding space, in the coordinates of
    /// `inner`.
    pub fn seen_from(&self, inner: &Placement) -> Self {
        Self { at: self.at.seen_from(inner), ..self.clone() }
    }
}
