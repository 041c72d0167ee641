//! What is fixed to the wall before the rest of its piece comes to it.

use crate::assembly::blocking::Blocking;
use crate::assembly::fits::only_unit;
use crate::assembly::tolerance::{LEVEL, SAME_WAY};
use crate::geometry::DVec3;
use crate::joinery::WorkedJob;

/// Takes a piece that hangs on a cleat off the wall, where nothing else holds it there:
/// its wall strip is fixed first and the piece, made whole, is hung on it last.
/// Gives the piece, the strips, and the way off them.
pub(super) fn off_the_wall(
    worked: &WorkedJob,
    blocking: &Blocking,
    all: &[usize],
) -> Option<(Vec<usize>, Vec<usize>, usize)> {
    let unit = |part: usize| blocking.units.iter().position(|unit| unit.part == part);
    // The strip on the wall is the one the hung strip comes to, down a way in.
    let hooked = worked.joints.iter().filter(|joint| joint.traits.hooks_on && !joint.ways_in.is_empty());
    let mut walls: Vec<usize> = hooked.filter_map(|joint| unit(*joint.parts.first()?)).collect();
    walls.sort_unstable();
    walls.dedup();
    let group: Vec<usize> = all.iter().copied().filter(|unit| walls.binary_search(unit).is_err()).collect();
    let off = from_the_wall(worked, blocking, &walls, &group)?;
    // It is lifted no further than the bevel is high and then comes straight off, so
    // only what is joined to the strip can hold it, not what stands over it.
    let hangs = |joint: usize| worked.joints.get(joint).is_some_and(|joint| joint.traits.hooks_on);
    let held =
        blocking.ties_between(&walls, |unit| group.binary_search(&unit).is_ok()).any(|tie| !hangs(tie.joint));
    (!walls.is_empty() && !group.is_empty() && !held).then_some((group, walls, off))
}

/// The level way off the wall on which some strips are fixed.
fn from_the_wall(worked: &WorkedJob, blocking: &Blocking, walls: &[usize], group: &[usize]) -> Option<usize> {
    let middle = |units: &[usize]| {
        let parts = units.iter().filter_map(|unit| worked.parts.get(blocking.units[*unit].part));
        let corners = parts.flat_map(|part| part.solid.points.iter().map(|point| part.at.point(*point)));
        let (low, high) = corners
            .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        (low + high) * 0.5
    };
    let out = middle(group) - middle(walls);
    let level = (0..blocking.ways.len()).filter(|way| blocking.ways[*way].z.abs() < LEVEL);
    level.max_by(|a, b| blocking.ways[*a].dot(out).total_cmp(&blocking.ways[*b].dot(out)))
}

/// Takes a piece off a rail that it shuts in all round but behind, where the rail has fittings
/// of its own and nothing is glued to it: none of them is reached once the rest is on. Gives the
/// rest, what stays on the wall, and the way off it.
pub(super) fn slid_over(
    worked: &WorkedJob,
    blocking: &Blocking,
    all: &[usize],
) -> Option<(Vec<usize>, Vec<usize>, usize)> {
    let fitted = worked.joints.iter().filter(|j| j.traits.goes_on_last || j.traits.hangs_on_wall);
    let rails = fitted.filter_map(|joint| only_unit(blocking, joint));
    let front = blocking.ways.iter().position(|way| way.dot(DVec3::NEG_Y) > SAME_WAY)?;
    for rail in rails {
        let stays = glued_to(blocking, rail);
        let here = |unit: usize| stays.binary_search(&unit).is_ok();
        let rest: Vec<usize> = all.iter().copied().filter(|unit| !here(*unit)).collect();
        let shuts = |way: DVec3| rest.iter().any(|other| blocking.blocks(rail, *other, way));
        let round = [DVec3::X, DVec3::NEG_X, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z];
        // What opens lets a hand in.
        let opens = worked.joints.iter().any(|joint| {
            let own = |part: &usize| rest.iter().any(|unit| blocking.units[*unit].part == *part);
            joint.opens.is_some() && joint.parts.first().is_some_and(own)
        });
        let free = || rest.iter().all(|unit| blocking.held(*unit, front, here).next().is_none());
        if !rest.is_empty() && !opens && round.into_iter().all(shuts) && !shuts(DVec3::Y) && free() {
            return Some((rest, stays, front));
        }
    }
    None
}

/// The units that glue holds to one, and that itself, rising.
fn glued_to(blocking: &Blocking, unit: usize) -> Vec<usize> {
    let mut found = vec![unit];
    let mut next = 0;
    while let Some(&one) = found.get(next) {
        for tie in blocking.ties.iter().filter(|tie| tie.glued) {
            let other = if tie.first == one { tie.second } else { tie.first };
            if (tie.first == one || tie.second == one) && !found.contains(&other) {
                found.push(other);
            }
        }
        next += 1;
    }
    found.sort_unstable();
    found
}
