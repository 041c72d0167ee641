//! Additions as moves of parts.

mod inside;
pub(super) mod lifted;

use super::blocking::{Blocking, Tie};
use super::search::Addition;
use super::step::Motion;
use crate::geometry::DVec3;
use crate::joinery::WorkedJob;

/// Where the parts of some units lie among those of the job.
pub(super) fn parts(blocking: &Blocking, units: &[usize]) -> Vec<usize> {
    units.iter().flat_map(|u| blocking.units[*u].all.iter().copied()).collect()
}

/// The way an addition moves in, unit.
pub(super) fn way(blocking: &Blocking, add: &Addition) -> DVec3 {
    // Adding nought turns a negative nought into a plain one.
    -blocking.ways[add.off] + DVec3::ZERO
}

/// The ties that an addition closes.
pub(super) fn closes<'s>(blocking: &'s Blocking, group: &'s [usize], add: &'s Addition) -> Vec<&'s Tie> {
    blocking.ties_between(group, |unit| add.rest.binary_search(&unit).is_ok()).collect()
}

/// The joints that an addition closes, rising.
pub(super) fn joints(blocking: &Blocking, add: &Addition) -> Vec<usize> {
    let group = add.coming.units();
    let mut joints: Vec<usize> = closes(blocking, &group, add).iter().map(|tie| tie.joint).collect();
    joints.sort_unstable();
    joints.dedup();
    joints
}

/// One addition as a move. Where nothing it comes to stands yet, that comes in first,
/// without a way; where all of it stands, it comes as a group made up before.
pub(super) fn motion(
    worked: &WorkedJob,
    blocking: &Blocking,
    add: &Addition,
    standing: &mut [bool],
) -> Motion {
    let inside = inside::from_inside(worked, blocking, add);
    let way = inside.map_or_else(|| way(blocking, add), |(way, _)| way);
    let group = add.coming.units();
    let mut one = Motion {
        joints: joints(blocking, add),
        from_inside: inside.map(|(_, inside)| inside),
        ..Motion::default()
    };
    if add.rest.iter().any(|unit| standing[*unit]) {
        one.onto = parts(blocking, &add.rest);
    } else {
        one.adds = parts(blocking, &add.rest);
        one.ways = vec![None; one.adds.len()];
    }
    let (made_up, fresh): (Vec<usize>, Vec<usize>) = group.iter().partition(|unit| standing[**unit]);
    let fresh = parts(blocking, &fresh);
    one.ways.extend(vec![Some(way); fresh.len()]);
    one.adds.extend(fresh);
    let made_up = parts(blocking, &made_up);
    one.together = made_up.iter().map(|part| (*part, way)).collect();
    one.onto.extend(made_up);
    one.glued = one.joints.iter().any(|j| worked.joints.get(*j).is_some_and(|joint| joint.glued));
    for unit in group.iter().chain(&add.rest) {
        standing[*unit] = true;
    }
    one
}
