//! Facts: mitres, fingers, dovetails.

use super::deep::Deep;

/// Mitres, fingers, dovetails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CornerJoint {
    /// Two parts sawn to one plane.
    Mitred(Mitred),
    /// Two sloping boards sawn to one plane.
    CompoundMitre([CompoundSaw; 2]),
    /// A groove on which a panel folds.
    Folded {
        /// Half of what the corner turns, degrees.
        tilt: f64,
        /// Depth of the groove, mm.
        deep: f64,
    },
    /// The mitre that closes a folded panel.
    Closing {
        /// Tilt of the saw, degrees.
        tilt: f64,
    },
    /// Square fingers of both boards.
    Fingered(Fingered),
    /// Tails of the first board and pins of the second.
    Dovetailed(Dovetailed),
}

/// A mitre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mitred {
    /// How far the saw leans from square to the first part and to the second,
    /// degrees.
    pub saws: [f64; 2],
    /// Whether the boards lie flat to one another, as those of a picture frame: the mitre is
    /// sawn across their width by the mitre fence, and no blade is tilted.
    pub flat: bool,
    /// What draws it together.
    pub connectors: Option<Connectors>,
}

/// Clamping connectors let into a mitre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Connectors {
    /// How many.
    pub count: usize,
    /// Length, width and depth of a pocket, mm.
    pub pocket: [f64; 3],
    /// From the inner corner to the middle of the pockets, mm.
    pub from_inner: f64,
    /// Diameter of the hole the key goes through, mm.
    pub key: f64,
}

/// How the saw is set for one board of a compound mitre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompoundSaw {
    /// The board: index in the worked job.
    pub part: usize,
    /// Mitre gauge off square, degrees.
    pub gauge: f64,
    /// Blade off upright, degrees.
    pub blade: f64,
}

/// Square fingers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fingered {
    /// How many, of both boards together.
    pub count: usize,
    /// Width of each, mm.
    pub width: f64,
    /// Width of the first and the last where it is another, mm.
    pub outer: Option<f64>,
    /// Depth of the sockets in either board, the first board first.
    pub depths: [Deep; 2],
}

/// Tails and pins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dovetailed {
    /// How many tails.
    pub count: usize,
    /// Their slope: one in this.
    pub pitch: f64,
    /// Wood of the second board before the ends of the tails, mm; `None` where they
    /// run through.
    pub lap: Option<f64>,
    /// Width of a pin at its narrow face, mm.
    pub pin: f64,
    /// Width of a half-pin at its narrow face, mm.
    pub half_pin: f64,
    /// Width of a tail at its end, mm.
    pub tail: f64,
}
