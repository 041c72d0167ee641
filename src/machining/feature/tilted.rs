//! Notches that lie askew in a part that leans: level or plumb in the piece, so that they
//! are marked on the face which they are seen square from, corner by corner.

use super::faces::{SAME, axis_side, face_on};
use super::form::Form;
use super::outlines::axis_of;
use crate::geometry::{DVec3, Interval, ring_within};
use crate::model::Face;
use crate::solid::Prism;

/// The shape of a box that lies along one axis of the blank alone: `None` if it lies along
/// all of them or along none, or opens neither face it is seen square from.
pub(super) fn tilted(shape: &Prism, size: DVec3) -> Option<Form> {
    let (low, high) = shape.outline.bounds()?;
    let (low, high) = (low.extend(shape.from), high.extend(shape.to));
    let ways = [shape.at.x, shape.at.y, shape.at.z];
    let mut square = (0..3).filter_map(|way| Some((way, axis_of(ways[way])?)));
    let (sweep, axis) = square.next()?;
    if square.next().is_some() {
        return None;
    }
    let (u, v) = ((sweep + 1) % 3, (sweep + 2) % 3);
    let corner = |[at_u, at_v, along]: [f64; 3]| {
        let mut p = DVec3::ZERO;
        (p[u], p[v], p[sweep]) = (at_u, at_v, along);
        shape.at.point(p)
    };
    let ends = [low[sweep], high[sweep]].map(|along| corner([low[u], low[v], along])[axis]);
    let (from, to) = (ends[0].min(ends[1]).max(0.0), ends[0].max(ends[1]).min(size[axis]));
    if to - from < SAME {
        return None;
    }
    let (near, far) = (from < SAME, to > size[axis] - SAME);
    if !near && !far {
        return None;
    }
    let entry = face_on(axis, far && !near);
    let ring = [[low[u], low[v]], [high[u], low[v]], [high[u], high[v]], [low[u], high[v]]];
    let ring = ring.map(|[a, b]| onto(entry, size, corner([a, b, low[sweep]]))).to_vec();
    let mut within = [0, 1, 2].map(|i| Some(Interval { from: 0.0, to: size[i] }));
    within[axis] = None;
    // What the blank itself has for a corner needs no mark.
    let of_blank = |p: &DVec3| (0..3).all(|i| p[i].abs() < SAME || (p[i] - size[i]).abs() < SAME);
    let corners: Vec<DVec3> = ring_within(ring, within).into_iter().filter(|p| !of_blank(p)).collect();
    (!corners.is_empty()).then(|| Form::Shape {
        entry,
        depth: to - from,
        through: near && far,
        corners,
        arcs: Vec::new(),
    })
}

/// A point brought onto a face.
fn onto(face: Face, size: DVec3, mut p: DVec3) -> DVec3 {
    let (axis, far) = axis_side(face);
    p[axis] = if far { size[axis] } else { 0.0 };
    p
}
