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

/// A face in space before its corners are joined to its neighbours'.
pub(super) struct LooseFace {
    pub(super) plane: Plane,
    pub(super) from: Provenance,
    pub(super) rings: Vec<Vec<DVec3>>,
}

impl LooseFace {
    /// The face with its corners shared.
    pub(super) fn face(&self, loops: Vec<Vec<u32>>) -> Face {
        Face { plane: self.plane, from: self.from, loops }
    }
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

/// A true round surface that some faces are facets of, in the coordinates the solid was
/// made in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Round {
    /// The surface its facets came from.
    pub from: Provenance,
    /// A point of its axis, mm.
    pub origin: DVec3,
    /// Its axis, unit.
    pub axis: DVec3,
    /// True radius, mm.
    pub radius: f64,
    /// For facets that touch the round from outside.
    pub touched: Option<Touched>,
}

/// Facets that touch a round from outside overlap one another's strips: what is true in
/// the wedge that each has of the round, as shares of what its own chord says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touched {
    /// Of what lies between facet and round.
    pub strip: f64,
    /// Of the round surface over the flat one.
    pub surface: f64,
}

/// What a true body holds over its facets.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Surplus {
    /// Volume, mm3.
    pub volume: f64,
    /// Surface, mm2.
    pub area: f64,
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
    /// The round surfaces its facets stand for.
    pub rounds: Vec<Round>,
    /// What a turned body holds over its facets.
    pub turned: Surplus,
}
