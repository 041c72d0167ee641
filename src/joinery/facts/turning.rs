//! Facts: spigots. Rings and hollows are shaping, no joints.

use crate::model::Side;

/// The end of a turned part in a bore of another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnedJoint {
    /// Diameter of the spigot and its bore, mm.
    pub diameter: f64,
    /// How much of the spigot stands in the part, mm.
    pub long: f64,
    /// Depth of the bore, mm; `None` where it goes through.
    pub deep: Option<f64>,
    /// The side of the piece it is bored from.
    pub from: Side,
}
