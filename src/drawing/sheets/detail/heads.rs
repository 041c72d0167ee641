//! Heads of countersunk screws: a cone in the wood, which the solid has as a bore of its width.

use kurbo::Point;

use super::place::Place;
use crate::drawing::kit::project::OnSheet;
use crate::geometry::DVec3;
use crate::joinery::{CutKind, WorkedJob, WorkedPart, corners};
use crate::solid::{Prism, Solid, carve};

/// The axis of a screw lies in the plane of a detail within this, mm and sine of the angle.
const IN_PLANE: f64 = 0.5;
const ALONG: f64 = 1e-3;
/// A screw's place is that of its head within this, mm.
const SAME: f64 = 0.02;

/// A countersink cut through its axis.
pub(super) struct Head {
    /// The middle of its mouth, piece coordinates, mm.
    at: DVec3,
    /// How deep it is, mm.
    pub(super) deep: f64,
    /// Its outline on the sheet.
    pub(super) ring: Vec<Point>,
}

/// The heads that the plane of a detail cuts through their axes.
pub(super) fn heads(worked: &WorkedJob, shown: &Place, on: OnSheet) -> Vec<Head> {
    let parts = shown.parts.iter().filter_map(|part| worked.parts.get(*part));
    parts.flat_map(|part| of_part(part, shown, on)).collect()
}

/// Those of one part.
fn of_part(part: &WorkedPart, shown: &Place, on: OnSheet) -> Vec<Head> {
    let toward = shown.camera.toward();
    let sunk = part.cuts.iter().filter(|cut| cut.kind == CutKind::Countersink);
    let head = |shape: &Prism| {
        let into = part.at.dir(shape.at.z);
        let along = |z: f64| part.at.point(shape.at.point(DVec3::Z * z));
        let (mouth, bottom) = (along(shape.from), along(shape.to));
        let lies = into.dot(toward).abs() < ALONG && (mouth - shown.point).dot(toward).abs() < IN_PLANE;
        let across = into.cross(toward).normalize_or_zero();
        let out = |p: DVec3| (part.at.point(p) - mouth).dot(across);
        let wide = corners(shape).into_iter().map(out).fold(0.0, f64::max);
        let deep = mouth.distance(bottom);
        // A cone of 90 degrees is as much narrower at its bottom as it is deep.
        let narrow = wide - deep;
        let round = [
            mouth - across * wide,
            bottom - across * narrow,
            bottom + across * narrow,
            mouth + across * wide,
        ];
        let ring = round.map(|p| on.point(shown.camera.project(p))).to_vec();
        (lies && narrow > 0.0).then_some(Head { at: mouth, deep, ring })
    };
    sunk.filter_map(|cut| head(&cut.shape)).collect()
}

/// The head of the screw that stands at a place.
pub(super) fn of_screw(heads: &[Head], at: DVec3) -> Option<&Head> {
    heads.iter().find(|head| head.at.distance(at) < SAME)
}

/// A part with the wood beside its screws' heads, where it has any countersunk.
pub(super) fn with_cones(part: &WorkedPart) -> Option<Solid> {
    let is_sunk = |kind: CutKind| kind == CutKind::Countersink;
    part.cuts.iter().any(|cut| is_sunk(cut.kind)).then_some(())?;
    let shapes: Vec<_> =
        part.cuts.iter().filter(|cut| !is_sunk(cut.kind)).map(|cut| cut.shape.clone()).collect();
    carve(&part.body, &shapes).ok()
}
