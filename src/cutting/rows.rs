//! The rows of the cutting list, and the panels that some of its parts are folded
//! from.

use super::{EndCuts, Inlaid, Need};
use crate::joinery::CutKind;
use crate::model::{Face, Side};

/// The whole list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CuttingList {
    /// Parts: by stock in script order, then thickness and length falling.
    pub parts: Vec<CutRow>,
    /// Lippings, sorted alike.
    pub lippings: Vec<CutRow>,
    /// Panels from which several of the parts are folded.
    pub folded: Vec<FoldedPanel>,
    /// Loose tenons, connectors, screws and the like.
    pub needs: Vec<Need>,
}

/// One row: parts of one number and hand.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct CutRow {
    /// Part number as printed, with its hand: `4 L`.
    pub mark: String,
    /// Part number.
    pub number: u32,
    /// Name, or names put together: `Shelf 1, 2`.
    pub name: String,
    /// How many, for all pieces made.
    pub quantity: usize,
    /// What it is cut from.
    pub stock: String,
    /// Along the grain, joints included, lippings not, mm.
    pub length: f64,
    /// Across it, mm.
    pub width: f64,
    /// mm.
    pub thickness: f64,
    /// Length, width and thickness to cut it to first, mm: what later cuts take
    /// is left on. `None` for what is not cut in the shop.
    pub rough: Option<[f64; 3]>,
    /// Of what comes from a board the one of these that is the thickness the board is
    /// sawn to: 2, or 1 for a strip ripped off the board's edge.
    #[serde(skip)]
    pub sawn: Option<usize>,
    /// Sloping ends, if any.
    pub ends: Option<EndCuts>,
    /// How the saw is set for ends that lean two ways.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub compound: Vec<CompoundEnd>,
    /// Lippings it gets.
    pub lipped: Vec<Lipped>,
    /// Cuts that wait until after a glue-up.
    pub after_glue_up: Vec<LaterCut>,
    /// For a lipping: the part it is glued to.
    pub of: Option<String>,
    /// What is inlaid in it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub inlaid: Vec<Inlaid>,
    /// What of the rough length is for holding it on the lathe, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chucking: Option<f64>,
    /// How many boards it is glued up of edge to edge, where it is more than one.
    pub staves: Option<usize>,
    /// How wide each of those is when it is jointed, mm.
    pub stave_width: Option<f64>,
    /// Mass of one, kg, where the density of the stock is known.
    pub mass: Option<f64>,
    /// Edges and ends left wide to be scribed on site.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub scribed: Vec<Scribed>,
    /// How many of them are cut already.
    #[serde(skip_serializing_if = "is_none")]
    pub cut: usize,
    /// Remark of the script.
    pub remark: Option<String>,
    /// Parts in the row: indices into [`WorkedJob::parts`](crate::joinery::WorkedJob::parts).
    #[serde(skip)]
    pub which: Vec<usize>,
}

/// An edge or end that is left wide to be scribed on site.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Scribed {
    /// The side of the piece it looks to.
    pub side: Side,
    /// What is left on it, mm.
    pub allow: f64,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
fn is_none(count: &usize) -> bool {
    *count == 0
}

impl CutRow {
    /// How many are still to be cut.
    pub fn left(&self) -> usize {
        self.quantity.saturating_sub(self.cut)
    }
}

/// An end that leans two ways, as the saw is set for it.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct CompoundEnd {
    /// The end.
    pub end: Face,
    /// The mitre fence off square, degrees.
    pub gauge: f64,
    /// The blade off upright, degrees.
    pub blade: f64,
    /// Whether the part stands on its edge rather than lying on its face.
    pub on_edge: bool,
}

/// A cut that waits until after a glue-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LaterCut {
    /// Layers glued face to face are trimmed to size together.
    Trim,
    /// A cut of a joint or shaping.
    Cut(CutKind),
}

impl LaterCut {
    /// Its name in lists.
    pub fn name(self) -> &'static str {
        match self {
            Self::Trim => "trim",
            Self::Cut(kind) => kind.name(),
        }
    }
}

impl serde::Serialize for LaterCut {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.name())
    }
}

/// One lipped edge.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Lipped {
    /// The side of the piece it looks to.
    pub side: Side,
    /// Thickness of the lipping, mm.
    pub thick: f64,
    /// Its part number.
    pub mark: String,
}

impl CuttingList {
    /// Mass of all parts and lippings, kg; `None` if the density of any stock
    /// is not known.
    pub fn mass(&self) -> Option<f64> {
        self.parts.iter().chain(&self.lippings).map(|row| Some(row.mass? * row.quantity as f64)).sum()
    }

    /// Number of parts and lippings to cut.
    pub fn count(&self) -> usize {
        self.parts.iter().chain(&self.lippings).map(|row| row.quantity).sum()
    }
}

/// A panel that is cut as one, grooved and folded.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct FoldedPanel {
    /// The panel: its sizes, and what it is first cut to.
    pub row: CutRow,
    /// The names of the parts that are folded from it, in order.
    #[serde(skip)]
    pub names: Vec<String>,
    /// Whether the strip follows the grain, so that the grooves lie across it.
    pub along_grain: bool,
    /// Its grooves, from the end of the part named first.
    pub folds: Vec<FoldLine>,
    /// Face left under the grooves, mm; nought where they come through.
    pub skin: f64,
}

/// One V groove.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct FoldLine {
    /// Where its point lies, mm from the finished end of the part named first.
    pub at: f64,
    /// Angle between its sides, degrees.
    pub angle: f64,
    /// Depth, mm.
    pub depth: f64,
}
