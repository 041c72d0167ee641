//! A long edge sawn aslant both ways: the side of a hopper or a column that leans is
//! narrower at one end, and its mitre tilts besides.

use super::faces::face_on;
use super::outlines::{cuts_blank, flats};
use crate::geometry::{DVec3, trig};
use crate::machining::tolerance::{ENDS, NO_LEAN, ON, STRAIGHT};
use crate::model::Face;
use crate::solid::Prism;

/// An edge that is straight and lies along no axis of its blank. Part coordinates, mm.
#[derive(Clone, Debug)]
pub(crate) struct Raked {
    /// Whether it is the far edge.
    pub(crate) far: bool,
    /// Where the cut leaves the blank at the near and the far end, on the face that stays
    /// wider.
    pub(crate) line: [DVec3; 2],
    /// Out of the wood that stays, of length one.
    out: DVec3,
}

/// How an edge that is aslant both ways is sawn: in a jig that holds the part askew.
pub(crate) struct Sawn {
    /// Off the edge of the part, degrees.
    pub(crate) angle: f64,
    /// The same as what is taken off, mm.
    pub(crate) off: f64,
    /// Tilt of the blade, degrees.
    pub(crate) blade: f64,
}

/// The one flat side of a cutter that cuts the blank, if it is askew to all three of its
/// axes and runs along it.
pub(super) fn raked(shape: &Prism, size: DVec3) -> Option<Raked> {
    let mut cutting = flats(shape).into_iter().filter(|(point, normal)| cuts_blank(*point, *normal, size));
    let (point, normal) = cutting.next()?;
    if cutting.next().is_some()
        || normal.abs().min_element() < STRAIGHT
        || normal.x.abs() > ENDS.max(normal.y.abs())
    {
        return None;
    }
    // The cutter lies against its outward normal.
    let far = normal.y < 0.0;
    let at = |x: f64, z: f64| {
        DVec3::new(x, point.y + (normal.x * (point.x - x) + normal.z * (point.z - z)) / normal.y, z)
    };
    let wider = |z: f64| if far { at(0.0, z).y } else { -at(0.0, z).y };
    let face = if wider(size.z) > wider(0.0) { size.z } else { 0.0 };
    Some(Raked { far, line: [at(0.0, face), at(size.x, face)], out: -normal })
}

impl Raked {
    /// The face its line is drawn on.
    pub(super) fn seen_on(&self, size: DVec3) -> Face {
        face_on(2, self.line[0].z > size.z / 2.0)
    }

    /// The middle of its line.
    pub(crate) fn middle(&self) -> DVec3 {
        (self.line[0] + self.line[1]) / 2.0
    }

    /// How it is sawn with the part on its face.
    pub(crate) fn flat(&self, size: DVec3) -> Sawn {
        let off = (self.line[1].y - self.line[0].y).abs();
        let across = DVec3::new(self.out.x, self.out.y, 0.0).length();
        Sawn {
            angle: trig::atan2(off, size.x).to_degrees(),
            off,
            blade: trig::atan2(self.out.z.abs(), across).to_degrees(),
        }
    }

    /// How it is sawn with the part stood on its edge, which turns width and thickness.
    pub(crate) fn stood(&self, size: DVec3) -> Sawn {
        let off = (self.out.x / self.out.z).abs() * size.x;
        let across = DVec3::new(self.out.x, self.out.z, 0.0).length();
        Sawn {
            angle: trig::atan2(off, size.x).to_degrees(),
            off,
            blade: trig::atan2(self.out.y.abs(), across).to_degrees(),
        }
    }

    /// Whether its far end is the narrow one.
    pub(crate) fn narrow_far(&self) -> bool {
        (self.line[1].y < self.line[0].y) == self.far
    }

    /// How far from its inner corner, along the slope and square to its length, something
    /// lies that is sunk into it at `centre` along `into`; `None` if it is not.
    pub(super) fn inner_distance(&self, centre: DVec3, into: DVec3, size: DVec3) -> Option<f64> {
        let off = (centre - self.line[0]).dot(self.out);
        if off.abs() > ON || into.cross(self.out).length() > NO_LEAN {
            return None;
        }
        // The inner corner lies on the face across from the line.
        let thick = if self.line[0].z > 0.0 { -size.z } else { size.z };
        let along = (self.line[1] - self.line[0]).try_normalize()?;
        let down = self.out.cross(along);
        let inner = self.line[0] + down * (thick / down.z);
        let to = centre - inner;
        Some((to - along * to.dot(along)).length())
    }
}
