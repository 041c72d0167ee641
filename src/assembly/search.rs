//! The search: what comes off first.

use super::blocking::Blocking;
use super::tolerance::{LEVEL, SQUARE};
use crate::geometry::DVec3;
use crate::joinery::{PartSource, WorkedJob, WorkedJoint};
use crate::model::PieceId;

/// Parts thinner than this are backs, panels and glass, mm (common practice, no
/// source).
const THIN: f64 = 10.0;

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
    let layers = layers(worked, &blocking);
    // Layers are glued up before anything is joined to them.
    let lateness = |(index, unit): (usize, &super::blocking::Unit)| {
        if layers.iter().any(|block| block.contains(&index)) { 0 } else { 1 + lateness(worked, unit.part) }
    };
    let late: Vec<u8> = blocking.units.iter().enumerate().map(lateness).collect();
    let all: Vec<usize> = (0..blocking.units.len()).collect();
    let mut moves = Vec::new();
    let all = off_the_wall(worked, &blocking, all, &mut moves);
    let habits =
        Habits { late, flat: flat_ways(worked, &blocking), drawers: drawers(worked, &blocking), layers };
    match take_apart(&blocking, &habits, all, &mut moves) {
        Ok(()) => {
            moves.reverse();
            Ok(Plan { blocking, moves })
        }
        Err(locked) => Err(locked.iter().map(|u| blocking.units[*u].part).collect()),
    }
}

/// How late a door or drawer goes in, see [`Habits::late`].
const HUNG: u8 = 11;

/// What the trade does of itself with each unit (common practice, no source).
struct Habits {
    /// How late it goes in, 1 to 11; 0 for layers that are glued up first.
    late: Vec<u8>,
    /// For a thin back the directions square to its face, indices into
    /// [`Blocking::ways`]: it is laid on or into a rebate rather than slid in.
    flat: Vec<Vec<usize>>,
    /// What opens and is made of several units, each put in whole.
    drawers: Vec<Vec<usize>>,
    /// What is glued up of layers, each made whole before the rest.
    layers: Vec<Vec<usize>>,
}

/// Takes a piece that hangs on a cleat off the wall, where nothing else holds it there:
/// its wall strip is fixed first and the piece, made whole, is hung on it last.
/// Gives what is left to be taken apart.
fn off_the_wall(
    worked: &WorkedJob,
    blocking: &Blocking,
    all: Vec<usize>,
    moves: &mut Vec<Move>,
) -> Vec<usize> {
    let unit = |part: usize| blocking.units.iter().position(|unit| unit.part == part);
    // The strip on the wall is the one the hung strip comes to, down a way in.
    let hooked = worked.joints.iter().filter(|joint| joint.traits.hooks_on && !joint.ways_in.is_empty());
    let mut walls: Vec<usize> = hooked.filter_map(|joint| unit(*joint.parts.first()?)).collect();
    walls.sort_unstable();
    walls.dedup();
    let group: Vec<usize> = all.iter().copied().filter(|unit| walls.binary_search(unit).is_err()).collect();
    let Some(off) = from_the_wall(worked, blocking, &walls, &group) else { return all };
    // It is lifted no further than the bevel is high and then comes straight off, so
    // only what is joined to the strip can hold it, not what stands over it.
    let hangs = |joint: usize| worked.joints.get(joint).is_some_and(|joint| joint.traits.hooks_on);
    let held =
        blocking.ties_between(&walls, |unit| group.binary_search(&unit).is_ok()).any(|tie| !hangs(tie.joint));
    if walls.is_empty() || group.is_empty() || held {
        return all;
    }
    moves.push(Move { group: group.clone(), rest: walls, off });
    group
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

/// The units that are layers of one thick piece, rising.
fn layers(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let unit = |part: usize| blocking.units.iter().position(|unit| unit.part == part);
    let mut found: Vec<Vec<usize>> = Vec::new();
    for joint in worked.joints.iter().filter(|joint| joint.traits.is_layered) {
        let here: Vec<usize> = joint.parts.iter().filter_map(|part| unit(*part)).collect();
        match found.iter_mut().find(|block| here.iter().any(|unit| block.contains(unit))) {
            Some(block) => block.extend(here),
            None => found.push(here),
        }
    }
    for block in &mut found {
        block.sort_unstable();
        block.dedup();
    }
    found.retain(|block| block.len() > 1);
    found
}

/// Drawers and framed doors: the units that move along with what opens, rising.
fn drawers(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> = Vec::new();
    let leaves = worked.joints.iter().filter(|joint| joint.opens.is_some());
    for leaf in leaves.filter_map(|joint| joint.parts.first()) {
        let moving = worked.moving_with(*leaf);
        let units: Vec<usize> = (0..blocking.units.len())
            .filter(|unit| moving.binary_search(&blocking.units[*unit].part).is_ok())
            .collect();
        if units.len() > 1 && !found.contains(&units) {
            found.push(units);
        }
    }
    found
}

/// The directions square to the face of each unit that is a thin back.
fn flat_ways(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let square = |unit: &super::blocking::Unit| {
        let Some(part) = worked.parts.get(unit.part).filter(|part| part.size.z < THIN) else {
            return Vec::new();
        };
        let through = part.at.z;
        (0..blocking.ways.len()).filter(|way| blocking.ways[*way].dot(through).abs() > SQUARE).collect()
    };
    blocking.units.iter().map(square).collect()
}

/// Takes `set` (rising) apart; moves are pushed in the order of removal.
fn take_apart(
    blocking: &Blocking,
    habits: &Habits,
    mut set: Vec<usize>,
    moves: &mut Vec<Move>,
) -> Result<(), Vec<usize>> {
    let mut standing = Set::of(blocking, &set);
    while set.len() > 1 {
        let Some((group, off)) = choose(blocking, habits, &set, &mut standing) else { return Err(set) };
        for unit in &group {
            standing.has[*unit] = false;
        }
        set.retain(|unit| standing.has[*unit]);
        moves.push(Move { group: group.clone(), rest: set.clone(), off });
        if group.len() > 1 {
            take_apart(blocking, habits, group, moves)?;
        }
    }
    Ok(())
}

/// What stands while it is taken apart.
struct Set {
    /// For each unit of the piece whether it stands.
    has: Vec<bool>,
    /// For each direction and unit how far along its path it is known free.
    /// What is free stays free, as units are only taken away.
    free_to: Vec<Vec<usize>>,
}

impl Set {
    fn of(blocking: &Blocking, set: &[usize]) -> Self {
        let count = blocking.units.len();
        let mut has = vec![false; count];
        for unit in set {
            has[*unit] = true;
        }
        Self { has, free_to: vec![vec![0; count]; blocking.ways.len()] }
    }

    fn is_free(&mut self, blocking: &Blocking, unit: usize, way: usize) -> bool {
        let Self { has, free_to } = self;
        blocking.is_free(unit, way, |other| has[other], &mut free_to[way][unit])
    }
}

/// The group of `set` to take off next, and the direction. In order of weight:
/// fittings, glass and backs come off before frames and carcases; the smallest
/// group; one that leaves no loose parts; the preferred direction; the script's
/// last part, so that the order of assembly follows the script.
fn choose(
    blocking: &Blocking,
    habits: &Habits,
    set: &[usize],
    standing: &mut Set,
) -> Option<(Vec<usize>, usize)> {
    let late = &habits.late;
    if let Some(whole) = drawer(blocking, &habits.drawers, set, standing) {
        return Some(whole);
    }
    let bonds = Bonds::of(blocking, set);
    // What nothing joins to the rest, as a drawer without runners, is made up by itself.
    if let Some(whole) = drawer(blocking, &bonds.made_up(), set, standing) {
        return Some(whole);
    }
    // A door or drawer is hung when all is glued; made up by itself it waits for
    // nothing.
    let alone = habits.drawers.iter().any(|one| set.iter().all(|unit| one.binary_search(unit).is_ok()));
    let late = |unit: usize| if alone && late[unit] == HUNG { 1 } else { late[unit] };
    let mut levels: Vec<u8> = set.iter().map(|unit| late(*unit)).collect();
    levels.sort_unstable();
    levels.dedup();
    levels.into_iter().rev().find_map(|level| {
        if level == 0
            && let Some(whole) = drawer(blocking, &habits.layers, set, standing)
        {
            return Some(whole);
        }
        let early: Vec<usize> = set.iter().rev().copied().filter(|unit| late(*unit) >= level).collect();
        single(blocking, habits, &bonds, &early, standing).or_else(|| {
            let is_early = |unit: usize| late(unit) >= level;
            let stands = |unit: usize| standing.has[unit];
            let free = Free { blocking, is_early: &is_early, stands: &stands };
            group(&free, &bonds, &early, set.len())
        })
    })
}

/// A drawer, a framed door or a block of layers that comes off whole, the script's
/// last first.
fn drawer(
    blocking: &Blocking,
    whole: &[Vec<usize>],
    set: &[usize],
    standing: &Set,
) -> Option<(Vec<usize>, usize)> {
    let drawers = whole.iter().rev().filter(|drawer| {
        drawer.len() < set.len() && drawer.iter().all(|unit| set.binary_search(unit).is_ok())
    });
    drawers.into_iter().find_map(|drawer| {
        let stays = |other: usize| standing.has[other] && drawer.binary_search(&other).is_err();
        let free = |way: &usize| drawer.iter().all(|unit| blocking.held(*unit, *way, stays).next().is_none());
        (0..blocking.ways.len()).find(free).map(|way| (drawer.clone(), way))
    })
}

/// The first unit of `early` that comes off alone; thin backs square to their
/// face where they do.
fn single(
    blocking: &Blocking,
    habits: &Habits,
    bonds: &Bonds<'_>,
    early: &[usize],
    standing: &mut Set,
) -> Option<(Vec<usize>, usize)> {
    let mut scattering = None;
    let flat = early.iter().flat_map(|unit| habits.flat[*unit].iter().map(|way| (*way, *unit)));
    let all = (0..blocking.ways.len()).flat_map(|way| early.iter().map(move |unit| (way, *unit)));
    for (way, unit) in flat.chain(all) {
        if standing.is_free(blocking, unit, way) {
            if !bonds.scatters(&[unit]) {
                // Of several ways the one its joints are made for.
                let made = (0..blocking.ways.len()).find(|way| {
                    blocking.opens(unit, *way, |other| standing.has[other])
                        && standing.is_free(blocking, unit, *way)
                });
                let way = if habits.flat[unit].contains(&way) { way } else { made.unwrap_or(way) };
                return Some((vec![unit], way));
            }
            scattering.get_or_insert((vec![unit], way));
        }
    }
    scattering
}

/// What may come off, and what is in its way.
struct Free<'s> {
    blocking: &'s Blocking,
    /// Whether a unit may come off yet.
    is_early: &'s dyn Fn(usize) -> bool,
    /// Whether a unit still stands.
    stands: &'s dyn Fn(usize) -> bool,
}

/// The smallest group with a unit of `early` that comes off together, all of
/// it early enough and less than the whole of `count` units.
fn group(free: &Free<'_>, bonds: &Bonds<'_>, early: &[usize], count: usize) -> Option<(Vec<usize>, usize)> {
    let mut best: Option<(Vec<usize>, usize, bool)> = None;
    for way in 0..free.blocking.ways.len() {
        for &unit in early {
            let (most, scatters) = best.as_ref().map_or((count - 1, true), |(group, _, s)| (group.len(), *s));
            let Some(found) = free.moves_with(unit, way, most) else { continue };
            if found.len() == most && best.is_some() && !scatters {
                continue;
            }
            let loose = bonds.scatters(&found);
            if best.is_none() || found.len() < most || !loose {
                best = Some((found, way, loose));
            }
        }
    }
    best.map(|(group, way, _)| (group, way))
}

impl Free<'_> {
    /// What must move along when `unit` is taken off along `way`: everything in
    /// its way, everything in the way of that, and so on. Rising. `None` when that
    /// is more than `most` units, or takes one that is not early enough.
    fn moves_with(&self, unit: usize, way: usize, most: usize) -> Option<Vec<usize>> {
        let mut group = vec![unit];
        let mut taken = vec![false; self.blocking.units.len()];
        taken[unit] = true;
        let mut next = 0;
        while let Some(&moved) = group.get(next) {
            let stays = |other: usize| (self.stands)(other) && !taken[other];
            let fresh: Vec<usize> = self.blocking.held(moved, way, stays).collect();
            for other in fresh {
                if group.len() == most || !(self.is_early)(other) {
                    return None;
                }
                taken[other] = true;
                group.push(other);
            }
            next += 1;
        }
        group.sort_unstable();
        Some(group)
    }
}

/// Which units of a set its joints hold together.
struct Bonds<'b> {
    blocking: &'b Blocking,
    /// For each unit of the piece the assembly of the set it belongs to.
    home: Vec<Option<usize>>,
    /// The assemblies that nothing joins to one another.
    assemblies: Vec<Vec<usize>>,
}

impl<'b> Bonds<'b> {
    fn of(blocking: &'b Blocking, set: &[usize]) -> Self {
        let mut home = vec![None; blocking.units.len()];
        let mut left = vec![false; blocking.units.len()];
        for unit in set {
            left[*unit] = true;
        }
        let assemblies = bodies(blocking, set, &mut left);
        for (index, assembly) in assemblies.iter().enumerate() {
            for unit in assembly {
                home[*unit] = Some(index);
            }
        }
        Self { blocking, home, assemblies }
    }

    /// The assemblies of several units, where there are more than one.
    fn made_up(&self) -> Vec<Vec<usize>> {
        let mut several: Vec<Vec<usize>> =
            self.assemblies.iter().filter(|assembly| assembly.len() > 1).cloned().collect();
        for assembly in &mut several {
            assembly.sort_unstable();
        }
        if several.len() > 1 { several } else { Vec::new() }
    }

    /// Whether the set without `group`, or `group` itself, falls into loose
    /// parts.
    fn scatters(&self, group: &[usize]) -> bool {
        let mut touched: Vec<usize> = group.iter().filter_map(|unit| self.home[*unit]).collect();
        touched.sort_unstable();
        touched.dedup();
        let whole = self.assemblies.len() - touched.len();
        if whole > 1 || touched.len() > 1 {
            return true;
        }
        let mut left = vec![false; self.home.len()];
        for unit in group {
            left[*unit] = true;
        }
        if bodies(self.blocking, group, &mut left).len() > 1 {
            return true;
        }
        let mut rest: Vec<usize> = touched.iter().flat_map(|i| self.assemblies[*i].iter().copied()).collect();
        for unit in &rest {
            left[*unit] = true;
        }
        for unit in group {
            left[*unit] = false;
        }
        rest.retain(|unit| left[*unit]);
        whole + bodies(self.blocking, &rest, &mut left).len() > 1
    }
}

/// The units of `set` as bodies that joints hold together; `left` says which
/// units are in it and is cleared.
fn bodies(blocking: &Blocking, set: &[usize], left: &mut [bool]) -> Vec<Vec<usize>> {
    let mut found = Vec::new();
    for &first in set {
        if !std::mem::take(&mut left[first]) {
            continue;
        }
        let mut body = vec![first];
        let mut next = 0;
        while let Some(&unit) = body.get(next) {
            body.extend(blocking.joined(unit).filter(|other| std::mem::take(&mut left[*other])));
            next += 1;
        }
        found.push(body);
    }
    found
}

/// How late a part goes in, 0 to 10, by trade sense (common practice, no
/// source): what opens, then what a cut made after the glue-up takes, then loose parts of dry
/// joints, then thin backs, then everything else.
fn lateness(worked: &WorkedJob, index: usize) -> u8 {
    let Some(part) = worked.parts.get(index) else { return 0 };
    // Doors are hung and drawers put in when all is glued.
    if worked.joints.iter().any(|joint| joint.opens.is_some() && joint.parts.first() == Some(&index)) {
        return 10;
    }
    let joints = || worked.joints.iter().enumerate().filter(|(_, joint)| joint.parts.contains(&index));
    let waits = joints().any(|(j, joint)| {
        joint.parts.iter().any(|other| {
            *other != index
                && worked
                    .parts
                    .get(*other)
                    .is_some_and(|p| p.cuts.iter().any(|cut| cut.joint == Some(j) && cut.stage.waits()))
        })
    });
    if waits {
        return 9;
    }
    let mut any = false;
    // Lippings are glued on before and say nothing of how the part goes in.
    let own = |joint: &WorkedJoint| {
        let parts = joint.parts.iter().filter_map(|p| worked.parts.get(*p));
        parts.filter(|p| matches!(p.source, PartSource::Part(_))).count() > 1
    };
    let dry = joints().filter(|(_, joint)| own(joint)).all(|(_, joint)| {
        any = true;
        !joint.glued
    });
    match (any && dry, part.size.z < THIN) {
        (true, _) => 8,
        (false, true) => 7,
        (false, false) => 0,
    }
}
