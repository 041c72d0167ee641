//! Clamps of a glue-up: how many, how long, which way.

use super::blocking::{Blocking, Tie};
use super::step::{ClampKind, Clamps};
use super::tolerance::{ASKEW, SAME_WAY};
use crate::geometry::{DVec3, Interval};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::{Job, StockKind};
use crate::solid::{Face, Solid};
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
/// Clamps by a tenon that is wedged from outside: one on each side of it (common practice,
/// no source).
const ASTRIDE: usize = 2;
/// What reaches no farther than this into the line of a joint lies beside it, mm.
const BESIDE: f64 = 0.5;
/// The face under a jaw that leans more than this makes it slide, degrees: under it the pad
/// of the clamp gives (common practice, no source).
const SLOPES: f64 = 5.0;
/// Least cosine between a clamp's line and a face that a jaw comes to.
const LOOKS_OUT: f64 = 0.5;
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
    /// Units that stand already: clamps reach over those that lie in the line of a joint.
    pub(super) stands: Vec<usize>,
    /// Units that are set in their places dry, to be glued when this has set.
    pub(super) dry: &'p [usize],
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
        vec![Clamps { kind, count, length: girth, along: toward, cauls: false, astride: false }]
    }

    /// Those of mitres that go not all the way round: one at each.
    pub(super) fn corners(&self) -> Vec<Clamps> {
        let along = self.ties.first().map_or(DVec3::X, |(_, way)| *way);
        vec![Clamps {
            kind: ClampKind::Corners,
            count: self.ties.len(),
            length: 0.0,
            along,
            cauls: false,
            astride: false,
        }]
    }

    /// Least and greatest of some units along a direction, mm.
    fn reach(&self, units: &[usize], along: DVec3) -> Option<Interval> {
        let parts = units.iter().filter_map(|u| self.blocking.units.get(*u)).flat_map(|unit| &unit.all);
        let parts = parts.filter_map(|part| self.worked.parts.get(*part));
        Interval::of(parts.flat_map(|part| part.solid.points.iter().map(|p| along.dot(part.at.point(*p)))))
    }

    /// Least and greatest, where the jaws of a clamp come that presses a tie along a line, mm:
    /// over its two units and what stands or closes in the line of the joint itself, one part
    /// against the next. What only lies beside it is not between the jaws.
    fn over(&self, tie: &Tie, line: DVec3) -> Option<Interval> {
        let axes: Vec<DVec3> = across(line).collect();
        let joint: Vec<Interval> = axes.iter().filter_map(|axis| self.shared(tie, *axis)).collect();
        let in_line = |unit: usize| {
            axes.iter().zip(&joint).all(|(axis, of)| {
                let own = self.reach(&[unit], *axis);
                own.is_some_and(|own| own.to.min(of.to) - own.from.max(of.from) > BESIDE)
            })
        };
        let mut units = vec![tie.first, tie.second];
        let mut next = 0;
        while let Some(&unit) = units.get(next) {
            let against = self.blocking.ties_between(std::slice::from_ref(&unit), |_| true);
            let fresh: Vec<usize> = against
                .filter(|tie| self.is_between(tie, line))
                .map(|tie| if tie.first == unit { tie.second } else { tie.first })
                .filter(|other| !units.contains(other) && in_line(*other))
                .collect();
            units.extend(fresh.into_iter().filter(|other| self.is_there(*other)));
            units.dedup();
            next += 1;
        }
        self.reach(&units, line)
    }

    /// Whether a unit stands when the clamps are set: before, or by this.
    fn is_there(&self, unit: usize) -> bool {
        let closes = |(tie, _): &(&Tie, DVec3)| tie.first == unit || tie.second == unit;
        self.stands.contains(&unit) || self.dry.contains(&unit) || self.ties.iter().any(closes)
    }

    /// Whether a clamp along a line passes from one unit of a tie on to the other: they meet
    /// face to face across it, or one is let into the other along it. What is set dry to be
    /// glued later counts only where it is pressed along the line then.
    fn is_between(&self, tie: &Tie, line: DVec3) -> bool {
        let [first, second] = [tie.first, tie.second];
        let waits = |unit: usize| self.dry.contains(&unit) && !self.stands.contains(&unit);
        if (waits(first) || waits(second)) && !tie.glued {
            return false;
        }
        let home = tie.enters && tie.made_for.first().is_some_and(|way| way.dot(line).abs() > SAME_WAY);
        let units = self.blocking.units.get(first).zip(self.blocking.units.get(second));
        home && tie.glued || units.is_some_and(|(a, b)| a.pressed(b, line) > 0.0)
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
            astride: all.astride || more.astride,
            ..all
        })
    }

    /// The clamps along one line of ties that hang together.
    fn of_heap(&self, here: &[&Tie], line: DVec3) -> Option<Clamps> {
        let units: Vec<usize> = here.iter().flat_map(|tie| [tie.first, tie.second]).collect();
        let reaches = here.iter().filter_map(|tie| self.over(tie, line)).collect::<Vec<Interval>>();
        let length = reaches.iter().map(|one| one.length()).fold(0.0, f64::max);
        let whole = reaches.into_iter().reduce(Interval::hull)?;
        // A clamp from end to end presses a joint at each: the end with more counts.
        let (mut near, mut far, mut cauls, mut astride) = (0, 0, false, false);
        for tie in here {
            let (mut count, wide) = self.of_tie(tie, line);
            cauls |= wide;
            if self.is_wedged(tie) {
                count = count.max(ASTRIDE);
                astride = true;
            }
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
        Some(Clamps { kind, count: near.max(far).max(1), length, along: line, cauls, astride })
    }

    /// How many clamps a joint takes, and whether it is wide.
    fn of_tie(&self, tie: &Tie, line: DVec3) -> (usize, bool) {
        let [first, second] = [tie.first, tie.second].map(|unit| self.blocking.units.get(unit));
        let area = first.zip(second).map_or(0.0, |(a, b)| a.pressed(b, line));
        let parts = [first, second].into_iter().flatten().filter_map(|unit| self.worked.parts.get(unit.part));
        let pressure = parts.clone().map(|part| pressure(self.job, part)).fold(SOFT, f64::max);
        let width =
            across(line).filter_map(|axis| self.shared(tie, axis)).map(Interval::length).fold(0.0, f64::max);
        let wide = width > WIDE;
        (clamps_for(area, pressure, BAR).max(1 + usize::from(wide)), wide)
    }

    /// Whether wedges are driven into a tie from outside, so that no jaw may sit on the end of
    /// its tenon.
    fn is_wedged(&self, tie: &Tie) -> bool {
        let joint = self.worked.joints.get(tie.joint);
        let mut inserts = joint.into_iter().flat_map(|joint| &joint.inserts);
        inserts.any(|insert| insert.item.is_wedge() && !insert.item.is_foxed())
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
        let askew = parts.map(of_part).fold(0.0, f64::max);
        let ends = [line, -line].map(|out| self.end_lean(units, out));
        ends.into_iter().filter(|lean| *lean > SLOPES).fold(askew, f64::max)
    }

    /// How far the face that a jaw comes to leans from square to the clamp, degrees: the largest
    /// that looks out, of what reaches farthest.
    fn end_lean(&self, units: &[usize], out: DVec3) -> f64 {
        let far = self.reach(units, out).map_or(0.0, |reach| reach.to);
        let at_end = units.iter().filter(|unit| {
            self.reach(std::slice::from_ref(*unit), out).is_some_and(|reach| reach.to > far - BESIDE)
        });
        let parts = at_end.filter_map(|unit| self.blocking.units.get(*unit));
        let parts = parts.filter_map(|unit| self.worked.parts.get(unit.part));
        let faces = parts.flat_map(|part| {
            let looks = move |face: &&Face| part.at.dir(face.plane.normal).dot(out) > LOOKS_OUT;
            let faces = part.solid.faces.iter().filter(looks);
            faces.map(move |face| {
                let normal = part.at.dir(face.plane.normal);
                let place = face.plane.offset + normal.dot(part.at.origin);
                (area(&part.solid, face), normal.dot(out), place)
            })
        });
        let faces: Vec<(f64, f64, f64)> = faces.collect();
        // A jaw finds what lies square at the very end, be it narrow.
        if faces.iter().any(|(_, near, place)| *near > SAME_WAY && *place > far - BESIDE) {
            return 0.0;
        }
        let largest = faces.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
        largest.map_or(0.0, |(_, near, _)| libm::acos(near.min(1.0)).to_degrees())
    }
}

/// Area of a face, mm2.
fn area(solid: &Solid, face: &Face) -> f64 {
    let point = |index: &u32| solid.points.get(*index as usize).copied().unwrap_or_default();
    let loops = face.loops.iter().flat_map(|ring| {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| point(a).cross(point(b)))
    });
    0.5 * face.plane.normal.dot(loops.sum::<DVec3>()).abs()
}

/// The directions of the piece across a line.
fn across(line: DVec3) -> impl Iterator<Item = DVec3> {
    [DVec3::X, DVec3::Y, DVec3::Z].into_iter().filter(move |axis| axis.dot(line).abs() < SAME_WAY)
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
