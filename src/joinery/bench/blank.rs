//! The box a part is cut from, where it stands in its piece.

use super::tolerance::PARALLEL;
use crate::geometry::{DVec3, Interval, Placement, Plane};
use crate::solid::Prism;

/// A box in piece coordinates: part coordinates and the size along them, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::joinery) struct Blank {
    /// Part coordinates in piece coordinates.
    pub(in crate::joinery) at: Placement,
    /// Length, width, thickness, mm.
    pub(in crate::joinery) size: DVec3,
}

impl Blank {
    /// Part axis `i`, 0 to 2, in piece coordinates.
    pub(in crate::joinery) fn axis(&self, i: usize) -> DVec3 {
        [self.at.x, self.at.y, self.at.z][i.min(2)]
    }

    /// The middle.
    pub(in crate::joinery) fn centre(&self) -> DVec3 {
        self.at.point(0.5 * self.size)
    }

    /// Least and greatest reach along the unit direction `along`, mm.
    pub(in crate::joinery) fn reach(&self, along: DVec3) -> (f64, f64) {
        let middle = along.dot(self.centre());
        // Exact for any direction: each size of the box counts by its share along it.
        let half = 0.5 * self.at.local_dir(along).abs().dot(self.size);
        (middle - half, middle + half)
    }

    /// The planes of its six faces, normals outwards.
    pub(in crate::joinery) fn planes(&self) -> [Plane; 6] {
        let [x, y, z] = [self.at.x, self.at.y, self.at.z];
        [x, -x, y, -y, z, -z].map(|normal| Plane { normal, offset: self.reach(normal).1 })
    }

    /// The same as an interval.
    pub(in crate::joinery) fn span(&self, along: DVec3) -> Interval {
        let (from, to) = self.reach(along);
        Interval { from, to }
    }

    /// Which part axis lies along `along`, either way, if one does.
    pub(in crate::joinery) fn axis_along(&self, along: DVec3) -> Option<usize> {
        (0..3).find(|&i| self.axis(i).dot(along).abs() > PARALLEL)
    }

    /// The face that looks along `toward` moved out by `by` mm (in if
    /// negative); `None` if no face looks that way.
    pub(in crate::joinery) fn grown(mut self, toward: DVec3, by: f64) -> Option<Self> {
        let i = self.axis_along(toward)?;
        let axis = self.axis(i);
        self.size[i] += by;
        if axis.dot(toward) < 0.0 {
            self.at = self.at.moved(-axis * by);
        }
        Some(self)
    }

    /// The box as a prism in piece coordinates.
    pub(in crate::joinery) fn prism(&self) -> Prism {
        Prism::block(self.at, DVec3::ZERO, self.size)
    }

    /// Least distance from any of `points` to a face of the box, mm; negative
    /// if one lies outside. `but` names a face direction that does not count.
    pub(in crate::joinery) fn wall(&self, points: &[DVec3], but: DVec3) -> f64 {
        let mut least = f64::INFINITY;
        for i in 0..3 {
            for normal in [self.axis(i), -self.axis(i)] {
                // The mouth of a pocket lies in that face, so no wall is asked for
                // there.
                if normal.dot(but) > PARALLEL {
                    continue;
                }
                let face = self.reach(normal).1;
                for p in points {
                    least = least.min(face - normal.dot(*p));
                }
            }
        }
        least
    }
}

/// The eight corners of a prism's box in its own frame, in the space around it.
pub fn corners(prism: &Prism) -> Vec<DVec3> {
    let Some((lo, hi)) = prism.outline.bounds() else { return Vec::new() };
    let mut list = Vec::with_capacity(8);
    for z in [prism.from, prism.to] {
        for (x, y) in [(lo.x, lo.y), (hi.x, lo.y), (hi.x, hi.y), (lo.x, hi.y)] {
            list.push(prism.at.point(DVec3::new(x, y, z)));
        }
    }
    list
}

/// How far the boxes round two prisms reach into one another, mm; negative
/// where they stand apart. Exact for boxes but for the rare edge against edge.
pub(in crate::joinery) fn overlap(a: &Prism, b: &Prism) -> f64 {
    let (pa, pb) = (corners(a), corners(b));
    // Two boxes that stand apart do so along a face of one of them; only two edges askew
    // could say otherwise.
    let axes = [a.at.x, a.at.y, a.at.z, b.at.x, b.at.y, b.at.z];
    let range = |points: &[DVec3], along: DVec3| {
        points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
            (lo.min(along.dot(*p)), hi.max(along.dot(*p)))
        })
    };
    let shared = axes.into_iter().map(|n| {
        let ((alo, ahi), (blo, bhi)) = (range(&pa, n), range(&pb, n));
        ahi.min(bhi) - alo.max(blo)
    });
    shared.fold(f64::INFINITY, f64::min)
}
