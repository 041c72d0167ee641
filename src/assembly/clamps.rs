//! Clamps of a glue-up: how many, how long, which way.

use super::blocking::{Blocking, Tie};
use super::step::{ClampKind, Clamps};
use super::tolerance::{ASKEW, SAME_WAY};
use crate::geometry::{DVec3, Interval};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::{Job, StockKind};
use crate::timber::Species;

/// Pressure that closes a glue line, `MPa`: the middles of 100 to 150 psi for softwood and
/// sheets and 175 to 250 psi for hardwood (a glue maker in a trade magazine; the Wood
/// Handbook, ch. 10, gives 100 to 247 psi by density).
const SOFT: f64 = 0.86;
/// See [`SOFT`].
const HARD: f64 = 1.46;
/// Force of one bar clamp tightened by hand, N: about 2,000 lb (common practice, no
/// source; heavy ones reach three times as much).
pub(super) const BAR: f64 = 9000.0;
/// A joint wider than this takes two clamps at least, with a flat bearer between, mm
/// (common practice, no source).
const WIDE: f64 = 150.0;
/// Bands stand this far apart at most, mm (common practice, no source).
const BAND: f64 = 250.0;

/// How many clamps press `area` mm2 with `pressure` `MPa`, each with `force` N: the area
/// times the pressure over the force of one, rounded up, and one at least.
pub fn clamps_for(area: f64, pressure: f64, force: f64) -> usize {
    if force <= 0.0 {
        return 1;
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number above nothing"
    )]
    let count = libm::ceil(area * pressure / force - ROUND).clamp(1.0, MOST) as usize;
    count
}

/// What of a count of clamps is noise of a division.
const ROUND: f64 = 1e-9;
/// More clamps than this no shop has.
const MOST: f64 = 99.0;

/// Pressure that closes a glue line of a part, `MPa`.
pub(super) fn pressure(job: &Job, part: &WorkedPart) -> f64 {
    let hard = job.stock.get(part.stock.0).is_some_and(|stock| match &stock.kind {
        StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
            species.as_deref().and_then(Species::named).is_none_or(|species| !species.softwood())
        }
        _ => false,
    });
    if hard { HARD } else { SOFT }
}

/// What a glue-up presses together.
pub(super) struct Pressed<'p> {
    pub(super) job: &'p Job,
    pub(super) worked: &'p WorkedJob,
    pub(super) blocking: &'p Blocking,
    /// The glued ties it closes, each with the way it closes along.
    pub(super) ties: Vec<(&'p Tie, DVec3)>,
    /// Units that stand already, or are set in their places dry: clamps reach over those that
    /// what is pressed was joined to before.
    pub(super) stands: Vec<usize>,
}

impl Pressed<'_> {
    /// The clamps, direction by direction, in the order in which they are set.
    pub(super) fn clamps(&self) -> Vec<Clamps> {
        let mut lines: Vec<DVec3> = Vec::new();
        for (_, way) in &self.ties {
            if !lines.iter().any(|known| known.dot(*way).abs() > SAME_WAY) {
                lines.push(*way);
            }
        }
        lines.into_iter().filter_map(|line| self.along(line)).collect()
    }

    /// Those round a ring of mitres seen along `toward`.
    pub(super) fn round(&self, toward: DVec3) -> Vec<Clamps> {
        let drawn = self
            .ties
            .iter()
            .filter_map(|(tie, _)| self.worked.joints.get(tie.joint))
            .any(|joint| joint.inserts.iter().any(|insert| insert.item.draws_together()));
        let units: Vec<usize> = self.ties.iter().flat_map(|(tie, _)| [tie.first, tie.second]).collect();
        let span = |along: DVec3| self.reach(&units, along).map_or(0.0, Interval::length);
        let (right, up) =
            if toward.z.abs() > SAME_WAY { (DVec3::X, DVec3::Y) } else { (toward.cross(DVec3::Z), DVec3::Z) };
        let girth = 2.0 * (span(right) + span(up));
        let kind = if drawn { ClampKind::Connectors } else { ClampKind::Band };
        let count = clamps_for(span(toward), 1.0, BAND);
        vec![Clamps { kind, count, length: girth, along: toward, cauls: false }]
    }

    /// Those of mitres that go not all the way round: one at each.
    pub(super) fn corners(&self) -> Vec<Clamps> {
        let along = self.ties.first().map_or(DVec3::X, |(_, way)| *way);
        vec![Clamps { kind: ClampKind::Corners, count: self.ties.len(), length: 0.0, along, cauls: false }]
    }

    /// Least and greatest of some units along a direction, mm.
    fn reach(&self, units: &[usize], along: DVec3) -> Option<Interval> {
        let parts = units.iter().filter_map(|u| self.blocking.units.get(*u)).flat_map(|unit| &unit.all);
        let parts = parts.filter_map(|part| self.worked.parts.get(*part));
        Interval::of(parts.flat_map(|part| part.solid.points.iter().map(|p| along.dot(part.at.point(*p)))))
    }

    /// Least and greatest of some units along a line with what stands against them, where the
    /// jaws of a clamp come, mm.
    fn over(&self, units: &[usize], line: DVec3) -> Option<Interval> {
        let own = self.reach(units, line)?;
        let across =
            || [DVec3::X, DVec3::Y, DVec3::Z].into_iter().filter(|axis| axis.dot(line).abs() < SAME_WAY);
        let meets =
            |tie: &Tie| across().all(|axis| self.shared(tie, axis).is_some_and(|both| both.length() > 0.0));
        let of_tie = |tie: &Tie| match [tie.first, tie.second].map(|unit| units.contains(&unit)) {
            [true, false] => Some(tie.second),
            [false, true] => Some(tie.first),
            _ => None,
        };
        let ties = self.blocking.ties.iter().filter(|tie| meets(tie));
        let against = ties.filter_map(of_tie).filter(|unit| self.stands.contains(unit));
        let reaches = against.filter_map(|unit| self.reach(&[unit], line));
        Some(reaches.fold(own, Interval::hull))
    }

    /// The clamps along one line.
    fn along(&self, line: DVec3) -> Option<Clamps> {
        let here: Vec<&Tie> =
            self.ties.iter().filter(|(_, way)| way.dot(line).abs() > SAME_WAY).map(|(tie, _)| *tie).collect();
        // Strips glued flat to parts that stand apart are pressed each by itself: a bar across
        // the hollow between them would press nothing.
        let heaps = if here.iter().any(|tie| tie.enters) { vec![here] } else { heaps(here) };
        heaps.iter().filter_map(|heap| self.of_heap(heap, line)).reduce(|all, more| Clamps {
            count: all.count + more.count,
            length: all.length.max(more.length),
            cauls: all.cauls || more.cauls,
            ..all
        })
    }

    /// The clamps along one line of ties that hang together.
    fn of_heap(&self, here: &[&Tie], line: DVec3) -> Option<Clamps> {
        let units: Vec<usize> = here.iter().flat_map(|tie| [tie.first, tie.second]).collect();
        let whole = self.over(&units, line)?;
        // A clamp from end to end presses a joint at each: the end with more counts.
        let (mut near, mut far, mut cauls) = (0, 0, false);
        for tie in here {
            let (count, wide) = self.of_tie(tie, line);
            cauls |= wide;
            let at = self.shared(tie, line).map_or(0.0, Interval::middle);
            if at < whole.middle() { near += count } else { far += count }
        }
        let drawn = here.iter().all(|tie| {
            self.worked
                .joints
                .get(tie.joint)
                .is_some_and(|joint| joint.inserts.iter().any(|insert| insert.item.draws_together()))
        });
        let lean = self.lean(&units, line);
        let kind = match (drawn, lean > ASKEW) {
            (true, _) => ClampKind::Connectors,
            (false, true) => ClampKind::OnBlocks(lean),
            (false, false) => ClampKind::Bar,
        };
        Some(Clamps { kind, count: near.max(far).max(1), length: whole.length(), along: line, cauls })
    }

    /// How many clamps a joint takes, and whether it is wide.
    fn of_tie(&self, tie: &Tie, line: DVec3) -> (usize, bool) {
        let [first, second] = [tie.first, tie.second].map(|unit| self.blocking.units.get(unit));
        let area = first.zip(second).map_or(0.0, |(a, b)| a.pressed(b, line));
        let parts = [first, second].into_iter().flatten().filter_map(|unit| self.worked.parts.get(unit.part));
        let pressure = parts.clone().map(|part| pressure(self.job, part)).fold(SOFT, f64::max);
        let across =
            [DVec3::X, DVec3::Y, DVec3::Z].into_iter().filter(|axis| axis.dot(line).abs() < SAME_WAY);
        let width =
            across.filter_map(|axis| self.shared(tie, axis)).map(Interval::length).fold(0.0, f64::max);
        let wide = width > WIDE;
        (clamps_for(area, pressure, BAR).max(1 + usize::from(wide)), wide)
    }

    /// What the two units of a tie share along a direction, mm.
    fn shared(&self, tie: &Tie, along: DVec3) -> Option<Interval> {
        let a = self.reach(&[tie.first], along)?;
        let b = self.reach(&[tie.second], along)?;
        Some(Interval::between(a.from.max(b.from), a.to.min(b.to)))
    }

    /// How far the outer faces lean from square to a line, degrees: a clamp slides on more
    /// than a little.
    fn lean(&self, units: &[usize], line: DVec3) -> f64 {
        let parts = units.iter().filter_map(|u| self.blocking.units.get(*u));
        let parts = parts.filter_map(|unit| self.worked.parts.get(unit.part));
        let of_part = |part: &WorkedPart| {
            let axes = [part.at.x, part.at.y, part.at.z];
            let near = axes.into_iter().map(|axis| axis.dot(line).abs()).fold(0.0, f64::max);
            libm::acos(near.min(1.0)).to_degrees()
        };
        parts.map(of_part).fold(0.0, f64::max)
    }
}

/// Ties by what hangs together through their units.
fn heaps(ties: Vec<&Tie>) -> Vec<Vec<&Tie>> {
    let mut heaps: Vec<Vec<&Tie>> = Vec::new();
    for tie in ties {
        let meets = |other: &&Tie| {
            [other.first, other.second].iter().any(|unit| [tie.first, tie.second].contains(unit))
        };
        let (own, mut rest): (Vec<_>, Vec<_>) = heaps.into_iter().partition(|heap| heap.iter().any(meets));
        let mut heap: Vec<&Tie> = own.into_iter().flatten().collect();
        heap.push(tie);
        rest.push(heap);
        heaps = rest;
    }
    heaps
}
