//! Facts: cleats, brackets, clips, points, feet and buttons.

use super::bore::Bore;
use super::thread::Thread;
use crate::model::Side;

/// Cleats, brackets, clips, points, feet and buttons.
#[derive(Clone, Debug, PartialEq)]
pub enum Hanging {
    /// A piece hooked over a strip on the wall.
    Cleat(Cleat),
    /// A shelf on rods out of the wall.
    Rods(Rods),
    /// Clips on the back of a frame.
    Clips(Clips),
    /// Points that hold a pane.
    Points(Points),
    /// Feet under a part.
    Feet(Feet),
    /// A top held by buttons.
    Buttoned(Buttoned),
    /// A top held by screws in slots.
    Slotted(Slotted),
}

/// A strip on the wall and the bevel that a piece hangs on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cleat {
    /// Off level, degrees.
    pub bevel: f64,
    /// How much of the strip's height the bevel takes, mm.
    pub across: f64,
    /// How many fixings hold it to the wall.
    pub fixings: usize,
    /// Diameter of their holes, mm.
    pub hole: f64,
    /// From the lower edge to those, mm.
    pub from_edge: f64,
}

/// Rods out of the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rods {
    /// How many.
    pub count: usize,
    /// Diameter of a rod, mm.
    pub thick: f64,
    /// How far it reaches into the shelf, mm.
    pub length: f64,
    /// Its bore.
    pub bore: Bore,
    /// From a face of the shelf to the middle of the bores, mm.
    pub from_face: f64,
    /// The side of the piece that face looks to.
    pub face: Side,
    /// Length, width and depth of the recess for a plate, mm.
    pub recess: Option<[f64; 3]>,
}

/// Pairs of clips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clips {
    /// How many pairs.
    pub count: usize,
    /// The holes of the screws of one.
    pub pilot: Bore,
    /// Between those two, mm.
    pub apart: f64,
}

/// Points round a pane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Points {
    /// How many.
    pub count: usize,
    /// Greatest distance between neighbours, mm.
    pub spacing: f64,
}

/// Feet under a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feet {
    /// How many.
    pub count: usize,
    /// Their thread.
    pub thread: Thread,
    /// The bore of their inserts.
    pub bore: Bore,
}

/// Buttons in slots of a rail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Buttoned {
    /// How many.
    pub count: usize,
    /// How far the top may move, mm.
    pub moves: f64,
    /// Length, width and depth of a slot, mm.
    pub slot: [f64; 3],
    /// From the top to the slots, mm.
    pub down: f64,
    /// The holes of the screws in the top.
    pub pilot: Bore,
}

/// Screws in slots of a rail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slotted {
    /// How many.
    pub count: usize,
    /// Diameter of a screw, mm.
    pub thick: f64,
    /// Its length, mm.
    pub length: f64,
    /// How far the top may move, mm.
    pub moves: f64,
    /// Length and width of a slot, mm.
    pub slot: [f64; 2],
    /// The holes of the screws in the top.
    pub pilot: Bore,
}
