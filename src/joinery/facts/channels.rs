//! Facts: boards and panels let into channels.

use crate::model::Side;

/// What is let into a channel.
#[derive(Clone, Debug, PartialEq)]
pub enum Channel {
    /// A board housed across another.
    Housed(Housed),
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
