//! Face mark and edge mark, and the frame of part coordinates they give.
//!
//! Rules where the script names no side (common practice, no source): the face
//! mark of a part on the outside of its piece looks inwards, so that joints
//! are set out from the inside; of a part within the piece it looks left,
//! front or top. The edge mark looks to the front; where the edges do not look
//! that way, to the top, and otherwise to the left.

use crate::geometry::{DVec3, Placement};
use crate::model::{PieceId, Side};
use crate::script::run::Run;

/// How near the outside of the piece a face must be to lie on it, mm.
const ON_OUTSIDE: f64 = 0.01;

/// Gives every part of a finished piece its marks and its frame.
pub(in crate::script) fn settle(run: &mut Run, piece: PieceId) {
    let own: Vec<usize> = (0..run.job.parts.len()).filter(|i| run.job.parts[*i].piece == piece).collect();
    // Where a part along a line is written is no place in the piece.
    let placed = own.iter().filter(|i| run.marks.get(**i).is_none_or(|m| m.pose.stood.is_none()));
    let spaces = placed.filter_map(|i| run.spaces.get(*i));
    let whole = spaces.copied().reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or_default();
    for i in own {
        let (Some(asked), Some(space), Some(part)) =
            (run.marks.get(i), run.spaces.get(i), run.job.parts.get_mut(i))
        else {
            continue;
        };
        part.face = asked.face.unwrap_or_else(|| inner_side(asked.thickness, *space, whole));
        part.edge = asked.edge.unwrap_or_else(|| [Side::Left, Side::Front, Side::Top][asked.width]);
        part.at = frame(*space, part.face, part.edge);
        if !asked.pose.is_square() {
            part.at = asked.pose.of(part.at);
            part.face = looking(-part.at.z);
            part.edge = looking(-part.at.y);
        }
    }
}

/// The side the face mark looks to by rule.
fn inner_side(axis: usize, space: (DVec3, DVec3), whole: (DVec3, DVec3)) -> Side {
    let at = |corner: DVec3| corner.to_array()[axis];
    let low = at(space.0) - at(whole.0) < ON_OUTSIDE;
    let high = at(whole.1) - at(space.1) < ON_OUTSIDE;
    let sides = [(Side::Left, Side::Right), (Side::Front, Side::Back), (Side::Bottom, Side::Top)][axis];
    match (low, high) {
        (true, false) => sides.1,
        (false, true) => sides.0,
        _ => [Side::Left, Side::Front, Side::Top][axis],
    }
}

/// Part coordinates: the face on z = 0, the edge on y = 0, right-handed, the
/// origin at the corner where they meet so that the part fills 0..size.
fn frame(space: (DVec3, DVec3), face: Side, edge: Side) -> Placement {
    let (y, z) = (-edge.normal(), -face.normal());
    let x = y.cross(z);
    let far = |axis: DVec3| axis.dot(DVec3::ONE) < 0.0;
    let corner = |axis: DVec3| axis.abs() * if far(axis) { space.1 } else { space.0 };
    Placement { origin: corner(x) + corner(y) + corner(z), x, y, z }
}

/// The side of the piece a direction looks to most.
fn looking(normal: DVec3) -> Side {
    let toward = |side: &Side| side.normal().dot(normal);
    Side::ALL.into_iter().max_by(|a, b| toward(a).total_cmp(&toward(b))).unwrap_or(Side::Front)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_frame_is_right_handed_and_fills_its_space() {
        let space = (DVec3::new(10.0, 20.0, 30.0), DVec3::new(110.0, 220.0, 330.0));
        for face in Side::ALL {
            for edge in Side::ALL.into_iter().filter(|e| e.normal().dot(face.normal()) == 0.0) {
                let at = frame(space, face, edge);
                assert_eq!(at.x.cross(at.y), at.z);
                let size = at.local_point(space.1) - at.local_point(space.0);
                let far = at.point(size.abs());
                assert_eq!((at.origin.min(far), at.origin.max(far)), space, "{face:?} {edge:?}");
                assert_eq!(at.dir(DVec3::NEG_Z), face.normal());
                assert_eq!(at.dir(DVec3::NEG_Y), edge.normal());
            }
        }
    }
}
