//! What the trade does of itself with each unit (common practice, no source), and what the
//! script asks for.

use super::blocking::{Blocking, Tie, Unit};
use super::tolerance::{AHEAD, SQUARE};
use crate::geometry::DVec3;
use crate::joinery::{Opening, PartSource, Stage, TakesUp, WorkedJob, WorkedJoint, is_set_on_site};
use crate::model::OrderAsked;

/// Parts thinner than this are backs, panels and glass, mm (common practice, no
/// source).
const THIN: f64 = 10.0;

/// How late a door or drawer goes in, see [`Habits::late`].
pub(super) const HUNG: u8 = 11;

/// How late a strip goes in that is scribed where the piece stands, see [`Habits::late`].
const ON_SITE: u8 = 12;

/// What is glued up before anything is fitted to it, see [`Habits::late`].
pub(super) const EARLY: u8 = 1;

/// What the trade does with each unit, and what the script asks.
pub(super) struct Habits {
    /// How late it goes in, 1 to 12; 0 for layers that are glued up first.
    pub(super) late: Vec<u8>,
    /// For a thin back the directions square to its face, indices into
    /// [`Blocking::ways`]: it is laid on or into a rebate rather than slid in.
    pub(super) flat: Vec<Vec<usize>>,
    /// What opens and is made of several units, each put in whole.
    pub(super) drawers: Vec<Vec<usize>>,
    /// Fronts screwed to a drawer once it runs, when the gap round them can be seen.
    pub(super) fronts: Vec<usize>,
    /// What is glued up of layers, each made whole before the rest.
    pub(super) layers: Vec<Vec<usize>>,
    /// What is glued up by itself and joined to the rest dry or by plain faces: plinths,
    /// face frames, leg frames.
    pub(super) glued: Vec<Vec<usize>>,
    /// What the script makes up by itself; where it names nothing, sides with the runners that
    /// nobody reaches in the narrow case that they close.
    pub(super) named: Vec<Vec<usize>>,
    /// For each unit those that go in after it, as the script says.
    pub(super) waits: Vec<Vec<usize>>,
    /// Units that are scribed to the wall and then fixed, when the piece stands there, rising.
    pub(super) on_site: Vec<usize>,
}

impl Habits {
    /// Reads the piece, with what is asked for.
    pub(super) fn of(worked: &WorkedJob, blocking: &Blocking, asked: &OrderAsked) -> Self {
        let layers = layers(worked, blocking);
        let is_on_site = |unit: &Unit| {
            asked.scribed.iter().any(|part| part.0 == unit.part) && is_set_on_site(worked, unit.part)
        };
        // Layers are glued up before anything is joined to them.
        let on_site: Vec<usize> = blocking
            .units
            .iter()
            .enumerate()
            .filter(|(_, unit)| is_on_site(unit))
            .map(|(index, _)| index)
            .collect();
        let lateness = |(index, unit): (usize, &Unit)| {
            if on_site.contains(&index) {
                ON_SITE
            } else if layers.iter().any(|block| block.contains(&index)) {
                0
            } else {
                EARLY + lateness(worked, unit.part)
            }
        };
        let late: Vec<u8> = blocking.units.iter().enumerate().map(lateness).collect();
        let mut drawers = drawers(worked, blocking);
        let fronts = fronts(worked, blocking, &drawers);
        for drawer in &mut drawers {
            drawer.retain(|unit| !fronts.contains(unit));
        }
        drawers.retain(|drawer| drawer.len() > 1);
        let glued = glued(worked, blocking);
        let mut units = named(blocking, asked);
        if units.is_empty() {
            units = beyond_reach(worked, blocking);
        }
        Self {
            late,
            flat: flat_ways(worked, blocking),
            drawers,
            fronts,
            layers,
            glued,
            named: units,
            waits: waits(blocking, asked),
            on_site,
        }
    }

    /// Whether taking `group` off would break up a unit that the script names while
    /// something else still stands.
    pub(super) fn breaks(&self, group: &[usize], stands: impl Fn(usize) -> bool) -> bool {
        self.named.iter().any(|unit| {
            let inside = |other: &usize| unit.binary_search(other).is_ok();
            let left = unit.iter().any(|other| stands(*other) && !group.contains(other));
            // The rest must be gone, or the unit go as one.
            let beside = self.late.len();
            let alone = !(0..beside).any(|other| stands(other) && !inside(&other));
            group.iter().any(inside) && left && !alone
        })
    }

    /// Whether a group made up for the sake of the move alone would have in it what goes in
    /// after something that it comes to: put together first, it would be in before.
    pub(super) fn turns_round(&self, group: &[usize], stands: impl Fn(usize) -> bool) -> bool {
        let stays = |unit: usize| stands(unit) && !group.contains(&unit);
        group.len() > 1
            && (0..self.waits.len())
                .any(|first| stays(first) && self.waits[first].iter().any(|then| group.contains(then)))
    }

    /// Whether something that goes in after `unit` still stands.
    pub(super) fn is_held_back(&self, unit: usize, stands: impl Fn(usize) -> bool) -> bool {
        self.waits.get(unit).is_some_and(|then| then.iter().any(|other| stands(*other)))
    }
}

/// The unit that a part belongs to.
pub(super) fn unit_of(blocking: &Blocking, part: usize) -> Option<usize> {
    blocking.units.iter().position(|unit| unit.all.contains(&part))
}

/// The units that the script makes up by themselves, rising.
fn named(blocking: &Blocking, asked: &OrderAsked) -> Vec<Vec<usize>> {
    let units = asked.units.iter().map(|unit| {
        let mut list: Vec<usize> = unit.parts.iter().filter_map(|part| unit_of(blocking, part.0)).collect();
        list.sort_unstable();
        list.dedup();
        list
    });
    units.filter(|unit| unit.len() > 1).collect()
}

/// A driver with the hand on it needs so much room before what it screws on, mm (common practice,
/// no source).
const DRIVER: f64 = 250.0;

/// Sides with the strips on them that drawers run on, each list rising, where the case they close
/// has no room for a driver before them.
fn beyond_reach(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let slides = worked.joints.iter().filter(|joint| joint.slides_on_wood());
    let mut runners: Vec<usize> =
        slides.filter_map(|joint| unit_of(blocking, *joint.parts.last()?)).collect();
    runners.sort_unstable();
    runners.dedup();
    let mut found: Vec<Vec<usize>> = Vec::new();
    for (runner, side, away) in runners.iter().flat_map(|runner| screwed(worked, blocking, *runner)) {
        let stands = |other: &usize| {
            *other != side && *other != runner && !runners.contains(other) && !moves(worked, blocking, *other)
        };
        let before = (0..blocking.units.len()).filter(stands);
        let met = before.filter(|other| blocking.blocks(runner, *other, away));
        let room = met.map(|other| blocking.gap(runner, other, away)).reduce(f64::min);
        if room.is_none_or(|room| room + blocking.span(runner, away) > DRIVER) {
            continue;
        }
        match found.iter_mut().find(|unit| unit.contains(&side)) {
            Some(unit) => unit.push(runner),
            None => found.push(vec![side, runner]),
        }
    }
    for unit in &mut found {
        unit.sort_unstable();
        unit.dedup();
    }
    found
}

/// What a strip is screwed flat to, with the way off that.
fn screwed(worked: &WorkedJob, blocking: &Blocking, strip: usize) -> Vec<(usize, usize, DVec3)> {
    let by_screws = |tie: &&Tie| {
        let joint = worked.joints.get(tie.joint);
        joint.is_some_and(|joint| !joint.glued && joint.inserts.iter().any(|insert| insert.item.is_screw()))
    };
    let own = [strip];
    let ties = blocking.ties_between(&own, |other| other != strip).filter(by_screws);
    ties.filter_map(|tie| {
        let made = *tie.made_for.first()?;
        Some(if tie.first == strip { (strip, tie.second, made) } else { (strip, tie.first, -made) })
    })
    .collect()
}

/// Whether a unit moves along with what opens.
fn moves(worked: &WorkedJob, blocking: &Blocking, unit: usize) -> bool {
    let part = blocking.units[unit].part;
    let leaves = worked.joints.iter().filter(|joint| joint.opens.is_some());
    leaves.filter_map(|joint| joint.parts.first()).any(|leaf| worked.moving_with(*leaf).contains(&part))
}

/// For each unit those that go in after it.
fn waits(blocking: &Blocking, asked: &OrderAsked) -> Vec<Vec<usize>> {
    let mut waits = vec![Vec::new(); blocking.units.len()];
    for before in &asked.before {
        let then: Vec<usize> = before.then.iter().filter_map(|part| unit_of(blocking, part.0)).collect();
        for first in before.first.iter().filter_map(|part| unit_of(blocking, part.0)) {
            waits[first].extend(then.iter().filter(|other| **other != first));
        }
    }
    waits
}

/// The units that are layers of one thick piece, rising.
fn layers(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    joined_by(worked, blocking, |joint| joint.traits.is_layered)
}

/// What is glued together by joints that hold, with the panels that are caught in it:
/// plinths, frames, cases. A butt alone holds nothing in the right place, so it joins
/// made-up units and is no part of one.
fn glued(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let holds = |joint: &WorkedJoint| {
        let plain = joint.inserts.is_empty()
            && joint.traits.takes_up == TakesUp::Meeting
            && !joint.traits.folds
            && !joint.traits.is_layered;
        joint.glued && !plain
    };
    let mut found = joined_by(worked, blocking, holds);
    let home = |unit: usize, found: &[Vec<usize>]| found.iter().position(|one| one.contains(&unit));
    for unit in 0..blocking.units.len() {
        if home(unit, &found).is_some() {
            continue;
        }
        let mut homes: Vec<Option<usize>> =
            blocking.joined(unit).filter(|other| *other != unit).map(|other| home(other, &found)).collect();
        homes.dedup();
        if let [Some(only)] = homes.as_slice() {
            found[*only].push(unit);
        }
    }
    for unit in &mut found {
        unit.sort_unstable();
    }
    found
}

/// Units that joints of some kind hold together, two or more, each list rising.
fn joined_by(
    worked: &WorkedJob,
    blocking: &Blocking,
    holds: impl Fn(&WorkedJoint) -> bool,
) -> Vec<Vec<usize>> {
    let mut home: Vec<usize> = (0..blocking.units.len()).collect();
    for tie in &blocking.ties {
        if worked.joints.get(tie.joint).is_some_and(&holds) {
            let (keep, goes) = (home[tie.first], home[tie.second]);
            home.iter_mut().filter(|one| **one == goes).for_each(|one| *one = keep);
        }
    }
    let mut found: Vec<Vec<usize>> = Vec::new();
    for first in 0..home.len() {
        let members: Vec<usize> = (0..home.len()).filter(|unit| home[*unit] == home[first]).collect();
        if members.len() > 1 && members.first() == Some(&first) {
            found.push(members);
        }
    }
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

/// Fronts that are screwed before a drawer: dry, and farther out along its way than the
/// rest of it.
fn fronts(worked: &WorkedJob, blocking: &Blocking, drawers: &[Vec<usize>]) -> Vec<usize> {
    let mut found = Vec::new();
    let slides = worked.joints.iter().filter_map(|joint| match joint.opens {
        Some(Opening::Slides { toward, .. }) => {
            let leaf = unit_of(blocking, *joint.parts.first()?)?;
            Some((drawers.iter().find(|drawer| drawer.contains(&leaf))?.clone(), toward))
        }
        _ => None,
    });
    let loose = slipped_in(worked, blocking).into_iter().map(|drawer| (drawer, DVec3::NEG_Y));
    for (drawer, toward) in slides.chain(loose) {
        let near = |unit: usize| reach(worked, blocking, unit, toward).0;
        let far_of_rest = |unit: usize| {
            let rest = drawer.iter().filter(|other| **other != unit);
            rest.map(|other| reach(worked, blocking, *other, toward).1).fold(f64::NEG_INFINITY, f64::max)
        };
        for unit in &drawer {
            let dry = blocking
                .ties_between(std::slice::from_ref(unit), |other| drawer.contains(&other))
                .all(|tie| worked.joints.get(tie.joint).is_some_and(|joint| !joint.glued));
            if dry && near(*unit) > far_of_rest(*unit) - AHEAD && !found.contains(unit) {
                found.push(*unit);
            }
        }
    }
    found
}

/// A box with a show front before it has more parts than this.
const BOX: usize = 4;

/// Boxes that nothing joins to the rest, as drawers of a script that does not say what they
/// slide on.
fn slipped_in(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let mut all = joined_by(worked, blocking, |_| true);
    let size = |one: &Vec<usize>| one.iter().map(|unit| blocking.units[*unit].size()).sum::<f64>();
    let largest = (0..all.len()).max_by(|a, b| size(&all[*a]).total_cmp(&size(&all[*b])));
    if let Some(case) = largest {
        all.remove(case);
    }
    all.retain(|one| one.len() > BOX);
    all
}

/// Least and greatest of a unit along a direction, mm.
fn reach(worked: &WorkedJob, blocking: &Blocking, unit: usize, along: DVec3) -> (f64, f64) {
    let parts = blocking.units.get(unit).into_iter().flat_map(|unit| &unit.all);
    let points = parts.filter_map(|part| worked.parts.get(*part));
    let points = points.flat_map(|part| part.solid.points.iter().map(|p| along.dot(part.at.point(*p))));
    points.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

/// The directions square to the face of each unit that is a thin back.
fn flat_ways(worked: &WorkedJob, blocking: &Blocking) -> Vec<Vec<usize>> {
    let square = |unit: &Unit| {
        let Some(part) = worked.parts.get(unit.part).filter(|part| part.size.z < THIN) else {
            return Vec::new();
        };
        let through = part.at.z;
        (0..blocking.ways.len()).filter(|way| blocking.ways[*way].dot(through).abs() > SQUARE).collect()
    };
    blocking.units.iter().map(square).collect()
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
                && worked.parts.get(*other).is_some_and(|p| {
                    p.cuts.iter().any(|cut| cut.joint == Some(j) && cut.stage == Stage::AfterGlueUp)
                })
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
