//! The shapes a solid is made from.

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
