//! What is put on from inside: between parts that stand opposite one another no straight move
//! from without brings a strip square to its face, so it is let in beside its place and then
//! pressed straight on.

use crate::assembly::blocking::{Blocking, Tie};
use crate::assembly::search::Addition;
use crate::assembly::step::FromInside;
use crate::assembly::tolerance::SAME_WAY;
use crate::geometry::DVec3;
use crate::joinery::WorkedJob;
use crate::solid::Standing;

/// Room that a hand needs between a part and its place, mm (common practice, no source).
const HAND: f64 = 30.0;

/// Share of the room there is that it is let in off its place, where that is more.
const SHARE: f64 = 0.35;

/// Cosine between a face and the move that is pressed onto it, where it is pressed onto two at
/// once, as a block is into a corner.
const INTO_CORNER: f64 = 0.5;

/// How an addition is pressed on from inside, and the way it then moves in, unit; `None` where
/// its straight move is as a maker would go about it.
pub(super) fn from_inside(
    worked: &WorkedJob,
    blocking: &Blocking,
    add: &Addition,
) -> Option<(DVec3, FromInside)> {
    let [unit] = add.coming.units()[..] else { return None };
    let stands = |other: usize| add.rest.binary_search(&other).is_ok();
    let off = blocking.ways[add.off];
    // Only what would be slid up or down along the face it lies on.
    if off.z.abs() < SAME_WAY || blocking.opens(unit, add.off, stands) {
        return None;
    }
    let own = [unit];
    let ties: Vec<&Tie> = blocking.ties_between(&own, stands).collect();
    if ties.is_empty() || ties.iter().any(|tie| tie.enters) {
        return None;
    }
    // Off each face that it lies on.
    let away = |tie: &&Tie| {
        let made = *tie.made_for.first()?;
        Some(if tie.first == unit { made } else { -made })
    };
    let away: Vec<DVec3> = ties.iter().filter_map(away).collect();
    let clear_way = away.iter().sum::<DVec3>().try_normalize()?;
    if away.len() < ties.len() || away.iter().any(|one| one.dot(clear_way) < INTO_CORNER) {
        return None;
    }
    let room = add.rest.iter().filter(|other| blocking.blocks(unit, **other, clear_way));
    let room = room.map(|other| blocking.gap(unit, *other, clear_way)).reduce(f64::min)?;
    let clear = blocking.span(unit, clear_way).max(HAND).max(SHARE * room);
    let moved = |part: &usize| {
        let part = worked.parts.get(*part)?;
        Some(Standing::new(&part.solid, &part.at.moved(clear_way * clear)))
    };
    let beside: Vec<Standing> = blocking.units[unit].all.iter().filter_map(moved).collect();
    let free = |way: DVec3| {
        let others = add.rest.iter().flat_map(|other| &blocking.units[*other].solids);
        !others.into_iter().any(|other| beside.iter().any(|own| own.is_blocked_by(other, way)))
    };
    // As the script's piece stands first, else with its underside up.
    let out = [DVec3::Z, DVec3::NEG_Z].into_iter().find(|way| room > clear && free(*way))?;
    Some((-clear_way + DVec3::ZERO, FromInside { way: -out + DVec3::ZERO, clear }))
}
