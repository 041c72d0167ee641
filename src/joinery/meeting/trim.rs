//! An end or edge sawn to the plane of a neighbour's face.

use crate::geometry::{DVec3, Plane};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::tolerance::ONE_WAY;
use crate::solid::Prism;

/// An end or edge sawn to the plane of a neighbour's face.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Trim {
    /// Index into [`crate::model::Job::works`] of what asked for it.
    pub(in crate::joinery) asked: usize,
    /// The part that is sawn.
    pub(in crate::joinery) part: usize,
    /// The part it is sawn to.
    pub(in crate::joinery) to: usize,
    /// Along the part, out of the end that is sawn; unit, piece coordinates.
    pub(in crate::joinery) into: DVec3,
    /// The neighbour's face; its normal points out of that.
    pub(in crate::joinery) face: Plane,
    /// How far behind the face it is sawn, mm: what is let in.
    pub(in crate::joinery) deep: f64,
    /// How far the blank's end moves to the long point, mm.
    pub(in crate::joinery) by: f64,
    /// What the saw cut is.
    pub(in crate::joinery) kind: CutKind,
}

impl Trim {
    /// Whether the end is square to the face, so that length alone is needed.
    pub(in crate::joinery) fn is_square(&self) -> bool {
        -self.into.dot(self.face.normal) > ONE_WAY
    }

    /// What is sawn off: all behind the plane.
    pub(in crate::joinery) fn shape(&self) -> Option<Prism> {
        let normal = self.face.normal;
        let waste = || Prism::half_space(normal * (self.face.offset - self.deep), -normal);
        if self.is_square() { None } else { waste() }
    }
}
