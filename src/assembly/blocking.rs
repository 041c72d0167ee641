//! What gets in the way of what.

use std::cell::RefCell;
use std::collections::BTreeMap;

use crate::geometry::DVec3;
use crate::joinery::{PartSource, WorkedJob};
use crate::model::PieceId;
use crate::solid::Standing;

/// Cosine within which two directions are one: about a twentieth of a degree.
const SAME_WAY: f64 = 1.0 - 5e-7;

/// Cosine between a move and the normal of a face up to which the move closes
/// the face rather than slides along it.
const CLOSES: f64 = 0.5;

/// A part with the lippings glued to it: moves as one.
#[derive(Debug)]
pub(super) struct Unit {
    /// The part: an index into `WorkedJob::parts`.
    pub(super) part: usize,
    /// The part and its lippings.
    pub(super) all: Vec<usize>,
    /// Their solids where they stand.
    solids: Vec<Standing>,
}

/// A joint between two units of the piece.
#[derive(Debug)]
pub(super) struct Tie {
    /// Index into `WorkedJob::joints`.
    pub(super) joint: usize,
    /// The unit that stays.
    pub(super) first: usize,
    /// The unit that comes to it.
    pub(super) second: usize,
    /// Ways in of the second that its inserts leave; empty for any.
    ways: Vec<DVec3>,
    /// Least cosine between a way and a move along it.
    near: f64,
}

/// The units of one piece, their joints, and what blocks what.
#[derive(Debug)]
pub(super) struct Blocking {
    /// The units, in the order of their parts.
    pub(super) units: Vec<Unit>,
    /// Joints between two different units.
    pub(super) ties: Vec<Tie>,
    /// Directions to try taking things off along, unit, in order of preference.
    pub(super) ways: Vec<DVec3>,
    /// Answers so far: (moved, in the way, direction).
    known: RefCell<BTreeMap<(usize, usize, usize), bool>>,
}

impl Blocking {
    /// Reads the piece.
    pub(super) fn of(worked: &WorkedJob, piece: PieceId) -> Self {
        let units = units(worked, piece);
        let ties = ties(worked, &units);
        let ways = directions(&ties);
        Self { units, ties, ways, known: RefCell::new(BTreeMap::new()) }
    }

    /// Whether unit `other` must move along when unit `moved` is taken off
    /// along direction `way`: it stands in the way, or a joint between them
    /// does not open that way.
    pub(super) fn holds(&self, moved: usize, other: usize, way: usize) -> bool {
        if let Some(known) = self.known.borrow().get(&(moved, other, way)) {
            return *known;
        }
        let along = self.ways[way];
        let held = self.ties.iter().any(|tie| tie.holds(moved, other, along))
            || self.units[moved]
                .solids
                .iter()
                .any(|own| self.units[other].solids.iter().any(|theirs| own.is_blocked_by(theirs, along)));
        self.known.borrow_mut().insert((moved, other, way), held);
        held
    }

    /// Joints between a unit of `group` and one of `rest`.
    pub(super) fn ties_between<'s>(
        &'s self,
        group: &'s [usize],
        rest: &'s [usize],
    ) -> impl Iterator<Item = &'s Tie> {
        self.ties.iter().filter(|tie| {
            (group.contains(&tie.first) && rest.contains(&tie.second))
                || (group.contains(&tie.second) && rest.contains(&tie.first))
        })
    }
}

impl Tie {
    /// Whether the joint keeps `moved` from leaving `other` along `along`. The
    /// second part comes in along a way, so it leaves against it; the first
    /// leaves the second along it.
    fn holds(&self, moved: usize, other: usize, along: DVec3) -> bool {
        if self.ways.is_empty() {
            return false;
        }
        let relative = if (self.second, self.first) == (moved, other) {
            -along
        } else if (self.first, self.second) == (moved, other) {
            along
        } else {
            return false;
        };
        !self.ways.iter().any(|way| way.dot(relative) > self.near)
    }
}

fn units(worked: &WorkedJob, piece: PieceId) -> Vec<Unit> {
    let standing = |i: &usize| worked.parts.get(*i).map(|p| Standing::new(&p.solid, &p.at));
    let mut units = Vec::new();
    for (index, part) in worked.parts.iter().enumerate() {
        if part.piece != piece || matches!(part.source, PartSource::Lipping { .. }) {
            continue;
        }
        let mut all = vec![index];
        let lippings = worked
            .parts
            .iter()
            .enumerate()
            .filter(|(_, p)| matches!(p.source, PartSource::Lipping { of, .. } if of == index));
        all.extend(lippings.map(|(i, _)| i));
        let solids = all.iter().filter_map(standing).collect();
        units.push(Unit { part: index, all, solids });
    }
    units
}

/// Joints as pairs: each part of a joint with its last part, which is the one
/// that takes the others in.
///
/// Only what is not in the solids binds a move: tenons, dowels and the like.
/// What grooves, housings and rebates let through, the solids themselves say,
/// also where another cut opens an end.
fn ties(worked: &WorkedJob, units: &[Unit]) -> Vec<Tie> {
    let unit_of = |part: usize| units.iter().position(|unit| unit.all.contains(&part));
    let mut ties = Vec::new();
    for (joint, made) in worked.joints.iter().enumerate() {
        let Some((last, others)) = made.parts.split_last() else { continue };
        let Some(second) = unit_of(*last) else { continue };
        let ways = if made.inserts.is_empty() { Vec::new() } else { made.ways_in.clone() };
        // A clamping connector stands loose in its pocket and draws the faces
        // together: any move that closes them will do.
        let near = if made.word == "mitre" { CLOSES } else { SAME_WAY };
        for first in others.iter().filter_map(|p| unit_of(*p)).filter(|first| *first != second) {
            ties.push(Tie { joint, first, second, ways: ways.clone(), near });
        }
    }
    ties
}

/// Directions to take parts off along: up, to the sides, to the back, to the
/// front, down, then the ways of the joints and their opposites.
fn directions(ties: &[Tie]) -> Vec<DVec3> {
    let mut ways = vec![DVec3::Z, DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::NEG_Z];
    let more = ties.iter().flat_map(|tie| &tie.ways).flat_map(|way| [-*way, *way]);
    for way in more.filter_map(DVec3::try_normalize) {
        if !ways.iter().any(|known| known.dot(way) > SAME_WAY) {
            ways.push(way);
        }
    }
    ways
}
