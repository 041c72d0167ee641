//! How far apart parts are drawn: each back along its way in from what it
//! joins, as little as clears everything drawn so far (explosion graphs: Li et
//! al. 2008; guide lines between mates: Agrawala et al. 2003). Parts follow what
//! they are joined to; groups made up before stay together.

use crate::assembly::{Motion, Order, Step, StepKind};
use crate::geometry::DVec3;
use crate::geometry::tolerance::{HAIR, NOISE};
use crate::joinery::{PartSource, WorkedJob};

/// A way runs along an axis where its share of it is above this; below the other it
/// does not move along it at all.
const MOVES: f64 = 0.3;
const STANDS: f64 = 1e-3;

/// Where a part is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// Index into [`WorkedJob::parts`].
    pub part: usize,
    /// How far it is moved from its place, piece coordinates, mm.
    pub by: DVec3,
}

/// A flow line between two mates, in piece coordinates as moved, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// The part that comes in.
    pub part: usize,
    /// What it comes to.
    pub to: usize,
    /// The way it comes, unit.
    pub way: DVec3,
    /// Where the line leaves the part.
    pub from: DVec3,
    /// Where it meets the other.
    pub until: DVec3,
}

/// White left between parts, as a share of the piece's diagonal.
const GAP: f64 = 0.075;
/// The same for lippings.
const LIPPING_GAP: f64 = 0.025;

/// Least and greatest corner.
type Bounds = (DVec3, DVec3);

/// The piece taken apart along an order of assembly: every part of the order
/// once, and the flow lines between mates.
pub fn taken_apart(worked: &WorkedJob, order: &Order) -> (Vec<Apart>, Vec<Flow>) {
    let mut bench = Bench::new(worked, order);
    for step in order.steps.iter().filter(|step| step.kind == StepKind::Join) {
        step.all_motions().for_each(|one| bench.join(one));
    }
    // Last, whatever the order says: a lipping goes with its part, wherever that was
    // moved to.
    for step in order.steps.iter().filter(|step| step.kind == StepKind::Lip) {
        step.all_motions().for_each(|one| bench.lip(one));
    }
    let flows = bench.flows();
    let apart = bench.placed.iter().filter_map(|p| Some(Apart { part: *p, by: bench.by(*p)? })).collect();
    (apart, flows)
}

/// Parts as moved so far.
struct Bench<'a> {
    worked: &'a WorkedJob,
    /// Box of each part where it belongs.
    home: Vec<Option<Bounds>>,
    /// How far each placed part is moved.
    moved: Vec<Option<DVec3>>,
    /// Placed parts in the order they came.
    placed: Vec<usize>,
    /// Who came to whom, and which way.
    mates: Vec<(usize, usize, DVec3)>,
    gap: f64,
    lipping_gap: f64,
}

impl<'a> Bench<'a> {
    fn new(worked: &'a WorkedJob, order: &Order) -> Self {
        let home: Vec<Option<Bounds>> = worked
            .parts
            .iter()
            .map(|part| crate::drawing::kit::project::bounds(std::iter::once(part)))
            .collect();
        let of_order = order.steps.iter().flat_map(Step::all_adds).filter_map(|p| worked.parts.get(p));
        let size =
            crate::drawing::kit::project::bounds(of_order).map_or(0.0, |(low, high)| (high - low).length());
        Self {
            worked,
            home,
            moved: vec![None; worked.parts.len()],
            placed: Vec::new(),
            mates: Vec::new(),
            gap: (GAP * size).max(1.0),
            lipping_gap: (LIPPING_GAP * size).max(1.0),
        }
    }

    fn by(&self, part: usize) -> Option<DVec3> {
        self.moved.get(part).copied().flatten()
    }

    /// The box of a part as it would be drawn, moved by `by`.
    fn box_of(&self, part: usize, by: DVec3) -> Option<Bounds> {
        let (low, high) = self.home.get(part).copied().flatten()?;
        Some((low + by, high + by))
    }

    fn put(&mut self, part: usize, by: DVec3) {
        if let Some(place) = self.moved.get_mut(part) {
            if place.is_none() {
                self.placed.push(part);
            }
            *place = Some(by);
        }
    }

    /// One joining move.
    fn join(&mut self, step: &Motion) {
        let lipping = |p: &usize| {
            self.worked.parts.get(*p).is_some_and(|part| matches!(part.source, PartSource::Lipping { .. }))
        };
        let adds: Vec<(usize, Option<DVec3>)> =
            step.adds.iter().copied().zip(step.ways.iter().copied()).filter(|(p, _)| !lipping(p)).collect();
        let group: Vec<(usize, DVec3)> =
            step.together.iter().copied().filter(|(p, _)| self.by(*p).is_some()).collect();
        for (part, _) in adds.iter().filter(|(_, way)| way.is_none()) {
            // A first part stays where it is, or goes aside until its group
            // joins the rest.
            self.put(*part, DVec3::ZERO);
        }
        if let Some((_, way)) = group.first().copied() {
            self.shift_group(step, &group, way);
        }
        for (part, way) in adds.iter().filter_map(|(p, way)| Some((*p, (*way)?))) {
            let base = self.base(step, part);
            let start = base.and_then(|b| self.by(b)).unwrap_or(DVec3::ZERO);
            let away = self.clear(&[(part, start)], way, self.gap);
            self.put(part, start - way * away);
            self.mates.extend(base.map(|b| (part, b, way)));
        }
    }

    /// Moves a group made up before, as a whole.
    fn shift_group(&mut self, step: &Motion, group: &[(usize, DVec3)], way: DVec3) {
        let members: Vec<usize> = group.iter().map(|(p, _)| *p).collect();
        let link = self.links(&step.joints).into_iter().find_map(|(a, b)| {
            match (members.contains(&a), members.contains(&b)) {
                (true, false) => Some((a, b)),
                (false, true) => Some((b, a)),
                _ => None,
            }
        });
        let by = |p: usize| self.by(p).unwrap_or(DVec3::ZERO);
        // The group is brought opposite its mate first, or the flow line would run
        // askew.
        let level = link.map_or(DVec3::ZERO, |(mine, base)| by(base) - by(mine));
        let from: Vec<(usize, DVec3)> = members.iter().map(|p| (*p, by(*p) + level)).collect();
        let away = self.clear(&from, way, self.gap);
        for (part, at) in from {
            self.put(part, at - way * away);
        }
        self.mates.extend(link.map(|(mine, base)| (mine, base, way)));
    }

    /// The lippings, each out from its part.
    fn lip(&mut self, step: &Motion) {
        for (part, way) in step.adds.iter().copied().zip(step.ways.iter().copied()) {
            let Some(PartSource::Lipping { of, .. }) = self.worked.parts.get(part).map(|p| p.source) else {
                continue;
            };
            let (Some(start), Some(way)) = (self.by(of), way) else { continue };
            let away = self.clear(&[(part, start)], way, self.lipping_gap);
            self.put(part, start - way * away);
            self.mates.push((part, of, way));
        }
    }

    /// Pairs of parts that some joints relate.
    fn links(&self, joints: &[usize]) -> Vec<(usize, usize)> {
        let joints = joints.iter().filter_map(|j| self.worked.joints.get(*j));
        joints
            .flat_map(|joint| {
                let first = joint.parts.first().copied();
                joint.parts.iter().skip(1).filter_map(move |other| Some((first?, *other)))
            })
            .collect()
    }

    /// What a part comes to: of the placed parts it is joined to in the step
    /// (failing that, at all) the one moved least.
    fn base(&self, step: &Motion, part: usize) -> Option<usize> {
        let all = || (0..self.worked.joints.len()).collect::<Vec<_>>();
        [step.joints.clone(), all()].into_iter().find_map(|joints| {
            let mates = self.links(&joints).into_iter().filter_map(|(a, b)| match (a == part, b == part) {
                (true, false) => Some(b),
                (false, true) => Some(a),
                _ => None,
            });
            let placed = mates.filter_map(|p| Some((self.by(p)?.length(), p)));
            // Moved least means nearest to the heart of the piece, so that the picture
            // does not grow to one side.
            placed.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1))).map(|(_, p)| p)
        })
    }

    /// How far some parts go back along `way` from where they are given until
    /// they are `gap` clear of all others.
    fn clear(&self, parts: &[(usize, DVec3)], way: DVec3, gap: f64) -> f64 {
        let moving = |p: &usize| parts.iter().any(|(q, _)| q == p);
        let others: Vec<Bounds> =
            self.placed.iter().filter(|p| !moving(p)).filter_map(|p| self.box_of(*p, self.by(*p)?)).collect();
        let mut away = gap;
        // Each round clears at least one box for good.
        for _ in 0..=2 * others.len() {
            let before = away;
            for (part, start) in parts {
                for other in &others {
                    if let Some(mine) = self.box_of(*part, *start - way * away) {
                        away += way_out(mine, *other, -way, gap);
                    }
                }
            }
            if away <= before {
                break;
            }
        }
        away
    }

    /// A line for each pair of mates whose way is free between them.
    fn flows(&self) -> Vec<Flow> {
        let mut list = Vec::new();
        for &(part, to, way) in &self.mates {
            let (Some(a), Some(b)) = (self.by(part), self.by(to)) else { continue };
            let run = b - a;
            // Parts that were moved on afterwards are no longer opposite.
            if run.dot(way) < 1.0 || (run - way * run.dot(way)).length() > HAIR {
                continue;
            }
            for point in self.meeting_points(part, to) {
                let (start, end) = (point + a, point + b);
                let (Some(mine), Some(other)) = (self.box_of(part, a), self.box_of(to, b)) else { continue };
                let leave = inside(mine, start, way).map_or(0.0, |s| s.1.max(0.0));
                let meet = inside(other, end, -way).map_or(0.0, |s| s.1.max(0.0));
                // No line where the boxes still overlap along it: there is no white to
                // draw it in.
                if leave + meet < run.length() - 1.0 {
                    list.push(Flow { part, to, way, from: start + way * leave, until: end - way * meet });
                }
            }
        }
        list
    }

    /// Where two parts meet at home: the outer two of what is let in, else the
    /// middle of what their boxes share.
    fn meeting_points(&self, a: usize, b: usize) -> Vec<DVec3> {
        let joints = self.worked.joints.iter().filter(|j| j.parts.contains(&a) && j.parts.contains(&b));
        let points: Vec<DVec3> =
            joints.flat_map(|j| &j.inserts).flat_map(|i| &i.at).map(|at| at.origin).collect();
        match (points.first(), points.last()) {
            (Some(first), Some(last)) if points.len() > 1 => vec![*first, *last],
            (Some(only), _) => vec![*only],
            _ => {
                let home = |p: usize| self.home.get(p).copied().flatten();
                let (Some(x), Some(y)) = (home(a), home(b)) else { return Vec::new() };
                let (low, high) = (x.0.max(y.0), x.1.min(y.1));
                vec![(low.min(high) + low.max(high)) * 0.5]
            }
        }
    }
}

/// How far a box moves along `dir` (unit) to be `gap` clear of another; nought
/// if it is clear already.
fn way_out(mine: Bounds, other: Bounds, dir: DVec3, gap: f64) -> f64 {
    let mut least = f64::INFINITY;
    for axis in 0..3 {
        let (low, high) = (mine.0[axis], mine.1[axis]);
        // Clear along an axis the parts move on means a gap; else just apart.
        let need = if dir[axis].abs() > MOVES { gap } else { 0.0 };
        if low >= other.1[axis] + need - HAIR || high <= other.0[axis] - need + HAIR {
            return 0.0;
        }
        if dir[axis] > STANDS {
            least = least.min((other.1[axis] + need - low) / dir[axis]);
        } else if dir[axis] < -STANDS {
            least = least.min((other.0[axis] - need - high) / dir[axis]);
        }
    }
    if least.is_finite() { least.max(0.0) } else { 0.0 }
}

/// The stretch of a ray inside a box, as distances along it.
fn inside(of: Bounds, from: DVec3, dir: DVec3) -> Option<(f64, f64)> {
    let (mut enter, mut leave) = (f64::NEG_INFINITY, f64::INFINITY);
    for axis in 0..3 {
        if dir[axis].abs() < NOISE {
            if from[axis] < of.0[axis] - HAIR || from[axis] > of.1[axis] + HAIR {
                return None;
            }
            continue;
        }
        let (a, b) = ((of.0[axis] - from[axis]) / dir[axis], (of.1[axis] - from[axis]) / dir[axis]);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    (enter <= leave).then_some((enter, leave))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_goes_out_as_far_as_it_must() {
        let unit = |x: f64| (DVec3::new(x, 0.0, 0.0), DVec3::new(x + 10.0, 10.0, 10.0));
        assert!((way_out(unit(0.0), unit(0.0), DVec3::X, 3.0) - 13.0).abs() < 1e-9);
        assert!((way_out(unit(0.0), unit(4.0), DVec3::NEG_X, 3.0) - 9.0).abs() < 1e-9);
        assert!(way_out(unit(0.0), unit(30.0), DVec3::X, 3.0).abs() < 1e-9);
        // Beside, not in the way: touching is clear.
        let above = (DVec3::new(0.0, 0.0, 10.0), DVec3::new(10.0, 10.0, 20.0));
        assert!(way_out(unit(0.0), above, DVec3::X, 3.0).abs() < 1e-9);
        assert_eq!(inside(unit(0.0), DVec3::new(-5.0, 5.0, 5.0), DVec3::X), Some((5.0, 15.0)));
        assert_eq!(inside(unit(0.0), DVec3::new(-5.0, 15.0, 5.0), DVec3::X), None);
    }
}
