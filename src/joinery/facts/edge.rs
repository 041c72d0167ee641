//! Facts: edge joints and lippings.

use crate::model::Side;

/// Edge joints and lippings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeJoint {
    /// A part glued against another; nothing is cut.
    Butted,
    /// A strip glued to an edge.
    Lipped(Lipped),
    /// Two layers glued face to face.
    Layered {
        /// Left on every edge, and trimmed off both together, mm.
        oversize: f64,
    },
    /// A tongue of one board in a groove of the other.
    Tongued(Tongued),
    /// A strip in grooves of both boards.
    LooseTongue {
        /// The strip and its grooves.
        strip: Strip,
        /// How far they stop from the end towards the front, left or bottom and from the other,
        /// mm.
        stopped: Option<[f64; 2]>,
    },
    /// A strip in grooves square to the slope of a mitre.
    MitredTongue(Strip),
}

/// A strip on one edge of a panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lipped {
    /// Its thickness, mm.
    pub thick: f64,
    /// Its width before it is trimmed, mm.
    pub width: f64,
    /// The side of the piece it looks to.
    pub side: Side,
    /// How far it stands over the panel on both faces, mm.
    pub proud: Option<f64>,
    /// How far its outer face leans in, degrees.
    pub bevel: Option<f64>,
}

/// A tongue and the groove for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tongued {
    /// Thickness of the tongue and width of the groove, mm.
    pub thick: f64,
    /// Length of the tongue from its shoulders, mm.
    pub long: f64,
    /// Depth of the groove, mm.
    pub deep: f64,
}

/// A loose tongue and the grooves for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Its thickness and the width of the grooves, mm.
    pub thick: f64,
    /// Its width, half of it in each board, mm.
    pub width: f64,
    /// Depth of the grooves, mm.
    pub deep: f64,
}
