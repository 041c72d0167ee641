//! Facts: loose tenons, dowels, biscuits, screws, connectors, pins.

use super::bore::Bore;
use super::deep::Deep;
use super::item::BiscuitSize;
use crate::model::Side;

/// Loose tenons, dowels, biscuits, screws, connectors, pins.
#[derive(Clone, Debug, PartialEq)]
pub enum Inserted {
    /// One part screwed to another.
    Screwed(Screwed),
    /// Screws in sloping pockets.
    PocketScrewed(PocketScrewed),
    /// Dowels in both parts.
    Dowelled(Dowelled),
    /// Biscuits in both parts.
    Biscuits(Biscuits),
    /// Loose tenons in both parts.
    LooseTenons(LooseTenons),
    /// A shelf on pins in a side.
    ShelfPins(ShelfPins),
    /// Something bought that is put on a part.
    Fitted(Fitted),
}

/// Something bought, by the name the script gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// How many.
    pub count: usize,
    /// Its name.
    pub name: String,
}

/// Screws through one part into another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screwed {
    /// How many.
    pub count: usize,
    /// In how many rows.
    pub rows: usize,
    /// Whether those of every other row stand between those of its neighbours.
    pub staggered: bool,
    /// Diameter of the screws, mm.
    pub thick: f64,
    /// Their length, mm.
    pub length: f64,
    /// Diameter of the holes they pass, mm.
    pub clear: f64,
    /// The hole they hold in.
    pub pilot: Bore,
    /// Where their heads lie.
    pub heads: Heads,
    /// The slots they pass, where the part may move.
    pub slots: Option<Slots>,
}

/// Where the heads of screws lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Heads {
    /// Nothing is said.
    Unsaid,
    /// Flush, in a cone.
    Countersunk {
        /// Diameter of the cone at the face, mm.
        wide: f64,
    },
    /// Down a bore that stays open.
    Sunk(Bore),
    /// Down a bore that a plug closes.
    Plugged(Bore),
}

/// Slots that let a part move under its screws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slots {
    /// Length and width, mm.
    pub size: [f64; 2],
    /// How far the outer screws may move in them either way, mm.
    pub moves: f64,
    /// How many of the holes are no slots.
    pub fixed: usize,
}

/// Screws in pockets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PocketScrewed {
    /// How many.
    pub count: usize,
    /// Diameter of the screws and of the bores they pass, mm.
    pub thick: f64,
    /// Their length, mm.
    pub length: f64,
    /// The side of the piece they are driven from.
    pub from: Side,
    /// Diameter of the pockets, mm.
    pub pocket: f64,
    /// Their slope to the face, degrees.
    pub slope: f64,
    /// From the end of the part to the screw's head, along the bore, mm.
    pub shoulder: f64,
}

/// Dowels in a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dowelled {
    /// How many.
    pub count: usize,
    /// Diameter of the dowels and their holes, mm.
    pub thick: f64,
    /// Length of a dowel, mm.
    pub length: f64,
    /// The holes in both parts.
    pub holes: [Deep; 2],
}

/// Biscuits in a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Biscuits {
    /// How many.
    pub count: usize,
    /// Their size.
    pub size: BiscuitSize,
    /// Width of the slots, mm.
    pub slot: f64,
    /// Their depth, mm.
    pub deep: f64,
}

/// Loose tenons in a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LooseTenons {
    /// How many.
    pub count: usize,
    /// Their thickness, mm.
    pub thick: f64,
    /// Their length, mm.
    pub length: f64,
    /// Width of the mortises, mm.
    pub width: f64,
    /// The mortises in both parts.
    pub mortises: [Deep; 2],
}

/// Rows of holes for the pins of a shelf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShelfPins {
    /// How many rows.
    pub rows: usize,
    /// How many holes in each.
    pub holes: usize,
    /// The holes.
    pub hole: Bore,
    /// Between neighbours of a row, mm.
    pub pitch: f64,
    /// From the edges of the shelf to the rows, mm.
    pub setback: f64,
}
