//! What gets in the way of what.

use std::cell::Cell;

use crate::geometry::DVec3;
use crate::joinery::{PartSource, WorkedJob};
use crate::model::PieceId;
use crate::solid::{Shadow, Standing};

/// Cosine within which two directions are one: about a twentieth of a degree.
const SAME_WAY: f64 = 1.0 - 5e-7;

/// Cosine between a move and the normal of a face up to which the move closes
/// the face rather than slides along it.
const CLOSES: f64 = 0.5;

/// Cosine between a face and a clamp's line over which the clamp presses it together:
/// within an eighth of a turn.
const PRESSED: f64 = 0.7;

/// So many times the area of another is clearly more of it: over the noise of two sums.
pub(super) const CLEARLY: f64 = 1.01;

/// Share of the glue that the best way presses together from which the way of the move is as
/// good for the clamps: a ledge and a shoulder (common practice, no source).
pub(super) const ENOUGH: f64 = 0.25;

/// A part with the lippings glued to it: moves as one.
#[derive(Debug)]
pub(super) struct Unit {
    /// The part: an index into `WorkedJob::parts`.
    pub(super) part: usize,
    /// The part and its lippings.
    pub(super) all: Vec<usize>,
    /// Their solids where they stand.
    pub(super) solids: Vec<Standing>,
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
    /// Ways the joint is made to go together along, to be tried besides.
    pub(super) made_for: Vec<DVec3>,
    /// Whether one is let into the other, so that the ways are its own and not those of
    /// faces that lie on one another.
    pub(super) enters: bool,
    /// Whether it is glued, so that clamps close it.
    pub(super) glued: bool,
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
    /// For each unit its joints: indices into `ties`.
    ties_of: Vec<Vec<usize>>,
    /// For each direction and unit, what may be in its way.
    paths: Vec<Vec<Path>>,
}

/// What may stand in the way of one unit along one direction: whatever its
/// swept box meets and whatever a joint holds to it. Most units meet few
/// others, so the solids are compared only here, and only when asked.
#[derive(Debug)]
struct Path {
    /// The units, rising.
    others: Vec<usize>,
    /// Answers so far, beside `others`.
    known: Vec<Cell<Option<bool>>>,
    /// Places in `others`, the nearest along the way first.
    nearest: Vec<usize>,
}

impl Blocking {
    /// Reads the piece, as if joint `open` left every way open.
    pub(super) fn of(worked: &WorkedJob, piece: PieceId, open: Option<usize>) -> Self {
        let units = units(worked, piece);
        let mut ties = ties(worked, &units);
        for tie in ties.iter_mut().filter(|tie| Some(tie.joint) == open) {
            tie.ways.clear();
        }
        let ways = directions(&ties);
        let mut ties_of = vec![Vec::new(); units.len()];
        for (i, tie) in ties.iter().enumerate() {
            ties_of[tie.first].push(i);
            ties_of[tie.second].push(i);
        }
        let paths = ways.iter().map(|along| paths(&units, &ties, &ties_of, *along)).collect();
        Self { units, ties, ways, ties_of, paths }
    }

    /// Whether unit `other` must move along when unit `moved` is taken off
    /// along direction `way`: it stands in the way, or a joint between them
    /// does not open that way.
    pub(super) fn holds(&self, moved: usize, other: usize, way: usize) -> bool {
        let found = self.paths[way][moved].others.binary_search(&other);
        found.is_ok_and(|place| self.answer(moved, way, place))
    }

    /// The units that must move along with `moved` along `way`, of those that
    /// `of` says yes to.
    pub(super) fn held<'s>(
        &'s self,
        moved: usize,
        way: usize,
        of: impl Fn(usize) -> bool + 's,
    ) -> impl Iterator<Item = usize> + 's {
        let path = &self.paths[way][moved];
        let asked = path.others.iter().enumerate().filter(move |(_, other)| of(**other));
        asked.filter(move |(place, _)| self.answer(moved, way, *place)).map(|(_, other)| *other)
    }

    /// Whether nothing that `standing` says yes to holds `moved` along `way`.
    /// `from` is how far along its path it is known to be free; as long as
    /// units are only taken away, the caller keeps it from one question to the
    /// next.
    pub(super) fn is_free(
        &self,
        moved: usize,
        way: usize,
        standing: impl Fn(usize) -> bool,
        from: &mut usize,
    ) -> bool {
        let path = &self.paths[way][moved];
        while let Some(&place) = path.nearest.get(*from) {
            if standing(path.others[place]) && self.answer(moved, way, place) {
                return false;
            }
            *from += 1;
        }
        true
    }

    /// The answer at one place of a path.
    fn answer(&self, moved: usize, way: usize, place: usize) -> bool {
        let path = &self.paths[way][moved];
        let known = &path.known[place];
        known.get().unwrap_or_else(|| {
            let (along, other) = (self.ways[way], path.others[place]);
            let held = self.ties_of[moved].iter().any(|tie| self.ties[*tie].holds(moved, other, along))
                || self.units[moved].is_blocked_by(&self.units[other], along);
            known.set(Some(held));
            held
        })
    }

    /// The units joined to `unit`, once for each joint.
    pub(super) fn joined(&self, unit: usize) -> impl Iterator<Item = usize> + '_ {
        self.ties_of[unit].iter().map(move |tie| {
            let tie = &self.ties[*tie];
            if tie.first == unit { tie.second } else { tie.first }
        })
    }

    /// Whether a unit goes along `way` as its joints with what stands are made to
    /// open: square off a glued face rather than sliding over it.
    pub(super) fn opens(&self, unit: usize, way: usize, standing: impl Fn(usize) -> bool) -> bool {
        let along = self.ways[way];
        let mut any = false;
        self.ties_of[unit].iter().map(|tie| &self.ties[*tie]).all(|tie| {
            let (other, relative) = if tie.first == unit { (tie.second, along) } else { (tie.first, -along) };
            if !standing(other) || tie.made_for.is_empty() {
                return true;
            }
            any = true;
            tie.made_for.iter().any(|made| made.dot(relative) > tie.near)
        }) && any
    }

    /// Whether a joint lets a unit along a line into one that `others` says yes to, as a
    /// rail's tenon into a post: what is only butted has no end that holds it there.
    pub(super) fn is_let_into(&self, unit: usize, line: DVec3, others: impl Fn(usize) -> bool) -> bool {
        self.ties_of[unit].iter().map(|tie| &self.ties[*tie]).any(|tie| {
            let enters = tie.enters && tie.made_for.iter().any(|made| made.dot(line).abs() > SAME_WAY);
            enters && tie.first == unit && others(tie.second)
        })
    }

    /// The line that clamps press a tie along which closes along `way`: where the move only
    /// slides one along the other, the way that draws the one home into the other, or square
    /// to the faces that are glued.
    pub(super) fn press_line(&self, tie: &Tie, way: DVec3) -> DVec3 {
        let (Some(first), Some(second)) = (self.units.get(tie.first), self.units.get(tie.second)) else {
            return way;
        };
        let pressed = |along: DVec3| first.pressed(second, along);
        if !tie.enters {
            return if pressed(way) > 0.0 { way } else { first.glued_face(second).unwrap_or(way) };
        }
        let own = pressed(way);
        let home = tie.made_for.iter().map(|made| (*made, pressed(*made)));
        let best = home.fold((way, own), |best, one| if one.1 > best.1 * CLEARLY { one } else { best });
        if own > ENOUGH * best.1 { way } else { best.0 }
    }

    /// Area of the glued joints of a unit with what stands that a move of it along `way`
    /// presses together, as a clamp would, mm2: none where it slides along them.
    pub(super) fn presses(&self, unit: usize, way: usize, standing: impl Fn(usize) -> bool) -> f64 {
        let along = self.ways[way];
        let glued = self.ties_of[unit].iter().map(|tie| &self.ties[*tie]).filter(|tie| tie.glued);
        let other = |tie: &Tie| if tie.first == unit { tie.second } else { tie.first };
        let met = glued.map(other).filter(|other| standing(*other));
        met.map(|other| self.units[unit].pressed(&self.units[other], along)).sum()
    }

    /// Whether unit `other` stands anywhere in the way of unit `moved` along `along`.
    pub(super) fn blocks(&self, moved: usize, other: usize, along: DVec3) -> bool {
        self.units[moved].is_blocked_by(&self.units[other], along)
    }

    /// How far unit `moved` is from unit `other` along `along` at least, mm.
    pub(super) fn gap(&self, moved: usize, other: usize, along: DVec3) -> f64 {
        let far = -Shadow::of(&self.units[moved].solids, -along).near();
        Shadow::of(&self.units[other].solids, along).near() - far
    }

    /// How long a unit is along `along`, mm.
    pub(super) fn span(&self, unit: usize, along: DVec3) -> f64 {
        self.units[unit].span(along)
    }

    /// Area of the glued joints of a unit with what stands, however their faces lie, mm2.
    pub(super) fn glued_area(&self, unit: usize, standing: impl Fn(usize) -> bool) -> f64 {
        let glued = self.ties_of[unit].iter().map(|tie| &self.ties[*tie]).filter(|tie| tie.glued);
        let other = |tie: &Tie| if tie.first == unit { tie.second } else { tie.first };
        let met = glued.map(other).filter(|other| standing(*other));
        met.map(|other| self.units[unit].met(&self.units[other])).sum()
    }

    /// How far `group` moves along a way until it is clear of `rest`, mm.
    pub(super) fn travel(&self, group: &[usize], rest: &[usize], way: usize) -> f64 {
        let along = self.ways[way];
        let near = |unit: usize, along: DVec3| Shadow::of(&self.units[unit].solids, along).near();
        let own = group.iter().map(|unit| near(*unit, along)).fold(f64::INFINITY, f64::min);
        let far = rest.iter().map(|unit| -near(*unit, -along)).fold(f64::NEG_INFINITY, f64::max);
        far - own
    }

    /// Joints between a unit of `group` and one that `rest` says yes to, in
    /// the order of the units.
    pub(super) fn ties_between<'s>(
        &'s self,
        group: &'s [usize],
        rest: impl Fn(usize) -> bool + 's,
    ) -> impl Iterator<Item = &'s Tie> {
        let ties =
            group.iter().flat_map(move |unit| self.ties_of[*unit].iter().map(move |tie| (*unit, *tie)));
        ties.map(|(unit, tie)| (unit, &self.ties[tie])).filter_map(move |(unit, tie)| {
            let other = if tie.first == unit { tie.second } else { tie.first };
            rest(other).then_some(tie)
        })
    }
}

impl Unit {
    /// Size of the boxes round its solids, mm3.
    pub(super) fn size(&self) -> f64 {
        self.span(DVec3::X) * self.span(DVec3::Y) * self.span(DVec3::Z)
    }

    /// How long it is along a direction, mm.
    fn span(&self, along: DVec3) -> f64 {
        -Shadow::of(&self.solids, -along).near() - Shadow::of(&self.solids, along).near()
    }

    /// Area over which it meets another face to face, mm2.
    fn met(&self, other: &Self) -> f64 {
        let pairs = self.solids.iter().flat_map(|own| other.solids.iter().map(move |theirs| (own, theirs)));
        pairs.flat_map(|(own, theirs)| own.contacts(theirs)).map(|contact| contact.area).sum()
    }

    /// The way off another it lies flat on: square to the largest face they share.
    fn lies_on(&self, other: &Self) -> Option<DVec3> {
        let pairs = self.solids.iter().flat_map(|own| other.solids.iter().map(move |theirs| (own, theirs)));
        let all = pairs.flat_map(|(own, theirs)| own.contacts(theirs));
        all.max_by(|a, b| a.area.total_cmp(&b.area)).map(|contact| -contact.normal)
    }

    /// Area over which it meets another face to face across `along`, mm2.
    pub(super) fn pressed(&self, other: &Self, along: DVec3) -> f64 {
        let pairs = self.solids.iter().flat_map(|own| other.solids.iter().map(move |theirs| (own, theirs)));
        let all = pairs.flat_map(|(own, theirs)| own.contacts(theirs));
        all.filter(|contact| contact.normal.dot(along).abs() > PRESSED).map(|contact| contact.area).sum()
    }

    /// Square to the largest face that it shares with another.
    fn glued_face(&self, other: &Self) -> Option<DVec3> {
        let pairs = self.solids.iter().flat_map(|own| other.solids.iter().map(move |theirs| (own, theirs)));
        let all = pairs.flat_map(|(own, theirs)| own.contacts(theirs));
        all.max_by(|a, b| a.area.total_cmp(&b.area)).map(|contact| contact.normal)
    }

    /// Whether `other` stands in the way of this moving off along `along`.
    fn is_blocked_by(&self, other: &Self, along: DVec3) -> bool {
        self.solids.iter().any(|own| other.solids.iter().any(|theirs| own.is_blocked_by(theirs, along)))
    }
}

/// What may be in the way of each unit along `along`.
fn paths(units: &[Unit], ties: &[Tie], ties_of: &[Vec<usize>], along: DVec3) -> Vec<Path> {
    let shadows: Vec<Shadow> = units.iter().map(|unit| Shadow::of(&unit.solids, along)).collect();
    let path = |moved: usize| {
        let may = |other: usize| {
            other != moved
                && (shadows[moved].may_meet(&shadows[other])
                    || ties_of[moved].iter().any(|tie| ties[*tie].holds(moved, other, along)))
        };
        let others: Vec<usize> = (0..units.len()).filter(|other| may(*other)).collect();
        let mut nearest: Vec<usize> = (0..others.len()).collect();
        nearest.sort_by(|a, b| shadows[others[*a]].near().total_cmp(&shadows[others[*b]].near()));
        Path { known: vec![Cell::new(None); others.len()], others, nearest }
    };
    (0..units.len()).map(path).collect()
}

impl Tie {
    /// Whether the joint closes when its second unit moves so against its first.
    pub(super) fn allows(&self, relative: DVec3) -> bool {
        let Some(relative) = relative.try_normalize() else { return self.ways.is_empty() };
        self.ways.is_empty() || self.ways.iter().any(|way| way.dot(relative) > self.near)
    }

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
    let mut home = vec![None; worked.parts.len()];
    for (index, unit) in units.iter().enumerate() {
        for part in &unit.all {
            home[*part] = Some(index);
        }
    }
    let unit_of = |part: usize| home.get(part).copied().flatten();
    let mut ties = Vec::new();
    for (joint, made) in worked.joints.iter().enumerate() {
        let Some((last, others)) = made.parts.split_last() else { continue };
        let Some(second) = unit_of(*last) else { continue };
        let ways = if made.inserts.is_empty() { Vec::new() } else { made.ways_in.clone() };
        // A clamping connector stands loose in its pocket and draws the faces
        // together: any move that closes them will do.
        let enters = !made.ways_in.is_empty();
        let near = if made.traits.is_drawn_together { CLOSES } else { SAME_WAY };
        for first in others.iter().filter_map(|p| unit_of(*p)).filter(|first| *first != second) {
            // What is screwed or glued flat comes square to where it lies on.
            let made_for = match made.ways_in.as_slice() {
                [] => units
                    .get(first)
                    .zip(units.get(second))
                    .and_then(|(a, b)| a.lies_on(b))
                    .into_iter()
                    .collect(),
                ways => ways.to_vec(),
            };
            ties.push(Tie {
                joint,
                first,
                second,
                ways: ways.clone(),
                made_for,
                enters,
                glued: made.glued,
                near,
            });
        }
    }
    ties
}

/// Directions to take parts off along: up, to the sides, to the back, to the
/// front, down, then the ways of the joints and their opposites.
fn directions(ties: &[Tie]) -> Vec<DVec3> {
    let mut ways = vec![DVec3::Z, DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::NEG_Z];
    let more = ties.iter().flat_map(|tie| &tie.made_for).flat_map(|way| [-*way, *way]);
    for way in more.filter_map(DVec3::try_normalize) {
        if !ways.iter().any(|known| known.dot(way) > SAME_WAY) {
            ways.push(way);
        }
    }
    ways
}
