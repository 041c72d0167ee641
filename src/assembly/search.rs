//! The search: what comes off first.

use super::blocking::Blocking;
use crate::joinery::{Stage, WorkedJob};
use crate::model::PieceId;

/// One move of the plan, in the order of assembly.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Move {
    /// Units that come in together, as one body.
    pub(super) group: Vec<usize>,
    /// Units that stand and that it comes to.
    pub(super) rest: Vec<usize>,
    /// Direction it is taken off along: an index into [`Blocking::ways`].
    pub(super) off: usize,
}

/// A plan.
#[derive(Debug)]
pub(super) struct Plan {
    /// What blocks what.
    pub(super) blocking: Blocking,
    /// Moves in the order of assembly. Empty for a piece of one unit.
    pub(super) moves: Vec<Move>,
}

/// Finds the order of one piece, or the parts (indices into
/// `WorkedJob::parts`) that lock one another.
pub(super) fn plan(worked: &WorkedJob, piece: PieceId) -> Result<Plan, Vec<usize>> {
    let blocking = Blocking::of(worked, piece);
    let late: Vec<u8> = blocking.units.iter().map(|unit| lateness(worked, unit.part)).collect();
    let all: Vec<usize> = (0..blocking.units.len()).collect();
    let mut moves = Vec::new();
    match take_apart(&blocking, &late, all, &mut moves) {
        Ok(()) => {
            moves.reverse();
            Ok(Plan { blocking, moves })
        }
        Err(locked) => Err(locked.iter().map(|u| blocking.units[*u].part).collect()),
    }
}

/// Takes `set` apart; moves are pushed in the order of removal.
fn take_apart(
    blocking: &Blocking,
    late: &[u8],
    mut set: Vec<usize>,
    moves: &mut Vec<Move>,
) -> Result<(), Vec<usize>> {
    while set.len() > 1 {
        let Some((group, off)) = choose(blocking, late, &set) else { return Err(set) };
        let rest: Vec<usize> = set.iter().copied().filter(|u| !group.contains(u)).collect();
        moves.push(Move { group: group.clone(), rest: rest.clone(), off });
        if group.len() > 1 {
            take_apart(blocking, late, group, moves)?;
        }
        set = rest;
    }
    Ok(())
}

/// How a removable group ranks; the least is taken off first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    /// Fittings, glass and backs come off before frames and carcases.
    early: u8,
    /// Groups come off as late as can be.
    size: usize,
    /// What is left falls into loose parts.
    scatters: bool,
    /// Place of the direction in the order of preference.
    way: usize,
    /// The script's last part comes off first, so that the order of assembly
    /// follows the script.
    from_the_end: std::cmp::Reverse<usize>,
}

/// The group of `set` to take off next, and the direction.
fn choose(blocking: &Blocking, late: &[u8], set: &[usize]) -> Option<(Vec<usize>, usize)> {
    let mut best: Option<(Rank, Vec<usize>, usize)> = None;
    for way in 0..blocking.ways.len() {
        for &unit in set {
            let group = moves_with(blocking, set, unit, way);
            if group.len() == set.len() {
                continue;
            }
            let rest: Vec<usize> = set.iter().copied().filter(|u| !group.contains(u)).collect();
            let rank = Rank {
                early: 9 - group.iter().map(|u| late[*u]).min().unwrap_or(0),
                size: group.len(),
                scatters: !connected(blocking, &rest) || !connected(blocking, &group),
                way,
                from_the_end: std::cmp::Reverse(unit),
            };
            if best.as_ref().is_none_or(|(known, _, _)| rank < *known) {
                best = Some((rank, group, way));
            }
        }
    }
    best.map(|(_, group, way)| (group, way))
}

/// What must move along when `unit` is taken off along `way`: everything in
/// its way, everything in the way of that, and so on. Rising.
fn moves_with(blocking: &Blocking, set: &[usize], unit: usize, way: usize) -> Vec<usize> {
    let mut group = vec![unit];
    let mut next = 0;
    while let Some(&moved) = group.get(next) {
        for &other in set {
            if !group.contains(&other) && blocking.holds(moved, other, way) {
                group.push(other);
            }
        }
        next += 1;
    }
    group.sort_unstable();
    group
}

/// Whether joints hold `set` together.
fn connected(blocking: &Blocking, set: &[usize]) -> bool {
    let Some(&first) = set.first() else { return true };
    let mut reached = vec![first];
    let mut next = 0;
    while let Some(&unit) = reached.get(next) {
        for tie in &blocking.ties {
            let other = match unit {
                u if u == tie.first => tie.second,
                u if u == tie.second => tie.first,
                _ => continue,
            };
            if set.contains(&other) && !reached.contains(&other) {
                reached.push(other);
            }
        }
        next += 1;
    }
    reached.len() == set.len()
}

/// How late a part goes in, 0 to 9, by trade sense (common practice, no
/// source): what a cut made after the glue-up takes, then loose parts of dry
/// joints, then thin backs, then everything else.
fn lateness(worked: &WorkedJob, index: usize) -> u8 {
    let Some(part) = worked.parts.get(index) else { return 0 };
    let joints = || worked.joints.iter().enumerate().filter(|(_, joint)| joint.parts.contains(&index));
    let waits = joints().any(|(j, joint)| {
        joint.parts.iter().any(|other| {
            *other != index
                && worked.parts.get(*other).is_some_and(|p| {
                    p.cuts.iter().any(|cut| cut.joint == Some(j) && cut.stage == Stage::AfterGlueUp)
                })
        })
    });
    if waits {
        return 9;
    }
    let mut any = false;
    let dry = joints().all(|(_, joint)| {
        any = true;
        !joint.glued
    });
    match (any && dry, part.size.z < 10.0) {
        (true, _) => 8,
        (false, true) => 7,
        (false, false) => 0,
    }
}
