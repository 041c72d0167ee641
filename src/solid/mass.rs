//! Volume, area, centroid and bounds of a solid.

use super::Solid;
use crate::geometry::DVec3;

impl Solid {
    /// Signed volume of the cone from `apex` over a loop, mm3.
    pub(super) fn cone(&self, ring: &[u32], apex: DVec3) -> f64 {
        let at = |i: u32| self.points[i as usize] - apex;
        let Some(&first) = ring.first() else { return 0.0 };
        // A fan of tetrahedra; what it counts too much where the ring is hollow it counts
        // back with the other sign.
        let a = at(first);
        ring.windows(2).map(|w| a.dot(at(w[0]).cross(at(w[1])))).sum::<f64>() / 6.0
    }

    /// Volume, mm3, of the facets; round cuts are inscribed polygons. Each face is the foot
    /// of a cone from the middle, as high as its plane is off: corners closer together than
    /// solids are made to are one, a hair off their planes, and a fan over a face that
    /// misses its plane there would count the hair times half the face.
    pub fn volume(&self) -> f64 {
        let Some((low, high)) = self.bounds() else { return 0.0 };
        let middle = 0.5 * (low + high);
        let area = super::Face::area_in(self);
        self.faces.iter().map(|face| -face.plane.distance(middle) * area(face) / 3.0).sum()
    }

    /// Surface area, mm2.
    pub fn area(&self) -> f64 {
        self.faces.iter().map(super::Face::area_in(self)).sum()
    }

    /// Centre of mass of the solid; `None` if it has no volume.
    pub fn centroid(&self) -> Option<DVec3> {
        let &apex = self.points.first()?;
        let mut sum = DVec3::ZERO;
        let mut volume = 0.0;
        for ring in self.faces.iter().flat_map(|f| &f.loops) {
            let Some(&first) = ring.first() else { continue };
            let a = self.points[first as usize] - apex;
            for w in ring.windows(2) {
                let (b, c) = (self.points[w[0] as usize] - apex, self.points[w[1] as usize] - apex);
                let v = a.dot(b.cross(c)) / 6.0;
                volume += v;
                sum += (a + b + c) * (0.25 * v);
            }
        }
        (volume.abs() > 0.0).then(|| apex + sum / volume)
    }

    /// Least and greatest corner; `None` if it has no corners.
    pub fn bounds(&self) -> Option<(DVec3, DVec3)> {
        (!self.points.is_empty()).then(|| super::poly::bounds(&self.points))
    }
}

impl super::Face {
    /// A closure giving a face's area in `solid`, mm2.
    pub fn area_in(solid: &Solid) -> impl Fn(&Self) -> f64 + '_ {
        |face| {
            let mut sum = DVec3::ZERO;
            for ring in &face.loops {
                let Some(&first) = ring.first() else { continue };
                let a = solid.points[first as usize];
                for w in ring.windows(2) {
                    sum += (solid.points[w[0] as usize] - a).cross(solid.points[w[1] as usize] - a);
                }
            }
            0.5 * sum.dot(face.plane.normal)
        }
    }
}
