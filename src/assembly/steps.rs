//! Moves told as steps: lippings first, like moves at once, cuts in their place.

use super::blocking::Blocking;
use super::done;
use super::search::{Move, Plan};
use super::step::{Done, Step, StepKind, Watch};
use super::tolerance::SAME_WAY;
use crate::geometry::DVec3;
use crate::joinery::{PartSource, Stage, WorkedJob, WorkedPart};
use crate::model::PieceId;

/// Most moves of one step: more can be neither watched in the clamps nor told
/// apart in one picture (common practice, no source).
const AT_ONCE: usize = 8;

/// The steps of one piece.
pub(super) fn steps(worked: &WorkedJob, piece: PieceId, plan: &Plan) -> Vec<Step> {
    let mut steps: Vec<Step> = lip(worked, piece).into_iter().collect();
    let joins = gather(worked, plan);
    let cut_at = cuts_after(worked, piece, &joins);
    let last_glued = joins.iter().rposition(|join| join.step.glued);
    for (i, mut join) in joins.into_iter().enumerate() {
        if last_glued == Some(i) {
            join.step.diagonal = diagonal(worked, &join.step);
        }
        join.step.done = done::join(worked, &join.step);
        done::watch(worked, &mut join.step);
        steps.push(join.step);
        steps.extend(cut_at.iter().filter(|(after, _)| *after == i).map(|(_, step)| step.clone()));
    }
    steps
}

/// A join step with the moves it is made of.
struct Join {
    step: Step,
    moves: Vec<Move>,
    /// Whether its first part is one to which the others come.
    founded: bool,
}

/// Moves as steps; neighbours that can be made at once become one.
fn gather(worked: &WorkedJob, plan: &Plan) -> Vec<Join> {
    let mut joins: Vec<Join> = Vec::new();
    let mut standing = vec![false; plan.blocking.units.len()];
    if let (true, [unit]) = (plan.moves.is_empty(), plan.blocking.units.as_slice()) {
        // A piece of one part is a step of its own: nothing to join.
        let step = Step { adds: unit.all.clone(), ways: vec![None; unit.all.len()], ..empty(StepKind::Join) };
        return if unit.all.len() > 1 {
            Vec::new()
        } else {
            vec![Join { step, moves: Vec::new(), founded: true }]
        };
    }
    for (i, one) in plan.moves.iter().enumerate() {
        let founded = !one.rest.iter().any(|u| standing[*u]);
        let join = join(worked, plan, one, founded, &standing);
        for u in one.rest.iter().chain(&one.group) {
            standing[*u] = true;
        }
        match joins.last_mut() {
            Some(last) if i > 0 && at_once(plan, last, one, &join) => merge(last, join),
            _ => joins.push(join),
        }
    }
    joins
}

/// A step in the making; what is done is settled when its parts are known.
fn empty(kind: StepKind) -> Step {
    Step {
        kind,
        done: Done::SetUp { parts: Vec::new() },
        adds: Vec::new(),
        ways: Vec::new(),
        onto: Vec::new(),
        together: Vec::new(),
        joints: Vec::new(),
        glued: false,
        diagonal: None,
        watch: Vec::new(),
    }
}

/// One move as a step. Units of the group that stand already (a made-up group
/// that now joins the rest) are moved but not added again.
fn join(worked: &WorkedJob, plan: &Plan, one: &Move, founded: bool, standing: &[bool]) -> Join {
    let blocking = &plan.blocking;
    let way = -blocking.ways[one.off];
    let mut step = empty(StepKind::Join);
    let parts = |units: &[usize]| -> Vec<usize> {
        units.iter().flat_map(|u| blocking.units[*u].all.iter().copied()).collect()
    };
    if founded {
        step.adds = parts(&one.rest);
        step.ways = vec![None; step.adds.len()];
    } else {
        step.onto = parts(&one.rest);
    }
    let (made_up, fresh): (Vec<usize>, Vec<usize>) = one.group.iter().partition(|u| standing[**u]);
    let fresh = parts(&fresh);
    step.ways.extend(vec![Some(way); fresh.len()]);
    step.adds.extend(fresh);
    step.joints = joints(blocking, one);
    let hung = step.joints.iter().any(|j| worked.joints.get(*j).is_some_and(|j| j.traits.hooks_on));
    // What is hung on the wall is the whole piece, and needs no list of its parts.
    let listed = !(founded && hung);
    if listed && !made_up.is_empty() {
        step.watch.push(Watch::MadeUpBefore { parts: parts(&made_up) });
    }
    if !made_up.is_empty() {
        step.together = parts(&made_up).into_iter().map(|p| (p, way)).collect();
        step.onto.extend(parts(&made_up));
    }
    step.glued = step.joints.iter().any(|j| worked.joints.get(*j).is_some_and(|joint| joint.glued));
    Join { step, moves: vec![one.clone()], founded }
}

/// The joints a move closes, rising.
fn joints(blocking: &Blocking, one: &Move) -> Vec<usize> {
    let resting = |unit: usize| one.rest.binary_search(&unit).is_ok();
    let mut joints: Vec<usize> = blocking.ties_between(&one.group, resting).map(|tie| tie.joint).collect();
    joints.sort_unstable();
    joints.dedup();
    joints
}

/// Whether `next` can be made in the same step as `last`: single units, the
/// same kinds of joint, along one line, and neither in the way of the other.
fn at_once(plan: &Plan, last: &Join, next: &Move, join: &Join) -> bool {
    let blocking = &plan.blocking;
    let alike = last.step.glued == join.step.glued && next.group.len() == 1 && !join.founded;
    if last.moves.len() >= AT_ONCE {
        return false;
    }
    let line = blocking.ways[next.off];
    alike
        && last.moves.iter().all(|one| {
            let parallel = blocking.ways[one.off].dot(line).abs() > SAME_WAY;
            parallel
                && one.group.len() == 1
                && blocking.ties_between(&one.group, |unit| next.group.contains(&unit)).next().is_none()
                && !blocking.holds(one.group[0], next.group[0], one.off)
                && !blocking.holds(next.group[0], one.group[0], next.off)
        })
}

fn merge(last: &mut Join, next: Join) {
    let added = last.step.adds.clone();
    last.step.adds.extend(&next.step.adds);
    last.step.ways.extend(&next.step.ways);
    last.step.onto.extend(next.step.onto.iter().filter(|p| !added.contains(p)));
    last.step.onto.sort_unstable();
    last.step.onto.dedup();
    last.step.together.extend(next.step.together);
    last.step.joints.extend(&next.step.joints);
    last.step.joints.sort_unstable();
    last.step.joints.dedup();
    last.step.watch.extend(next.step.watch);
    last.moves.extend(next.moves);
}

/// The first step, if parts are lipped.
fn lip(worked: &WorkedJob, piece: PieceId) -> Option<Step> {
    let mut step = empty(StepKind::Lip);
    for (index, part) in worked.parts.iter().enumerate() {
        if let (true, PartSource::Lipping { of, side }) = (part.piece == piece, part.source) {
            step.adds.push(index);
            step.ways.push(Some(-side.normal()));
            if !step.onto.contains(&of) {
                step.onto.push(of);
            }
        }
    }
    if step.adds.is_empty() {
        return None;
    }
    step.glued = true;
    step.joints = (0..worked.joints.len())
        .filter(|j| worked.joints[*j].parts.iter().any(|p| step.adds.contains(p)))
        .collect();
    step.done = Done::Lip { parts: step.onto.clone() };
    step.watch.push(Watch::TrimFlush);
    Some(step)
}

/// The steps in which cuts are made that had to wait for a glue-up, each after the last
/// gluing of what is then in one piece: one of a pair of doors may be glazed before the
/// other is glued up.
fn cuts_after(worked: &WorkedJob, piece: PieceId, joins: &[Join]) -> Vec<(usize, Step)> {
    let later = |part: &WorkedPart| part.cuts.iter().any(|cut| cut.stage == Stage::AfterGlueUp);
    let parts = worked.parts.iter().enumerate().filter(|(_, part)| part.piece == piece && later(part));
    let parts: Vec<usize> = parts.map(|(index, _)| index).collect();
    if parts.is_empty() {
        return Vec::new();
    }
    let home = glued_up(worked);
    let mut groups: Vec<(usize, Step)> = Vec::new();
    for part in parts {
        let own = home.get(part).copied().unwrap_or(part);
        match groups.iter_mut().find(|(known, _)| *known == own) {
            Some((_, step)) => step.onto.push(part),
            None => groups.push((own, Step { onto: vec![part], ..empty(StepKind::Cut) })),
        }
    }
    let glues = |join: &Join, own: usize| {
        let joints =
            join.step.joints.iter().filter_map(|j| worked.joints.get(*j)).filter(|joint| joint.glued);
        joints.flat_map(|joint| &joint.parts).any(|part| home.get(*part) == Some(&own))
    };
    let mut all: Vec<(usize, Step)> = Vec::new();
    for (own, mut step) in groups {
        let after = joins.iter().rposition(|join| glues(join, own)).unwrap_or(0);
        step.done = done::cut(worked, &step.onto);
        step.watch.push(Watch::LetCure);
        all.push((after, step));
    }
    all
}

/// For each part the least of those it is in one piece with when all is glued.
fn glued_up(worked: &WorkedJob) -> Vec<usize> {
    let mut home: Vec<usize> = (0..worked.parts.len()).collect();
    let root = |home: &[usize], part: usize| {
        let mut at = part;
        while let Some(up) = home.get(at).copied().filter(|up| *up != at) {
            at = up;
        }
        at
    };
    for joint in worked.joints.iter().filter(|joint| joint.glued) {
        let roots: Vec<usize> = joint.parts.iter().map(|part| root(&home, *part)).collect();
        let Some(least) = roots.iter().min().copied() else { continue };
        for other in roots.into_iter().chain(joint.parts.iter().copied()) {
            if let Some(up) = home.get_mut(other) {
                *up = least;
            }
        }
    }
    (0..home.len()).map(|part| root(&home, part)).collect()
}

/// Outside diagonal of what stands after `step`, seen from the front, mm, where
/// it is a closed frame or case: at least four parts over its height and width.
fn diagonal(worked: &WorkedJob, step: &Step) -> Option<f64> {
    let parts: Vec<usize> = step.onto.iter().chain(&step.adds).copied().collect();
    let mut low = DVec3::INFINITY;
    let mut high = DVec3::NEG_INFINITY;
    let mut count = 0;
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        count += usize::from(matches!(part.source, PartSource::Part(_)));
        for point in &part.solid.points {
            let at = part.at.point(*point);
            low = low.min(at);
            high = high.max(at);
        }
    }
    let size = high - low;
    (count >= 4 && size.x > 0.0 && size.z > 0.0).then(|| (size.x * size.x + size.z * size.z).sqrt())
}
