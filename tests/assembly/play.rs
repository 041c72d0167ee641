//! An order played forward, move by move.

use std::collections::BTreeSet;

use rodwright::assembly::{FromInside, Order, Step, StepKind, Watch};
use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedJob;
use rodwright::model::Job;
use rodwright::solid::Standing;

use crate::support::assert_near;

/// Plays an order forward, move by move: what a move adds must be able to leave, against
/// its way in, everything that stands and does not come along; every joint with inserts
/// must open along that; every part is added once, every joint is in one step.
pub(crate) fn execute(worked: &WorkedJob, order: &Order) {
    let standing: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    let mut added: Vec<usize> = Vec::new();
    for motion in order.steps.iter().filter(|step| step.kind == StepKind::Join).flat_map(Step::all_motions) {
        for (part, way) in motion.adds.iter().zip(&motion.ways) {
            assert!(!added.contains(part), "`{}` is added twice", worked.parts[*part].name);
            added.push(*part);
            let Some(way) = way else { continue };
            if let Some(inside) = &motion.from_inside {
                let mut onto = motion.onto.iter().filter(|other| *other != part);
                assert!(
                    onto.all(|other| is_let_in(worked, (*part, *way), inside, &standing[*other])),
                    "`{}` has no room inside",
                    worked.parts[*part].name
                );
                continue;
            }
            for other in motion.onto.iter().filter(|other| !motion.together.iter().any(|(p, _)| p == *other))
            {
                assert!(
                    !standing[*part].is_blocked_by(&standing[*other], -*way),
                    "`{}` runs into `{}`",
                    worked.parts[*part].name,
                    worked.parts[*other].name
                );
            }
        }
        let moves: Vec<(usize, DVec3)> = motion
            .adds
            .iter()
            .zip(&motion.ways)
            .filter_map(|(part, way)| Some((*part, (*way)?)))
            .chain(motion.together.iter().copied())
            .collect();
        for joint in motion
            .joints
            .iter()
            .map(|j| &worked.joints[*j])
            .filter(|j| !j.inserts.is_empty() && !j.traits.hooks_on)
        {
            let last = *joint.parts.last().unwrap();
            let of = |part: usize| moves.iter().find(|(moved, _)| *moved == part).map(|(_, way)| *way);
            for first in &joint.parts[..joint.parts.len() - 1] {
                let relative = of(last).unwrap_or_default() - of(*first).unwrap_or_default();
                let along = joint.traits.is_drawn_together;
                let open = |way: &DVec3| way.dot(relative) > if along { 0.5 } else { 1.0 - 1e-6 };
                assert!(
                    joint.ways_in.is_empty() || relative == DVec3::ZERO || joint.ways_in.iter().any(open),
                    "`{}` of `{}` does not close along {relative}",
                    joint.word,
                    worked.parts[last].name
                );
            }
        }
    }
    held(worked, order, &standing);
    added.sort_unstable();
    let own: Vec<usize> =
        (0..worked.parts.len()).filter(|part| worked.parts[*part].piece == order.piece).collect();
    assert_eq!(added, own);
    joints_once(worked, order);
    corners_are_there(worked, order);
}

/// Whether a part that is pressed on from inside is let in beside its place past another and
/// comes from there to its place.
pub(crate) fn is_let_in(
    worked: &WorkedJob,
    (part, way): (usize, DVec3),
    inside: &FromInside,
    other: &Standing,
) -> bool {
    let own = &worked.parts[part];
    let at = |share: f64| Standing::new(&own.solid, &own.at.moved(-way * inside.clear * share));
    let between = (0..=8).all(|step| !at(f64::from(step) / 8.0).runs_into(other));
    between && !at(1.0).is_blocked_by(other, -inside.way)
}

/// Whatever a move brings in is joined to what stands, or rests on it: nothing is left in
/// the air, or the step says that it is propped. What comes first stands on the bench, and what nothing joins is said by a check
/// of its own.
fn held(worked: &WorkedJob, order: &Order, standing: &[Standing]) {
    let joins = order.steps.iter().filter(|step| step.kind == StepKind::Join);
    let said = |step: &Step| step.watch.iter().any(|one| matches!(one, Watch::Prop { .. }));
    for motion in joins.filter(|step| !said(step)).flat_map(Step::all_motions) {
        let adds =
            motion.adds.iter().zip(&motion.ways).filter(|(_, way)| way.is_some()).map(|(part, _)| *part);
        let moved: Vec<usize> = adds.chain(motion.together.iter().map(|(part, _)| *part)).collect();
        let of_moved = |joint: usize| worked.joints[joint].parts.iter().any(|part| moved.contains(part));
        let alone = !(0..worked.joints.len()).any(of_moved);
        let joined = motion.joints.iter().any(|joint| of_moved(*joint));
        let below = |part: &usize| {
            motion.onto.iter().any(|other| standing[*part].is_blocked_by(&standing[*other], DVec3::NEG_Z))
        };
        let first = moved.first().map_or("", |part| worked.parts[*part].name.as_str());
        assert!(moved.is_empty() || alone || joined || moved.iter().any(below), "`{first}` hangs in the air");
    }
}

/// A rail that is tenoned into two posts along one line is closed at both ends in one
/// clamping, as one end alone stands open with nothing to hold it square (common practice,
/// no source), unless the glue does not stay open for all that comes between. Gives how many rails were looked
/// at.
pub(crate) fn both_ends_at_once(job: &Job, worked: &WorkedJob, order: &Order) -> usize {
    let mut rails = 0;
    let step_of = |joint: usize| order.steps.iter().position(|step| step.all_joints().any(|j| j == joint));
    let ends = |rail: usize| {
        let glued = worked.joints.iter().enumerate().filter(move |(_, joint)| {
            let tenoned = joint.traits.is_tenoned || !joint.inserts.is_empty();
            joint.glued && tenoned && joint.parts.len() == 2 && joint.parts[0] == rail
        });
        glued.filter_map(|(j, joint)| Some((j, joint.parts[1], *joint.ways_in.first()?)))
    };
    for rail in (0..worked.parts.len()).filter(|part| worked.parts[*part].piece == order.piece) {
        for (left, post, way) in ends(rail) {
            for (right, other, back) in ends(rail).filter(|(_, _, back)| back.dot(way) < -1.0 + 1e-6) {
                let [Some(first), Some(last)] = [step_of(left), step_of(right)] else { continue };
                let (first, last) = (first.min(last), first.max(last));
                let minutes = order.steps[first..=last].iter().filter_map(|step| step.clamping.as_ref());
                // All from the one to the other in one would set its clamps once, two minutes.
                let takes = 2.0 + minutes.map(|one| one.takes - 2.0).sum::<f64>();
                rails += 1;
                assert!(
                    first == last || takes > job.order.glue.open(),
                    "`{}` is closed on `{}` and on `{}` in steps {} and {}, and {takes} min would do both: {back}",
                    worked.parts[rail].name,
                    worked.parts[post].name,
                    worked.parts[other].name,
                    first + 1,
                    last + 1
                );
            }
        }
    }
    rails
}

/// What glued joints that hold tie together is glued up by itself: no clamping closes such
/// joints of two units, and none of another comes between two of one (common practice, no
/// source). Gives how many units the piece has.
pub(crate) fn units_by_themselves(worked: &WorkedJob, order: &Order) -> usize {
    let holds = |j: &usize| {
        let joint = &worked.joints[*j];
        joint.glued && joint.parts.len() == 2 && (joint.traits.is_tenoned || !joint.inserts.is_empty())
    };
    let mut home: Vec<usize> = (0..worked.parts.len()).collect();
    for joint in (0..worked.joints.len()).filter(holds).map(|j| &worked.joints[j]) {
        let (keep, goes) = (home[joint.parts[0]], home[joint.parts[1]]);
        home.iter_mut().filter(|one| **one == goes).for_each(|one| *one = keep);
    }
    let units = |joints: &[usize]| {
        let joints = joints.iter().filter(|j| holds(j)).map(|j| home[worked.joints[*j].parts[0]]);
        joints.collect::<BTreeSet<usize>>()
    };
    let mut goes: Vec<usize> = Vec::new();
    for (i, step) in order.steps.iter().enumerate() {
        let each = std::iter::once(&step.joints).chain(step.again.iter().map(|again| &again.joints));
        let mut here = BTreeSet::new();
        for joints in each {
            let found = units(joints);
            let names = found.iter().map(|unit| worked.parts[*unit].name.as_str()).collect::<Vec<_>>();
            assert!(found.len() < 2, "step {} mixes the units of {}", i + 1, names.join(" and "));
            here.extend(found);
        }
        let fresh: Vec<usize> = here.iter().copied().filter(|unit| goes.last() != Some(unit)).collect();
        for unit in &fresh {
            let name = &worked.parts[*unit].name;
            let seen = goes.contains(unit) && fresh.len() == 1;
            assert!(!seen, "step {} goes back to the unit of `{name}`", i + 1);
        }
        goes.extend(fresh);
    }
    goes.sort_unstable();
    goes.dedup();
    goes.len()
}

/// Every joint that needs something is in exactly one step, so that every fitting is
/// laid out once.
fn joints_once(worked: &WorkedJob, order: &Order) {
    let told: Vec<usize> =
        order.steps.iter().flat_map(|step| step.all_joints().collect::<Vec<_>>()).collect();
    for (index, joint) in worked.joints.iter().enumerate() {
        let here = joint.parts.iter().all(|part| worked.parts[*part].piece == order.piece);
        if here && !joint.inserts.is_empty() {
            let times = told.iter().filter(|one| **one == index).count();
            assert_eq!(times, 1, "`{}` of `{}`", joint.word, worked.parts[joint.parts[0]].name);
        }
    }
}

/// Diagonals run between corners of parts that stand at that step, or are set dry; of a part
/// that is let into another from where its arris comes out of it.
fn corners_are_there(worked: &WorkedJob, order: &Order) {
    for step in &order.steps {
        let Some(check) = step.check else { continue };
        let parts: Vec<usize> = step.onto().into_iter().chain(step.adds()).chain(step.set_dry()).collect();
        let on = |corner: DVec3, a: DVec3, b: DVec3| {
            (a.distance(corner) + b.distance(corner) - a.distance(b)).abs() < 1e-6
        };
        for corner in check.corners {
            let there = parts.iter().map(|part| &worked.parts[*part]).any(|part| {
                let all: Vec<DVec3> = part.solid.points.iter().map(|point| part.at.point(*point)).collect();
                all.iter().any(|a| a.distance(corner) < 1e-6)
                    || all.iter().any(|a| all.iter().any(|b| on(corner, *a, *b)))
            });
            assert!(there, "nothing has a corner at {corner}");
        }
        let [a, b, c, d] = check.corners;
        assert_near(check.diagonals[0], a.distance(c), 1e-9);
        assert_near(check.diagonals[1], b.distance(d), 1e-9);
    }
}
