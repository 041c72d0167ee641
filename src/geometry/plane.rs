//! Oriented planes.

use super::DVec3;

/// The points `p` with `normal . p == offset`; `normal` is unit length and
/// points out of the material where the plane bounds some.
///
/// ```
/// use rodwright::geometry::{DVec3, Plane};
/// let face = Plane::through(DVec3::new(0.0, 0.0, 18.0), DVec3::Z * 2.0).unwrap();
/// assert_eq!(face.distance(DVec3::new(5.0, 5.0, 20.0)), 2.0);
/// assert_eq!(face.flipped().distance(DVec3::ZERO), 18.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Unit normal.
    pub normal: DVec3,
    /// Signed distance of the plane from the origin along `normal`.
    pub offset: f64,
}

impl Plane {
    /// The plane through `point` square to `normal`; `None` if `normal` is null.
    pub fn through(point: DVec3, normal: DVec3) -> Option<Self> {
        let normal = normal.try_normalize()?;
        Some(Self { normal, offset: normal.dot(point) })
    }

    /// Signed distance of `point`: positive on the side `normal` points to.
    pub fn distance(&self, point: DVec3) -> f64 {
        self.normal.dot(point) - self.offset
    }

    /// The same points with the normal turned round.
    pub fn flipped(self) -> Self {
        Self { normal: -self.normal, offset: -self.offset }
    }
}
