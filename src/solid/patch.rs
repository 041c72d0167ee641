//! Where flat faces of two solids lie on one another, with the outline of what they
//! share.

use super::region::Region;
use super::tolerance::LEAST_WIDTH;
use super::{Face, Solid, Surface};
use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, DVec3, Placement, Plane};

/// What two flat faces share, in the space both solids stand in.
#[derive(Clone, Debug)]
pub struct Patch {
    /// The face of the second solid; its normal points out of that.
    pub plane: Plane,
    /// A frame in the plane, z along its normal.
    pub frame: Placement,
    /// The outline in the frame: outer rings counter-clockwise, holes clockwise, mm.
    pub rings: Vec<Vec<DVec2>>,
    /// Its area, mm2.
    pub area: f64,
}

/// Whether a face is flat stock and no facet of something round.
pub fn is_flat(face: &Face) -> bool {
    !matches!(face.from.surface, Surface::Round { .. } | Surface::Band { .. })
}

/// A face's plane in the space its solid stands in.
pub fn plane_of(face: &Face, at: &Placement) -> Plane {
    let normal = at.dir(face.plane.normal);
    Plane { normal, offset: face.plane.offset + normal.dot(at.origin) }
}

/// Where flat faces of two solids lie within `gap` mm of one another and share more
/// than a sliver, in the order of the second's faces.
pub fn patches(a: (&Solid, &Placement), b: (&Solid, &Placement), gap: f64) -> Vec<Patch> {
    let mut found = Vec::new();
    for g in b.0.faces.iter().filter(|g| is_flat(g)) {
        let plane = plane_of(g, b.1);
        let Some(frame) = Placement::looking(plane.normal * plane.offset, plane.normal, DVec3::X) else {
            continue;
        };
        for f in a.0.faces.iter().filter(|f| is_flat(f)) {
            let other = plane_of(f, a.1);
            if other.normal.dot(plane.normal) > HAIR - 1.0 || (other.offset + plane.offset).abs() > gap {
                continue;
            }
            let shared = flat(a, f, &frame).and(&flat(b, g, &frame));
            let rings = shared.rings();
            let around: f64 = rings.iter().map(|ring| round(ring)).sum();
            // Area over half of what is round it is nearly the width of a strip: slivers
            // are what rounding leaves of faces that meet along an arris.
            if around > 0.0 && shared.area() > 0.5 * around * LEAST_WIDTH {
                found.push(Patch { plane, frame, rings, area: shared.area() });
            }
        }
    }
    found
}

/// Length round a ring, mm.
fn round(ring: &[DVec2]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(p, q)| p.distance(*q)).sum()
}

/// A face's rings in a frame, counter-clockwise whichever way it looks.
fn flat((solid, at): (&Solid, &Placement), face: &Face, frame: &Placement) -> Region {
    let turned = at.dir(face.plane.normal).dot(frame.z) < 0.0;
    let ring = |ring: &Vec<u32>| {
        let mut points: Vec<DVec2> = ring
            .iter()
            .filter_map(|i| solid.points.get(*i as usize))
            .map(|p| frame.local_point(at.point(*p)).truncate())
            .collect();
        if turned {
            points.reverse();
        }
        points
    };
    let rings: Vec<Vec<DVec2>> = face.loops.iter().map(ring).collect();
    Region::of_rings(&rings)
}
