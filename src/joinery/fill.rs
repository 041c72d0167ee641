//! What is turned out of a part, filled and turned flush again.

use crate::source::Origin;

/// A ring or hollow filled flush: the part keeps its shape, not its wood.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    /// Where it is.
    pub shape: FillShape,
    /// What it is filled with: `black resin`.
    pub what: String,
    /// Density of that, kg/m3, if known.
    pub density: Option<f64>,
    /// Whether the script gives the density.
    pub stated: bool,
    /// What is mixed or cut over and above, per cent.
    pub waste: f64,
    /// What it holds, flush, mm3.
    pub volume: f64,
    /// Where it was asked for.
    pub origin: Origin,
}

/// The shape of what is filled. Places are mm along the lathe axis, as stations
/// count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FillShape {
    /// A groove all round.
    Ring {
        /// Its near edge.
        from: f64,
        /// Its far edge.
        to: f64,
        /// Depth from its lower edge.
        depth: f64,
    },
    /// A round hollow in an end.
    Hollow {
        /// Whether it is in the far end.
        far: bool,
        /// Diameter.
        diameter: f64,
        /// Depth from the end.
        depth: f64,
    },
}

impl FillShape {
    /// `ring` or `hollow`.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Ring { .. } => "ring",
            Self::Hollow { .. } => "hollow",
        }
    }

    /// Width of a ring or diameter of a hollow, and depth, mm.
    pub fn size(&self) -> (f64, f64) {
        match *self {
            Self::Ring { from, to, depth } => (to - from, depth),
            Self::Hollow { diameter, depth, .. } => (diameter, depth),
        }
    }
}

impl Fill {
    /// Whether two are the same but for their place.
    pub fn alike(&self, other: &Self) -> bool {
        let ((a, b), (c, d)) = (self.shape.size(), other.shape.size());
        self.shape.name() == other.shape.name()
            && self.what == other.what
            && (a - c).abs() < 0.01
            && (b - d).abs() < 0.01
    }
}

/// Whether two parts are filled alike, whichever way they lie.
pub(super) fn same_fills(a: &[Fill], b: &[Fill]) -> bool {
    let count = |list: &[Fill], one: &Fill| list.iter().filter(|other| other.alike(one)).count();
    a.len() == b.len() && a.iter().all(|one| count(a, one) == count(b, one))
}
