//! Facts: boards and panels let into channels.

use super::deep::Deep;
use crate::model::Side;

/// What is let into a channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Channel {
    /// A board housed across another.
    Housed(Housed),
    /// A panel held in a groove.
    Grooved(Grooved),
    /// Parts that lie in a step along a member.
    Rebated(Rebated),
    /// A bead that holds a pane or panel.
    Beaded(Beaded),
    /// Two parts cut away where they cross.
    Halved(Halved),
}

/// A board's end in a channel across another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Housed {
    /// Depth of the channel, mm.
    pub depth: f64,
    /// Width of the channel, mm.
    pub width: f64,
    /// Where the channel stops before an edge.
    pub stopped: Option<Stopped>,
    /// How much thinner the board's end is than the board, mm.
    pub shoulder: Option<f64>,
}

/// A channel that ends before an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stopped {
    /// As asked for, behind the front edge, mm.
    pub asked: f64,
    /// From the edge of the member to where it begins, mm.
    pub from_edge: f64,
    /// The side of the piece that edge looks to.
    pub edge: Side,
}

/// A panel's edge in a groove.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grooved {
    /// Width of the groove, mm.
    pub width: f64,
    /// Its depth, mm.
    pub depth: f64,
    /// Room left at its bottom, mm.
    pub room: f64,
    /// Whether that is room to swell and shrink in with the seasons.
    pub moves: bool,
    /// From the nearer edge of the member to the groove, mm.
    pub from_edge: f64,
    /// The side of the piece that edge looks to.
    pub edge: Side,
}

/// A step along a member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rebated {
    /// How far the parts lie on the member, mm.
    pub width: f64,
    /// Depth of the step, mm.
    pub depth: f64,
    /// The side of the piece it is open to.
    pub open: Side,
}

/// A strip that holds a pane or panel in its frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beaded {
    /// Its size on the pane, mm.
    pub width: f64,
    /// Its size off the pane, mm.
    pub thick: f64,
    /// How many of its ends are mitred.
    pub mitres: usize,
    /// Radius of its free arris, mm.
    pub round: Option<f64>,
    /// How many pins hold it.
    pub pins: usize,
    /// Diameter and length of a pin, mm.
    pub pin: [f64; 2],
    /// Between neighbouring pins, mm; nought where there is one.
    pub apart: f64,
}

/// Two parts, each cut away for the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Halved {
    /// Where they cross.
    pub at: CrossedAt,
    /// What is cut out of either, the first part first.
    pub depths: [Deep; 2],
}

/// Where two parts cross.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CrossedAt {
    /// Where both end.
    Corner,
    /// Where one of them runs on.
    Tee,
    /// Where both run on.
    Cross,
}
