//! The search: what comes off first.

mod on_wall;

use self::on_wall::{off_the_wall, slid_over};
use super::blocking::{Blocking, CLEARLY, ENOUGH};
use super::bonds::Bonds;
use super::habits::{EARLY, HUNG, Habits};
use super::tolerance::SAME_WAY;
use crate::joinery::WorkedJob;
use crate::model::{OrderAsked, PieceId};

/// A body in the making: what it begins with, and what comes to that, in the order of
/// assembly.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Body {
    /// The units it begins with: one, or the strips on the wall.
    pub(super) base: Vec<usize>,
    /// What comes to them.
    pub(super) adds: Vec<Addition>,
}

/// What comes to a body in one straight move: one unit, or a body made up before.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Addition {
    /// What comes.
    pub(super) coming: Body,
    /// Units that stand and that it comes to, rising.
    pub(super) rest: Vec<usize>,
    /// Direction it is taken off along: an index into [`Blocking::ways`].
    pub(super) off: usize,
}

impl Body {
    /// All its units, rising.
    pub(super) fn units(&self) -> Vec<usize> {
        let mut all = self.base.clone();
        all.extend(self.adds.iter().flat_map(|add| add.coming.units()));
        all.sort_unstable();
        all
    }
}

/// A plan.
#[derive(Debug)]
pub(super) struct Plan {
    /// What blocks what.
    pub(super) blocking: Blocking,
    /// The piece; `None` where it has no parts.
    pub(super) body: Option<Body>,
    /// Units that are show fronts of drawers.
    pub(super) fronts: Vec<usize>,
    /// Units that are scribed and fixed where the piece stands.
    pub(super) on_site: Vec<usize>,
    /// Units fixed to the wall that all the rest is then slid over, rising.
    pub(super) shut_in: Vec<usize>,
}

/// Finds the order of one piece, or the parts (indices into
/// `WorkedJob::parts`) that lock one another.
pub(super) fn plan(worked: &WorkedJob, piece: PieceId, asked: &OrderAsked) -> Result<Plan, Vec<usize>> {
    plan_without(worked, piece, asked, None)
}

/// The same, as if one joint (an index into `WorkedJob::joints`) left every way open.
pub(super) fn plan_without(
    worked: &WorkedJob,
    piece: PieceId,
    asked: &OrderAsked,
    joint: Option<usize>,
) -> Result<Plan, Vec<usize>> {
    let blocking = Blocking::of(worked, piece, joint);
    let habits = Habits::of(worked, &blocking, asked);
    let all: Vec<usize> = (0..blocking.units.len()).collect();
    let slid = slid_over(worked, &blocking, &all);
    let shut_in = slid.as_ref().map(|(_, stays, _)| stays.clone()).unwrap_or_default();
    let body = match (off_the_wall(worked, &blocking, &all), slid) {
        (Some((group, rest, off)), _) => take_apart(&blocking, &habits, group)
            .map(|coming| Some(Body { base: rest.clone(), adds: vec![Addition { coming, rest, off }] })),
        (None, Some((group, rest, off))) => {
            take_apart(&blocking, &habits, rest.clone()).and_then(|mut body| {
                let coming = take_apart(&blocking, &habits, group)?;
                body.adds.push(Addition { coming, rest, off });
                Ok(Some(body))
            })
        }
        (None, None) if all.is_empty() => Ok(None),
        (None, None) => take_apart(&blocking, &habits, all).map(Some),
    };
    match body {
        Ok(body) => {
            let Habits { fronts, on_site, .. } = habits;
            Ok(Plan { blocking, body, fronts, on_site, shut_in })
        }
        Err(locked) => Err(locked.iter().map(|u| blocking.units[*u].part).collect()),
    }
}

/// Takes `set` (rising, not empty) apart.
fn take_apart(blocking: &Blocking, habits: &Habits, mut set: Vec<usize>) -> Result<Body, Vec<usize>> {
    let mut standing = Set::of(blocking, &set);
    let mut adds = Vec::new();
    let mut run = Run::default();
    while set.len() > 1 {
        let chosen = Chooser { blocking, habits, set: &set, run: &run }.choose(&mut standing);
        let Some((group, off)) = chosen else { return Err(set) };
        run.goes_on(blocking, &group, off);
        for unit in &group {
            standing.has[*unit] = false;
        }
        set.retain(|unit| standing.has[*unit]);
        let (group, off) = smaller_comes(blocking, &mut set, group, off);
        let coming = take_apart(blocking, habits, group)?;
        adds.push(Addition { coming, rest: set.clone(), off });
    }
    adds.reverse();
    Ok(Body { base: set, adds })
}

/// Of two last units a much smaller one comes to the larger: a fillet to its lid.
fn smaller_comes(
    blocking: &Blocking,
    set: &mut Vec<usize>,
    group: Vec<usize>,
    off: usize,
) -> (Vec<usize>, usize) {
    let ([stays], [goes]) = (set.as_slice(), group.as_slice()) else { return (group, off) };
    let back = -blocking.ways[off];
    let other = blocking.ways.iter().position(|way| way.dot(back) > SAME_WAY);
    let small = blocking.units[*stays].size() < SMALL * blocking.units[*goes].size();
    match other.filter(|_| small) {
        Some(other) => {
            let swapped = vec![*stays];
            *set = group;
            (swapped, other)
        }
        None => (group, off),
    }
}

/// Share of a unit's size up to which another is much smaller.
const SMALL: f64 = 0.25;

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

/// What came off last, move after move along one line: in the order of assembly, what one
/// clamping can close.
#[derive(Default)]
struct Run {
    /// The way of its last move; `None` before the first.
    off: Option<usize>,
    /// The units that came off.
    units: Vec<usize>,
}

impl Run {
    /// Takes in what comes off now, or begins anew along another line.
    fn goes_on(&mut self, blocking: &Blocking, group: &[usize], off: usize) {
        let line = |last: usize| blocking.ways[last].dot(blocking.ways[off]).abs() > SAME_WAY;
        if !self.off.is_some_and(line) {
            self.units.clear();
        }
        self.off = Some(off);
        self.units.extend_from_slice(group);
    }
}

/// Ways clear that differ by less than this are as short as one another, mm.
const STEP: f64 = 1.0;

/// Share of its glue that a made-up unit goes straight onto, as clamps press it (common practice,
/// no source).
const MOST: f64 = 0.5;

/// A unit no longer than this along its way is slid over its glue before it wipes it off, mm:
/// a face frame between the sides of its case (common practice, no source).
const SLID: f64 = 100.0;

/// Chooses what of `set` comes off next.
struct Chooser<'c> {
    blocking: &'c Blocking,
    habits: &'c Habits,
    set: &'c [usize],
    run: &'c Run,
}

impl Chooser<'_> {
    /// The group to take off next, and the direction. In order of weight: fittings, glass
    /// and backs come off before frames and carcases, made-up units whole; a rail of which
    /// the last moves opened one end; the smallest group; one that leaves no loose parts; the
    /// preferred direction; the script's last part, so that the order of assembly follows the
    /// script.
    fn choose(&self, standing: &mut Set) -> Option<(Vec<usize>, usize)> {
        let Self { blocking, habits, set, .. } = *self;
        let bonds = Bonds::of(blocking, set);
        // What nothing joins to the rest, as a drawer without runners, is made up by itself.
        let first = self
            .front(standing)
            .or_else(|| self.whole(&habits.drawers, standing, false))
            .or_else(|| self.whole(&bonds.made_up(), standing, false));
        if first.is_some() {
            return first;
        }
        // A door or drawer is hung when all is glued; made up by itself it waits for
        // nothing.
        let alone = habits.drawers.iter().any(|one| set.iter().all(|unit| one.binary_search(unit).is_ok()));
        let late = |unit: usize| if alone && habits.late[unit] == HUNG { 1 } else { habits.late[unit] };
        let mut levels: Vec<u8> = set.iter().map(|unit| late(*unit)).collect();
        levels.sort_unstable();
        levels.dedup();
        let mut tried_units = false;
        let mut loose = None;
        let found = levels.into_iter().rev().find_map(|level| {
            if level < HUNG && !tried_units {
                tried_units = true;
                let unit = self.whole(&habits.named, standing, false).or_else(|| self.beside(standing, true));
                if unit.is_some() {
                    return unit;
                }
            }
            if level == 0
                && let Some(whole) = self.whole(&habits.layers, standing, false)
            {
                return Some(whole);
            }
            let early: Vec<usize> = set.iter().rev().copied().filter(|unit| late(*unit) >= level).collect();
            match self.single(&bonds, &early, standing) {
                Some((group, off, false)) => Some((group, off)),
                // What would leave the rest in loose parts waits for something earlier that does
                // not: the skin of a hollow for the spacer on it.
                Some((group, off, true)) => {
                    loose.get_or_insert((group, off));
                    None
                }
                None if loose.is_some() => None,
                None => {
                    let is_early = |unit: usize| late(unit) >= level;
                    let stands = |unit: usize| standing.has[unit];
                    let free = Free { blocking, habits, is_early: &is_early, stands: &stands };
                    free.group(&bonds, &early, set.len())
                }
            }
        });
        found.or(loose).or_else(|| self.beside(standing, false))
    }

    /// A drawer's show front, while the drawer is still in its place.
    fn front(&self, standing: &mut Set) -> Option<(Vec<usize>, usize)> {
        let fronts: Vec<usize> =
            self.set.iter().rev().copied().filter(|unit| self.habits.fronts.contains(unit)).collect();
        fronts.into_iter().filter(|_| self.set.len() > 1).find_map(|unit| {
            let free: Vec<usize> = (0..self.blocking.ways.len())
                .filter(|way| standing.is_free(self.blocking, unit, *way))
                .collect();
            // Square off the drawer rather than sliding over it.
            let made = free.iter().find(|way| self.blocking.opens(unit, **way, |other| standing.has[other]));
            made.or(free.first()).map(|way| (vec![unit], *way))
        })
    }

    /// Of the units glued up by themselves one beside the largest, which the others come to;
    /// where asked only one that is not slid far over its glue.
    fn beside(&self, standing: &Set, pressed: bool) -> Option<(Vec<usize>, usize)> {
        let here = |one: &usize| self.set.binary_search(one).is_ok();
        // A case whose doors are off already is a case still.
        let whole = |unit: &&Vec<usize>| unit.iter().all(|one| here(one) || self.habits.late[*one] > EARLY);
        let rest = |unit: &Vec<usize>| unit.iter().copied().filter(here).collect::<Vec<usize>>();
        let here: Vec<Vec<usize>> =
            self.habits.glued.iter().filter(whole).map(rest).filter(|unit| !unit.is_empty()).collect();
        let size = |one: &usize| here[*one].iter().map(|unit| self.blocking.units[*unit].size()).sum::<f64>();
        let largest = (0..here.len()).rev().max_by(|a, b| size(a).total_cmp(&size(b)))?;
        let rest: Vec<Vec<usize>> = here
            .iter()
            .enumerate()
            .filter(|(one, _)| *one != largest)
            .map(|(_, unit)| unit.clone())
            .collect();
        self.whole(&rest, standing, pressed)
    }

    /// A drawer, a framed door or a block of layers that comes off whole, the script's
    /// last first; where asked only one that goes straight onto most of its glue or is slid
    /// over it no farther than a frame is thick.
    fn whole(&self, units: &[Vec<usize>], standing: &Set, onto: bool) -> Option<(Vec<usize>, usize)> {
        let inside = |one: &&Vec<usize>| {
            one.len() < self.set.len() && one.iter().all(|unit| self.set.binary_search(unit).is_ok())
        };
        units.iter().rev().filter(inside).find_map(|one| {
            let stays = |other: usize| standing.has[other] && one.binary_search(&other).is_err();
            let waits = one.iter().any(|unit| self.habits.is_held_back(*unit, stays));
            if waits || self.habits.breaks(one, |other| standing.has[other]) {
                return None;
            }
            let free =
                |way: &usize| one.iter().all(|unit| self.blocking.held(*unit, *way, stays).next().is_none());
            // The shortest way clear: a plinth is not lifted over its case.
            let rest: Vec<usize> = self.set.iter().copied().filter(|unit| !one.contains(unit)).collect();
            let far = |way: usize| (self.blocking.travel(one, &rest, way) / STEP).round();
            let ways: Vec<usize> = (0..self.blocking.ways.len()).filter(free).collect();
            // Straight onto its glue rather than along it.
            let pressed = |way: usize| one.iter().map(|unit| self.blocking.presses(*unit, way, stays)).sum();
            let pressed: Vec<f64> = if onto || ways.len() > 1 {
                ways.iter().map(|way| pressed(*way)).collect()
            } else {
                vec![0.0; ways.len()]
            };
            let enough = ENOUGH * pressed.iter().copied().fold(0.0, f64::max);
            let most = if onto { MOST * self.glued_area(one, stays) } else { 0.0 };
            let slid = |way: usize| {
                let lengths = one.iter().map(|unit| self.blocking.span(*unit, self.blocking.ways[way]));
                lengths.fold(0.0, f64::max)
            };
            let ways = ways
                .iter()
                .zip(&pressed)
                .filter(|(way, pressed)| **pressed >= enough && (**pressed >= most || slid(**way) <= SLID));
            ways.min_by(|a, b| far(*a.0).total_cmp(&far(*b.0))).map(|(way, _)| (one.clone(), *way))
        })
    }

    /// Area of glue between a made-up unit and what stays, mm2.
    fn glued_area(&self, one: &[usize], stays: impl Fn(usize) -> bool + Copy) -> f64 {
        one.iter().map(|unit| self.blocking.glued_area(*unit, stays)).sum()
    }

    /// The first unit of `early` that comes off alone; thin backs square to their
    /// face where they do. Whether it leaves the rest in loose parts.
    fn single(
        &self,
        bonds: &Bonds<'_>,
        early: &[usize],
        standing: &mut Set,
    ) -> Option<(Vec<usize>, usize, bool)> {
        let Self { blocking, habits, .. } = *self;
        let mut scattering = None;
        let early: Vec<usize> = early
            .iter()
            .copied()
            .filter(|unit| {
                let stands = |other: usize| standing.has[other];
                !habits.is_held_back(*unit, stands) && !habits.breaks(std::slice::from_ref(unit), stands)
            })
            .collect();
        if let Some(rail) = self.other_end(bonds, &early, standing) {
            return Some((rail.0, rail.1, false));
        }
        let flat = early.iter().flat_map(|unit| habits.flat[*unit].iter().map(|way| (*way, *unit)));
        let all = (0..blocking.ways.len()).flat_map(|way| early.iter().map(move |unit| (way, *unit)));
        for (way, unit) in flat.chain(all) {
            if standing.is_free(blocking, unit, way) {
                if !bonds.scatters(&[unit]) {
                    // Of several ways the one its joints are made for.
                    let made = self.made_for(standing, unit);
                    let flat = habits.flat[unit].contains(&way).then_some(way);
                    let way = flat.or(made).unwrap_or_else(|| self.shortest(standing, unit, way));
                    return Some((vec![unit], way, false));
                }
                scattering.get_or_insert((vec![unit], way, true));
            }
        }
        scattering
    }
}

impl Chooser<'_> {
    /// A unit of `early` one end of which the last moves opened, and that comes off its
    /// other end along the same line: both close in one clamping. Left for later it would be
    /// glued alone at one end and stand there with nothing to hold it square.
    fn other_end(
        &self,
        bonds: &Bonds<'_>,
        early: &[usize],
        standing: &mut Set,
    ) -> Option<(Vec<usize>, usize)> {
        let Self { blocking, run, .. } = *self;
        let last = blocking.ways[run.off?];
        let along = |way: &usize| blocking.ways[*way].dot(last).abs() > SAME_WAY;
        let ways: Vec<usize> = (0..blocking.ways.len()).filter(along).collect();
        let opened = |unit: usize| blocking.is_let_into(unit, last, |other| run.units.contains(&other));
        let both = early.iter().copied().filter(|unit| opened(*unit));
        let mut moves = both.flat_map(|unit| ways.iter().map(move |way| (unit, *way)));
        let found = moves.find(|(unit, way)| {
            blocking.is_let_into(*unit, last, |other| standing.has[other])
                && blocking.opens(*unit, *way, |other| standing.has[other])
                && standing.is_free(blocking, *unit, *way)
                && !bonds.scatters(&[*unit])
        });
        found.map(|(unit, way)| (vec![unit], way))
    }

    /// The way off that the joints of a unit are made for: of several the one against which a
    /// clamp closes most of its glue, so that it is slid along a joint only where it does not
    /// go straight in.
    fn made_for(&self, standing: &mut Set, unit: usize) -> Option<usize> {
        let blocking = self.blocking;
        let open = |way: &usize| {
            blocking.opens(unit, *way, |other| standing.has[other]) && standing.is_free(blocking, unit, *way)
        };
        let ways: Vec<usize> = (0..blocking.ways.len()).filter(open).collect();
        if let [] | [_] = ways.as_slice() {
            return ways.first().copied();
        }
        let pressed =
            ways.into_iter().map(|way| (way, blocking.presses(unit, way, |other| standing.has[other])));
        let best = pressed.reduce(|best, one| if one.1 > best.1 * CLEARLY { one } else { best });
        best.map(|(way, _)| way)
    }

    /// The shortest way off for a unit whose joints leave it open, `way` among them: pulled
    /// off its glue, not along it.
    fn shortest(&self, standing: &mut Set, unit: usize, way: usize) -> usize {
        let rest: Vec<usize> = self.set.iter().copied().filter(|other| *other != unit).collect();
        let far = |way: usize| (self.blocking.travel(&[unit], &rest, way) / STEP).round();
        let mut best = (way, far(way));
        for other in 0..self.blocking.ways.len() {
            if standing.is_free(self.blocking, unit, other) && far(other) < best.1 {
                best = (other, far(other));
            }
        }
        best.0
    }
}

/// What may come off, and what is in its way.
struct Free<'s> {
    blocking: &'s Blocking,
    habits: &'s Habits,
    /// Whether a unit may come off yet.
    is_early: &'s dyn Fn(usize) -> bool,
    /// Whether a unit still stands.
    stands: &'s dyn Fn(usize) -> bool,
}

impl Free<'_> {
    /// The smallest group with a unit of `early` that comes off together, all of
    /// it early enough and less than the whole of `count` units.
    fn group(&self, bonds: &Bonds<'_>, early: &[usize], count: usize) -> Option<(Vec<usize>, usize)> {
        let mut best: Option<(Vec<usize>, usize, bool)> = None;
        for way in 0..self.blocking.ways.len() {
            for &unit in early {
                let (most, scatters) =
                    best.as_ref().map_or((count - 1, true), |(group, _, s)| (group.len(), *s));
                let Some(found) = self.moves_with(unit, way, most) else { continue };
                if found.len() == most && best.is_some() && !scatters {
                    continue;
                }
                if self.habits.breaks(&found, self.stands) || self.habits.turns_round(&found, self.stands) {
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
            let mut fresh: Vec<usize> = self.blocking.held(moved, way, stays).collect();
            fresh.extend(self.habits.waits[moved].iter().copied().filter(|other| stays(*other)));
            for other in fresh {
                if taken[other] {
                    continue;
                }
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
