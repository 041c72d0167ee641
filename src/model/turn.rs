//! How a part stands out of the square, as a script asks for it.

use crate::geometry::DVec3;

/// A turn about a line, right-handed: seen against the axis it runs counter-clockwise.
/// Turns of one part follow one another, each of the part as the last has left it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// The way of the line.
    pub axis: TurnAxis,
    /// Degrees.
    pub by: f64,
    /// A point the line runs through.
    pub about: TurnPoint,
}

/// The way of the line a part is turned about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TurnAxis {
    /// A way in the piece, unit.
    Way(DVec3),
    /// The length of the part as it then stands.
    Length,
    /// Its width.
    Width,
    /// Its thickness.
    Thickness,
}

/// A point that a part is turned about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TurnPoint {
    /// In piece coordinates, mm.
    At(DVec3),
    /// Of the space the part fills before it is turned: on each axis -1 at its low
    /// side, 0 in its middle, 1 at its high side. It moves along with earlier turns.
    Of(DVec3),
}

/// A part placed along a line, from one end to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Runs {
    /// Where it begins.
    pub from: RunEnd,
    /// Where it ends.
    pub to: RunEnd,
    /// A point of its middle line, piece coordinates, mm; needed between two faces.
    pub through: Option<DVec3>,
    /// The way it runs, of any length; needed between two faces.
    pub toward: Option<DVec3>,
    /// Its width, mm.
    pub wide: f64,
    /// Its thickness, mm; that of its stock if not said.
    pub thick: Option<f64>,
    /// How far it is rolled about its middle line, degrees.
    pub roll: f64,
}

/// Where a part that runs along a line begins or ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RunEnd {
    /// At a point of its middle line, piece coordinates, mm.
    At(DVec3),
    /// On the face of a part, by its index into [`Job::parts`](super::Job::parts).
    On(usize),
}
