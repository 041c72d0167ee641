//! Fittings of parts that stand: what no move brings in.

use super::blocking::Blocking;
use super::habits::unit_of;
use super::motion::parts;
use super::search::Plan;
use super::step::{Motion, Step, StepKind, Turned};
use crate::joinery::{WorkedJob, WorkedJoint};

/// The unit that a joint is all in, where it is in one only and needs something, and is
/// no lipping.
pub(super) fn only_unit(blocking: &Blocking, joint: &WorkedJoint) -> Option<usize> {
    let mut units = joint.parts.iter().map(|part| unit_of(blocking, *part));
    let first = units.next().flatten()?;
    (!joint.traits.lips && !joint.inserts.is_empty() && units.all(|unit| unit == Some(first)))
        .then_some(first)
}

/// A step that fits what some units need by themselves: knobs, feet, stops; seen with the
/// body that they are of.
pub(super) fn on_parts(
    worked: &WorkedJob,
    blocking: &Blocking,
    (units, body): (&[usize], &[usize]),
) -> Option<Step> {
    let step = fit(worked, blocking, |unit, joint| {
        units.contains(&unit) && !joint.traits.hangs_on_wall && !joint.traits.goes_on_last
    })?;
    Some(Step { stands: parts(blocking, body), ..step })
}

/// A step that puts on what is bought by name, when the piece stands.
pub(super) fn last(worked: &WorkedJob, blocking: &Blocking) -> Option<Step> {
    let step = fit(worked, blocking, |_, joint| joint.traits.goes_on_last)?;
    let all: Vec<usize> = (0..blocking.units.len()).collect();
    Some(Step { stands: parts(blocking, &all), ..step })
}

/// What is fitted to a part that the rest of the piece shuts in all round goes on before that,
/// as the screws of a rail that a shelf is slid over.
pub(super) fn before_shut_in(worked: &WorkedJob, plan: &Plan, steps: &mut Vec<Step>) {
    let shut = parts(&plan.blocking, &plan.shut_in);
    let closes = |step: &Step| {
        let met = |one: &Motion| !one.together.is_empty() && one.onto.iter().any(|part| shut.contains(part));
        step.kind == StepKind::Join && step.motions.iter().any(met)
    };
    let Some(at) = steps.iter().rposition(closes).filter(|_| !shut.is_empty()) else { return };
    let within = |part: &usize| shut.contains(part);
    let mut before = Step::empty(StepKind::Fit);
    for step in steps.iter_mut().skip(at + 1).filter(|step| step.kind == StepKind::Fit) {
        let own = |joint: &usize| worked.joints.get(*joint).is_some_and(|j| j.parts.iter().all(within));
        let (moved, left): (Vec<usize>, Vec<usize>) = step.joints.iter().partition(|joint| own(joint));
        step.joints = left;
        before.joints.extend(moved);
        let (moved, left): (Vec<usize>, Vec<usize>) = step.works.iter().partition(|part| within(part));
        step.works = left;
        before.works.extend(moved);
    }
    steps.retain(|step| step.kind != StepKind::Fit || !step.joints.is_empty());
    if !before.joints.is_empty() {
        before.stands = shut;
        steps.insert(at, before);
    }
}

/// A step that fits what hangs the piece, after all that is joined.
pub(super) fn to_the_wall(worked: &WorkedJob, blocking: &Blocking) -> Option<Step> {
    let step = fit(worked, blocking, |_, joint| joint.traits.hangs_on_wall)?;
    let all: Vec<usize> = (0..blocking.units.len()).collect();
    Some(Step { stands: parts(blocking, &all), turned: Turned::Back, ..step })
}

fn fit(worked: &WorkedJob, blocking: &Blocking, which: impl Fn(usize, &WorkedJoint) -> bool) -> Option<Step> {
    let mut step = Step::empty(StepKind::Fit);
    for (index, joint) in worked.joints.iter().enumerate() {
        let Some(unit) = only_unit(blocking, joint).filter(|unit| which(*unit, joint)) else { continue };
        step.joints.push(index);
        let part = blocking.units.get(unit).map(|unit| unit.part);
        step.works.extend(part.filter(|part| !step.works.contains(part)));
    }
    (!step.joints.is_empty()).then_some(step)
}
