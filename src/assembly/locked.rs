//! What is said of a piece for which there is no order: what locks what, what the script
//! asks that cannot be, and what would free it.

use super::blocking::Blocking;
use super::habits::unit_of;
use super::search::plan_without;
use crate::joinery::WorkedJob;
use crate::model::{Before, Job, OrderAsked, PieceId, UnitAsked};
use crate::problem::Problem;
use crate::problem::wording::{all_of, some_of};

/// Most joints that are tried one by one for one that frees the rest.
const TRIED: usize = 24;

/// An error where parts are to go in before one another in a round.
pub(super) fn round(job: &Job, worked: &WorkedJob, piece: PieceId) -> Option<Problem> {
    let here = |before: &&Before| {
        before.first.first().and_then(|part| worked.parts.get(part.0)).is_some_and(|part| part.piece == piece)
    };
    let asked: Vec<&Before> = job.order.before.iter().filter(here).collect();
    // From each part on to all that are to follow it, until one comes round.
    for (i, start) in asked.iter().enumerate() {
        let mut after: Vec<usize> = start.then.iter().map(|part| part.0).collect();
        let mut chain: Vec<usize> = vec![i];
        let mut next = 0;
        while let Some(&part) = after.get(next) {
            if start.first.iter().any(|first| first.0 == part) {
                return Some(goes_round(worked, &asked, &chain, part));
            }
            for (k, before) in asked.iter().enumerate().filter(|(_, b)| b.first.iter().any(|p| p.0 == part)) {
                if !chain.contains(&k) {
                    chain.push(k);
                }
                after.extend(
                    before.then.iter().map(|p| p.0).filter(|p| !after.contains(p)).collect::<Vec<_>>(),
                );
            }
            next += 1;
        }
    }
    None
}

/// The error for a round of `before`.
fn goes_round(worked: &WorkedJob, asked: &[&Before], chain: &[usize], part: usize) -> Problem {
    let name = |part: usize| worked.parts.get(part).map_or("", |part| part.name.as_str());
    let lines = chain.iter().filter_map(|k| asked.get(*k));
    let message = format!("`{}` is to go in before itself: what `before` says goes round", name(part));
    let mut problem =
        Problem::error("order-goes-round", message).help("take one of these lines away, or turn it round");
    let mut first = true;
    for before in lines {
        problem =
            if first { problem.at(before.origin) } else { problem.place(before.origin.user, "and this one") };
        first = false;
    }
    problem
}

/// The error for parts that lock one another: because of what the script asks, where the
/// piece would go together without, else because of its joints.
pub(super) fn refused(job: &Job, worked: &WorkedJob, piece: PieceId, parts: &[usize]) -> Problem {
    let free = |asked: &OrderAsked| plan_without(worked, piece, asked, None).is_ok();
    let asked = &job.order;
    for (i, _) in asked.units.iter().enumerate() {
        let mut less = asked.clone();
        let unit = less.units.remove(i);
        if free(&less) {
            return not_whole(worked, piece, &unit);
        }
    }
    for (i, _) in asked.before.iter().enumerate() {
        let mut less = asked.clone();
        let before = less.before.remove(i);
        if free(&less) {
            return not_before(worked, &before);
        }
    }
    if !(asked.units.is_empty() && asked.before.is_empty()) && free(&OrderAsked::default()) {
        let first = asked.units.first().map(|unit| unit.origin).or(asked.before.first().map(|b| b.origin));
        let problem = Problem::error(
            "order-cannot-be",
            "what `subassembly` and `before` ask cannot all be: without them the piece goes together",
        )
        .help("take these lines away one after another until it does");
        return match first {
            Some(origin) => problem.at(origin),
            None => problem,
        };
    }
    locked(job, worked, piece, parts)
}

/// The error for a unit that cannot go in whole, with what is in its way.
fn not_whole(worked: &WorkedJob, piece: PieceId, unit: &UnitAsked) -> Problem {
    let blocking = Blocking::of(worked, piece, None);
    let mut own: Vec<usize> = unit.parts.iter().filter_map(|part| unit_of(&blocking, part.0)).collect();
    own.sort_unstable();
    let ways = 0..blocking.ways.len();
    let held = |way: usize| {
        let mut held: Vec<usize> = own
            .iter()
            .flat_map(|one| blocking.held(*one, way, |other| !own.contains(&other)).collect::<Vec<_>>())
            .collect();
        held.sort_unstable();
        held.dedup();
        held
    };
    let least = ways.map(held).min_by_key(Vec::len).unwrap_or_default();
    let names = least
        .iter()
        .filter_map(|unit| blocking.units.get(*unit))
        .filter_map(|unit| worked.parts.get(unit.part));
    let message = format!(
        "`{}` cannot go in whole: {} would have to go in with it",
        unit.name,
        some_of(&names.map(|part| part.name.as_str()).collect::<Vec<_>>())
    );
    Problem::error("unit-not-whole", message)
        .at(unit.origin)
        .help("give these parts to the unit too, or take something out of it that closes it in")
}

/// The error for a `before` that cannot be.
fn not_before(worked: &WorkedJob, before: &Before) -> Problem {
    let names = |parts: &[crate::model::PartId]| {
        let parts = parts.iter().filter_map(|part| worked.parts.get(part.0));
        some_of(&parts.map(|part| part.name.as_str()).collect::<Vec<_>>())
    };
    let message = format!(
        "{} cannot go in before {}: once they are in, nothing of the rest comes to its place",
        names(&before.first),
        names(&before.then)
    );
    Problem::error("before-cannot-be", message)
        .at(before.origin)
        .help("turn the line round, or take it away: without it the piece goes together")
}

/// The error for parts that lock one another, with a joint that would free them.
fn locked(job: &Job, worked: &WorkedJob, piece: PieceId, parts: &[usize]) -> Problem {
    let names: Vec<&str> =
        parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.name.as_str()).collect();
    let name = job.pieces.get(piece.0).map_or("the piece", |p| p.name.as_str());
    let message = format!(
        "`{name}` cannot be put together: {} lock one another, no straight move among those tried takes any of them off",
        some_of(&names)
    );
    let among =
        |joint: &crate::joinery::WorkedJoint| joint.parts.iter().filter(|p| parts.contains(p)).count() > 1;
    let tied: Vec<usize> = (0..worked.joints.len()).filter(|j| among(&worked.joints[*j])).collect();
    let key = tied
        .iter()
        .copied()
        .take(TRIED)
        .filter(|joint| !worked.joints[*joint].inserts.is_empty())
        .find(|joint| plan_without(worked, piece, &job.order, Some(*joint)).is_ok());
    let help = match key.and_then(|joint| worked.joints.get(joint)) {
        Some(joint) => {
            let of = joint.parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.name.as_str());
            format!(
                "`{}` between {} is the lock: give it another way in, or join these by something that goes in last",
                joint.word,
                all_of(of)
            )
        }
        None => "give one of their joints another way in, or make it after the others are together".into(),
    };
    let mut problem = Problem::error("no-assembly-order", message).help(help);
    let at = key.or(tied.first().copied()).and_then(|joint| worked.joints.get(joint));
    if let Some(joint) = at {
        problem = problem.at(joint.origin);
    } else if let Some(part) = parts.first().and_then(|p| worked.parts.get(*p)) {
        problem = problem.at(part.origin);
    }
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        problem = problem.part(part.name.clone());
    }
    problem
}
