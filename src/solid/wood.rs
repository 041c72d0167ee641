//! Whether what is sunk into a solid stays within it.

use super::poly::Poly;
use super::region::Region;
use super::touch::wide;
use super::{Prism, Solid};
use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, DVec3, Placement, Plane};

/// A solid that prisms are tried against.
#[derive(Clone, Debug)]
pub struct Wood {
    body: Poly,
}

/// What of a prism's section lies outside a solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missing {
    /// Its area, mm2.
    pub area: f64,
    /// Its size along the two ways of the outline, mm.
    pub size: DVec2,
}

impl Wood {
    /// That of a solid.
    pub fn of(solid: &Solid) -> Self {
        Self { body: Poly::of_solid(solid) }
    }

    /// What lies outside of the section of a prism at a place along its sweep; `None`
    /// if no more than a sliver does.
    pub fn lacks(&self, prism: &Prism, along: f64) -> Option<Missing> {
        missing(&outline(prism).minus(&self.section(prism, along)))
    }

    /// What of that section this holds and `other` does not; `None` if no more than a
    /// sliver.
    pub fn beyond(&self, other: &Self, prism: &Prism, along: f64) -> Option<Missing> {
        let own = outline(prism).and(&self.section(prism, along));
        missing(&own.minus(&other.section(prism, along)))
    }

    /// The solid cut square to a prism, in the coordinates of its outline.
    fn section(&self, prism: &Prism, along: f64) -> Region {
        let frame = Placement { origin: prism.at.point(DVec3::Z * along), ..prism.at };
        let plane = Plane { normal: frame.z, offset: frame.z.dot(frame.origin) };
        Region::of_rings(&self.body.section(&plane, &frame, HAIR))
    }
}

/// The outline of a prism as a region.
fn outline(prism: &Prism) -> Region {
    Region::of_rings(prism.outline.rings.iter().map(|ring| &ring.points))
}

/// How large a region is, if it is more than a sliver.
fn missing(region: &Region) -> Option<Missing> {
    let (low, high) = region.bounds()?;
    wide(region).then(|| Missing { area: region.area(), size: high - low })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::{Body, carve};

    #[test]
    fn a_pocket_in_a_sloping_edge_lacks_what_the_slope_takes() {
        // A board 100 by 60 by 18, sloped off from 60 wide at x = 0 to 10 at x = 100.
        let body = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(100.0, 60.0, 18.0)));
        let slope = Prism::half_space(DVec3::new(0.0, 60.0, 0.0), DVec3::new(1.0, 2.0, 0.0)).unwrap();
        let (whole, sloped) = (carve(&body, &[]).unwrap(), carve(&body, &[slope]).unwrap());
        let pocket = Prism::cuboid(DVec3::new(40.0, 30.0, 4.0), DVec3::new(60.0, 40.0, 14.0));
        let (whole, sloped) = (Wood::of(&whole), Wood::of(&sloped));
        assert_eq!(whole.lacks(&pocket, 9.0), None);
        // The slope is at 40 over x = 40 and at 30 over x = 60: half of 20 by 10 is gone.
        let lacks = sloped.lacks(&pocket, 9.0).unwrap();
        assert!((lacks.area - 100.0).abs() < 1e-4, "{lacks:?}");
        assert!(lacks.size.distance(DVec2::new(20.0, 10.0)) < 1e-4, "{lacks:?}");
        assert_eq!(whole.beyond(&sloped, &pocket, 9.0), Some(lacks));
        assert_eq!(sloped.beyond(&whole, &pocket, 9.0), None);
    }
}
