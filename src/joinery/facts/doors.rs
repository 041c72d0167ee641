//! Facts: hinges, runners, handles, stops and catches.

use super::bore::Bore;
use super::thread::Thread;
use crate::model::Side;

/// Hinges, runners, handles, stops and catches.
#[derive(Clone, Debug, PartialEq)]
pub enum DoorFitting {
    /// A door on cup hinges.
    CupHinges(CupHinges),
    /// A door on butt hinges.
    ButtHinges(ButtHinges),
    /// A knob or pull on bolts.
    Bolted(Bolted),
    /// A nut let into a part.
    InsertNut(InsertNut),
    /// Blocks that stop a door.
    StopBlocks(StopBlocks),
    /// A catch and its plate.
    Catch(Catch),
    /// A runner of a drawer.
    Runner(Runner),
    /// Wood that slides on wood, drawn out so far, mm.
    Slide(f64),
}

/// Cup hinges and their plates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CupHinges {
    /// How many.
    pub count: usize,
    /// The bore of a cup.
    pub cup: Bore,
    /// How far the door covers the side, mm; where it shuts between the sides, the
    /// gap as a figure under 0.
    pub overlay: f64,
    /// From the door's edge to the middle of a cup, mm.
    pub from_edge: f64,
    /// The holes of a plate, two.
    pub plate_hole: Bore,
    /// Between those two, mm.
    pub plate_apart: f64,
    /// From the front of the side to them, mm.
    pub plate_line: f64,
}

/// Butt hinges let into both parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ButtHinges {
    /// How many.
    pub count: usize,
    /// Length of a leaf, mm.
    pub long: f64,
    /// Width of a leaf, mm.
    pub wide: f64,
    /// Depth of the recess in either part, mm.
    pub deep: f64,
    /// The side of the piece the recesses are open to.
    pub open: Side,
    /// Diameter of the screws' holes, mm.
    pub pilot: f64,
}

/// A knob or pull, and its holes right through the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bolted {
    /// Distance between the bolts of a pull, mm; `None` for a knob.
    pub centres: Option<f64>,
    /// How many holes.
    pub holes: usize,
    /// Their diameter, mm.
    pub hole: f64,
    /// The side of the piece they are bored from.
    pub from: Side,
}

/// A nut let into a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InsertNut {
    /// Its thread.
    pub thread: Thread,
    /// The bore for it.
    pub bore: Bore,
    /// The side of the piece it is bored from.
    pub from: Side,
}

/// Blocks that stop a door.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopBlocks {
    /// How many.
    pub count: usize,
    /// Length of a block, mm.
    pub long: f64,
    /// Its thickness, mm.
    pub thick: f64,
    /// How far it stands up, mm.
    pub high: f64,
    /// The holes of its fixings.
    pub pilot: Bore,
}

/// A catch that holds a door shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Catch {
    /// A magnet screwed on behind the door: its length and depth, mm, and the holes
    /// of its screws.
    Magnetic {
        /// Length, mm.
        long: f64,
        /// How far it reaches back, mm.
        deep: f64,
        /// The holes of its screws.
        pilot: Bore,
    },
    /// A magnet let into what the door shuts against.
    BoredMagnet {
        /// Its bore.
        bore: Bore,
    },
    /// A ball in the door's edge.
    Ball {
        /// Its bore.
        bore: Bore,
        /// Length, width and depth of the recess for its plate, mm.
        recess: [f64; 3],
        /// The holes of the plate's screws.
        pilot: Bore,
    },
}

/// A runner of one side of a drawer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Runner {
    /// Its length, mm.
    pub long: f64,
    /// Its holes in the case.
    pub case_hole: Bore,
    /// Where those are from the front, mm.
    pub case_at: [f64; 3],
    /// Its holes in the drawer.
    pub drawer_pilot: Bore,
}
