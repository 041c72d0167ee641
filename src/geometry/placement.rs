//! Where a thing stands: an origin and three square axes.

use super::DVec3;

/// A right-handed orthonormal frame. Maps local coordinates into the
/// surrounding space ("world" here means whatever the frame is placed in:
/// a cutter in its part, a part in its piece).
///
/// ```
/// use rodwright::geometry::{DVec3, Placement};
/// // Stood on end 100 mm to the right: local x points up.
/// let post = Placement::from_axes(DVec3::X * 100.0, DVec3::Z, DVec3::Y).unwrap();
/// let top = post.point(DVec3::new(700.0, 0.0, 0.0));
/// assert_eq!(top, DVec3::new(100.0, 0.0, 700.0));
/// assert_eq!(post.local_point(top), DVec3::new(700.0, 0.0, 0.0));
/// assert_eq!(post.within(&Placement::IDENTITY).seen_from(&post), Placement::IDENTITY);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// The local origin, in the surrounding space.
    pub origin: DVec3,
    /// The local x axis, unit length.
    pub x: DVec3,
    /// The local y axis, unit length.
    pub y: DVec3,
    /// The local z axis, unit length; always `x` cross `y`.
    pub z: DVec3,
}

impl Placement {
    /// The frame that changes nothing.
    pub const IDENTITY: Self = Self { origin: DVec3::ZERO, x: DVec3::X, y: DVec3::Y, z: DVec3::Z };

    /// A frame from its origin and two axes; `y` is made square to `x`.
    /// `None` if the axes are null or parallel.
    pub fn from_axes(origin: DVec3, x: DVec3, y: DVec3) -> Option<Self> {
        let x = x.try_normalize()?;
        let y = (y - x * x.dot(y)).try_normalize()?;
        Some(Self { origin, x, y, z: x.cross(y) })
    }

    /// A frame whose z axis is `z`, turned so that x lies along `x_hint` as
    /// nearly as it can; any square direction if the hint is parallel to `z`.
    /// `None` if `z` is null.
    pub fn looking(origin: DVec3, z: DVec3, x_hint: DVec3) -> Option<Self> {
        let z = z.try_normalize()?;
        let flat = x_hint - z * z.dot(x_hint);
        let x = flat.try_normalize().unwrap_or_else(|| z.any_orthonormal_vector());
        Some(Self { origin, x, y: z.cross(x), z })
    }

    /// Moved by `offset` of the surrounding space.
    pub fn moved(self, offset: DVec3) -> Self {
        Self { origin: self.origin + offset, ..self }
    }

    /// A local point in the surrounding space.
    pub fn point(&self, local: DVec3) -> DVec3 {
        self.origin + self.dir(local)
    }

    /// A local direction in the surrounding space.
    pub fn dir(&self, local: DVec3) -> DVec3 {
        self.x * local.x + self.y * local.y + self.z * local.z
    }

    /// A point of the surrounding space in local coordinates.
    pub fn local_point(&self, world: DVec3) -> DVec3 {
        self.local_dir(world - self.origin)
    }

    /// A direction of the surrounding space in local coordinates.
    pub fn local_dir(&self, world: DVec3) -> DVec3 {
        DVec3::new(self.x.dot(world), self.y.dot(world), self.z.dot(world))
    }

    /// This frame, given in the local coordinates of `outer`, expressed in
    /// what `outer` is placed in.
    pub fn within(&self, outer: &Self) -> Self {
        Self {
            origin: outer.point(self.origin),
            x: outer.dir(self.x),
            y: outer.dir(self.y),
            z: outer.dir(self.z),
        }
    }

    /// This frame, given in the surrounding space, expressed in the local
    /// coordinates of `inner`. The inverse of [`Placement::within`].
    pub fn seen_from(&self, inner: &Self) -> Self {
        Self {
            origin: inner.local_point(self.origin),
            x: inner.local_dir(self.x),
            y: inner.local_dir(self.y),
            z: inner.local_dir(self.z),
        }
    }
}
