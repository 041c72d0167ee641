//! What a solid is made of: points, faces that know where they are from, edges.

use crate::geometry::{DVec3, Plane};

/// Which surface a face came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Provenance {
    /// `None` for the body itself, else the index of the cutter.
    pub cutter: Option<u32>,
    /// Which surface of it.
    pub surface: Surface,
}

/// The surfaces of a prism or turning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surface {
    /// The cap at the `from` end of a prism.
    NearCap,
    /// The cap at the `to` end of a prism.
    FarCap,
    /// The straight side over edge `edge` of ring `ring`.
    Side {
        /// Ring of the outline.
        ring: u16,
        /// Edge of the ring.
        edge: u16,
    },
    /// A facet of the round side over arc `arc` of the outline.
    Round {
        /// Arc of the outline.
        arc: u16,
    },
    /// A facet of turned band `band` (between two stations).
    Band {
        /// Index of the first station.
        band: u16,
    },
}

/// A flat face of a solid.
#[derive(Clone, Debug)]
pub struct Face {
    /// Its plane; the normal points out of the material.
    pub plane: Plane,
    /// The surface it came from.
    pub from: Provenance,
    /// Boundary chains of point indices; outer ones run counter-clockwise seen
    /// from outside the material, holes clockwise.
    pub loops: Vec<Vec<u32>>,
}

/// A straight edge between two faces.
#[derive(Clone, Copy, Debug)]
pub struct Edge {
    /// First point index.
    pub a: u32,
    /// Second point index.
    pub b: u32,
    /// The two faces that meet here.
    pub faces: [u32; 2],
    /// True between facets of one round surface: drawn only as a silhouette.
    pub smooth: bool,
}

/// A closed solid.
#[derive(Clone, Debug, Default)]
pub struct Solid {
    /// The corners.
    pub points: Vec<DVec3>,
    /// The faces.
    pub faces: Vec<Face>,
    /// The edges between them; edges inside one flat surface are left out.
    pub edges: Vec<Edge>,
}
