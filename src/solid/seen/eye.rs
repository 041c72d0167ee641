//! Solids as one eye sees them.
//!
//! What is nearer to the eye is drawn larger. That is done to the solids, not to their
//! lines: points are moved so that the parallel view of what comes out is the perspective
//! of what went in. Planes stay planes and what stands before another stays before it, so
//! hidden lines and faces are found as in any other view.

use crate::geometry::{DVec3, Placement, Plane};
use crate::solid::{Face, Solid};

/// An eye before an upright picture plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// The point of the picture plane that is straight before the eye.
    pub centre: DVec3,
    /// Unit vector to the right of the picture.
    pub right: DVec3,
    /// Unit vector up the picture, square to `right`.
    pub up: DVec3,
    /// From the eye to the picture plane, mm. Lengths in that plane are drawn true.
    pub distance: f64,
}

/// What is nearer to the eye than this share of its distance is not drawn: it would be
/// larger than the rest together.
const NEAREST: f64 = 0.05;

impl Eye {
    /// Unit vector from the picture plane to the eye.
    pub fn toward(&self) -> DVec3 {
        self.right.cross(self.up)
    }

    /// A point in the space of the picture: to the right, up, and towards the viewer, mm;
    /// `None` for what is beside or behind the eye.
    pub fn place(&self, point: DVec3) -> Option<DVec3> {
        let from = point - self.centre;
        let local = DVec3::new(self.right.dot(from), self.up.dot(from), self.toward().dot(from));
        let away = self.distance - local.z;
        (away > NEAREST * self.distance).then(|| local * (self.distance / away))
    }

    /// A solid that stands at `at` in the space of the picture; `None` where some of it is
    /// beside or behind the eye.
    pub fn drawn(&self, solid: &Solid, at: &Placement) -> Option<Solid> {
        let points: Option<Vec<DVec3>> = solid.points.iter().map(|p| self.place(at.point(*p))).collect();
        let faces: Option<Vec<Face>> = solid.faces.iter().map(|face| self.face(face, at)).collect();
        Some(Solid { points: points?, faces: faces?, edges: solid.edges.clone(), ..Solid::default() })
    }

    /// A face with its plane in the space of the picture. A point drawn at `q` stands at
    /// `q` times d / (d + z), so the plane n . p = o becomes (n - z o / d) . q = o.
    fn face(&self, face: &Face, at: &Placement) -> Option<Face> {
        let normal = at.dir(face.plane.normal);
        let offset = face.plane.offset + normal.dot(at.origin - self.centre);
        let local = DVec3::new(self.right.dot(normal), self.up.dot(normal), self.toward().dot(normal));
        let turned = local - DVec3::Z * (offset / self.distance);
        let long = turned.length();
        let plane = Plane { normal: turned.try_normalize()?, offset: offset / long };
        Some(Face { plane, from: face.from, loops: face.loops.clone() })
    }
}
