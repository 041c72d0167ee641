//! What is turned out of a part, filled and turned flush again.

use super::tolerance::SAME_SIZE;
use crate::geometry::{DVec2, Outline, Placement};
use crate::solid::{Body, Prism, Solid, Station, Transition, Turning, carve};
use crate::source::Origin;

/// A round rod along the lathe axis.
fn cylinder(at: Placement, radius: f64, from: f64, to: f64) -> Prism {
    Prism { at, outline: Outline::circle(DVec2::ZERO, radius), from, to }
}

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
    /// The body of what is filled in a turning, in the coordinates of the part, for
    /// sections; `None` where it is nothing.
    pub fn solid(&self, turning: &Turning) -> Option<Solid> {
        let at = turning.at;
        let (from, to, core) = match self.shape {
            FillShape::Ring { from, to, depth } => {
                let ends = [from, to].map(|along| turning.radius(along));
                let [Some(a), Some(b)] = ends else { return None };
                let band = |along: f64, radius: f64| Station {
                    along,
                    diameter: 2.0 * radius,
                    then: Transition::Straight,
                };
                let body = Body::Turning(Turning { at, stations: vec![band(from, a), band(to, b)] });
                let core = turning.radii(from, to)?.0 - depth;
                return carve(&body, &[cylinder(at, core, from - 1.0, to + 1.0)]).ok();
            }
            FillShape::Hollow { far, diameter, depth } => {
                let end = turning.stations.last()?.along;
                let (from, to) = if far { (end - depth, end) } else { (0.0, depth) };
                (from, to, 0.5 * diameter)
            }
        };
        carve(&Body::Prism(cylinder(at, core, from, to)), &[]).ok()
    }

    /// Whether two are the same but for their place.
    pub fn alike(&self, other: &Self) -> bool {
        let ((a, b), (c, d)) = (self.shape.size(), other.shape.size());
        self.shape.name() == other.shape.name()
            && self.what == other.what
            && (a - c).abs() < SAME_SIZE
            && (b - d).abs() < SAME_SIZE
    }
}

/// Whether two parts are filled alike, whichever way they lie.
pub(in crate::joinery) fn same_fills(a: &[Fill], b: &[Fill]) -> bool {
    let count = |list: &[Fill], one: &Fill| list.iter().filter(|other| other.alike(one)).count();
    // Counted, not only found: two rings alike on one part are not one such ring on the
    // other.
    a.len() == b.len() && a.iter().all(|one| count(a, one) == count(b, one))
}
