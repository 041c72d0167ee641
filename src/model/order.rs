//! What the script says of the order of work: the glue, what is made up by itself, and
//! what goes in before what.

use super::PartId;
use crate::source::Origin;

/// The glue of the job, and how fast the shop works with it; what is left out is assumed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Glue {
    /// Its name, if said.
    pub name: Option<String>,
    /// Open time as said, minutes.
    pub open: Option<f64>,
    /// Time in the clamps as said, minutes.
    pub clamped: Option<f64>,
    /// Time until it is cured as said, hours.
    pub cured: Option<f64>,
    /// Time for one joint as said, minutes.
    pub rate: Option<f64>,
}

impl Glue {
    /// Time in which parts must be together once white glue is spread, minutes: the short
    /// end of 10 to 20 on a supplier's sheet.
    pub const OPEN: f64 = 10.0;
    /// Time in the clamps, minutes: the middle of 30 to 90 on the same sheet.
    pub const CLAMPED: f64 = 60.0;
    /// Time until it may be worked or loaded, hours: the same sheet.
    pub const CURED: f64 = 24.0;
    /// Time to spread one joint and bring it together, minutes (common practice, no source).
    pub const RATE: f64 = 1.0;

    /// Open time, minutes: as said, or assumed.
    pub fn open(&self) -> f64 {
        self.open.unwrap_or(Self::OPEN)
    }

    /// Time in the clamps, minutes: as said, or assumed.
    pub fn clamped(&self) -> f64 {
        self.clamped.unwrap_or(Self::CLAMPED)
    }

    /// Time until it is cured, hours: as said, or assumed.
    pub fn cured(&self) -> f64 {
        self.cured.unwrap_or(Self::CURED)
    }

    /// Time for one joint, minutes: as said, or assumed.
    pub fn rate(&self) -> f64 {
        self.rate.unwrap_or(Self::RATE)
    }
}

/// Parts that are made up by themselves and go in whole.
#[derive(Clone, Debug)]
pub struct UnitAsked {
    /// What it is called.
    pub name: String,
    /// Its parts.
    pub parts: Vec<PartId>,
    /// Where it was written.
    pub origin: Origin,
}

/// Parts that go in before others.
#[derive(Clone, Debug)]
pub struct Before {
    /// What goes in first.
    pub first: Vec<PartId>,
    /// What goes in after it.
    pub then: Vec<PartId>,
    /// Where it was written.
    pub origin: Origin,
}

/// All that the script says of the order.
#[derive(Clone, Debug, Default)]
pub struct OrderAsked {
    /// The glue.
    pub glue: Glue,
    /// What is made up by itself, in script order.
    pub units: Vec<UnitAsked>,
    /// What goes in before what, in script order.
    pub before: Vec<Before>,
    /// Parts that are scribed, which go in last where their joints let them.
    pub scribed: Vec<PartId>,
}
