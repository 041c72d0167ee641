//! Where a slope leaves the blank, and which face its long point lies on.

use super::feature::{SAME, face_on, off_square};
use crate::geometry::DVec3;
use crate::model::Face;

/// The face a slope's long point lies on, if it is an end or edge mitre from a
/// corner: `along` its own axis, `square_to` the axis it shortens.
pub(super) fn long_point(
    ends: [DVec3; 2],
    away: DVec3,
    along: usize,
    size: DVec3,
) -> Option<(usize, Face, f64)> {
    let (i, j) = ((along + 1) % 3, (along + 2) % 3);
    let corner = ends.iter().position(|e| at_corner(*e, i, j, size))?;
    let (long, short) = (ends[corner], ends[1 - corner]);
    // The cut shortens the axis along which the material was removed.
    let middle = (long + short) / 2.0;
    let shortens = [i, j].into_iter().find(|a| {
        let other = 3 - along - a;
        let reaches = short[other] < SAME || short[other] > size[other] - SAME;
        reaches && (short[*a] - long[*a]) * (away[*a] - middle[*a]) < 0.0
    })?;
    let other = 3 - along - shortens;
    let face = face_on(other, long[other] > size[other] / 2.0);
    Some((shortens, face, off_square(ends, along, shortens)))
}

/// Whether a point of the cross-section is a corner of it.
pub(super) fn at_corner(p: DVec3, i: usize, j: usize, size: DVec3) -> bool {
    let on = |k: usize| p[k] < SAME || p[k] > size[k] - SAME;
    on(i) && on(j)
}
