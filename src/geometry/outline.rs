//! Flat outlines with true arcs remembered.

use super::DVec2;

/// Which entry of [`Outline::arcs`] an edge belongs to.
pub type ArcId = u16;

/// A true circle that some edges of an outline are facets of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre in outline coordinates, mm.
    pub centre: DVec2,
    /// True radius, mm; the facet corners lie on it.
    pub radius: f64,
}

/// One closed polygon. Edge `i` runs from point `i` to point `i + 1`
/// (the last one back to point 0).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ring {
    /// Corners in order; the first is not repeated at the end.
    pub points: Vec<DVec2>,
    /// For each edge, the arc it is a facet of, or `None` for a straight edge.
    /// Same length as `points`.
    pub edges: Vec<Option<ArcId>>,
}

/// A region: outer rings run counter-clockwise, holes clockwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// The rings. At least one for a shape that is not empty.
    pub rings: Vec<Ring>,
    /// The true circles that ring edges refer to.
    pub arcs: Vec<Arc>,
}

impl Ring {
    /// A ring of straight edges.
    pub fn straight(points: Vec<DVec2>) -> Self {
        let edges = vec![None; points.len()];
        Self { points, edges }
    }
}

impl Outline {
    /// One ring of straight edges, counter-clockwise.
    pub fn polygon(points: Vec<DVec2>) -> Self {
        Self { rings: vec![Ring::straight(points)], arcs: Vec::new() }
    }

    /// The rectangle between two opposite corners, `min` lower on both axes.
    pub fn rect(min: DVec2, max: DVec2) -> Self {
        Self::polygon(vec![min, DVec2::new(max.x, min.y), max, DVec2::new(min.x, max.y)])
    }
}
