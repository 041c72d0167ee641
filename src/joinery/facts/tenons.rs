//! Facts: tenons and bridles.

use crate::model::Side;

/// Tenons and bridles.
#[derive(Clone, Debug, PartialEq)]
pub enum Tenoned {
    /// A mortise and tenon, square.
    Mortised(Mortised),
    /// A mortise and tenon of a part that leans.
    Leaning(Leaning),
    /// A part forked over another.
    Bridled(Bridled),
}

/// A tenon, or twin tenons, in a mortise square to the face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mortised {
    /// Thickness of one tenon, mm.
    pub thick: f64,
    /// Its width, mm.
    pub width: f64,
    /// Its length from the shoulders, mm.
    pub length: f64,
    /// Depth of the mortise, mm; `None` where it goes through.
    pub deep: Option<f64>,
    /// Space between twin tenons, mm; `None` for one tenon.
    pub apart: Option<f64>,
    /// The haunch.
    pub haunch: Option<Haunch>,
    /// The pegs across it.
    pub pegs: Option<Pegs>,
    /// The wedges in it.
    pub wedges: Option<Wedges>,
}

/// Wedges that spread a tenon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wedges {
    /// How many in one tenon.
    pub count: usize,
    /// Thickness at the head, mm.
    pub thick: f64,
    /// Depth of the kerfs they go into, mm.
    pub deep: f64,
    /// Width of the kerfs, mm.
    pub kerf: f64,
    /// From the edges of the tenon to the outer kerfs, mm.
    pub strip: f64,
    /// What either end of the mortise is opened by where the tenon ends, mm.
    pub opened: f64,
    /// Whether the bottom of the mortise drives them.
    pub foxed: bool,
}

/// Where a tenon is cut back, and the shallow mortise for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Haunch {
    /// Width of it, mm.
    pub width: f64,
    /// Depth of its mortise, mm.
    pub deep: f64,
}

/// Pegs across a tenon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pegs {
    /// How many.
    pub count: usize,
    /// Diameter, mm.
    pub thick: f64,
    /// From the face to their middles, along the tenon, mm.
    pub inset: f64,
    /// How much nearer the shoulder the holes in the tenon are, mm.
    pub draw: Option<f64>,
}

/// A tenon of a part that stands at an angle to the face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaning {
    /// Thickness of the tenon, mm.
    pub thick: f64,
    /// Its width, mm.
    pub width: f64,
    /// Its length, on the middle of the part, mm.
    pub length: f64,
    /// Depth of the mortise along its slope, mm; `None` where it goes through.
    pub deep: Option<f64>,
    /// Off square to the face, degrees.
    pub lean: f64,
    /// Mitre gauge for the shoulders, off square, degrees.
    pub gauge: f64,
    /// Blade for the shoulders, off upright, degrees.
    pub blade: f64,
    /// The pegs across it.
    pub pegs: Option<Pegs>,
}

/// A fork and the tongue that it sits astride.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bridled {
    /// Where the two meet.
    pub at: BridledAt,
    /// Thickness of the tongue, mm.
    pub tongue: f64,
    /// From a face of the forked part to the tongue, mm.
    pub from_face: f64,
    /// The side of the piece that face looks to.
    pub face: Side,
}

/// Where a bridle stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BridledAt {
    /// Where both parts end.
    Corner,
    /// Where one of them runs on.
    Tee,
}
