//! A plan told as steps: lippings first, units made up by themselves, glue-ups as
//! clampings, cuts and finish in their place, fittings last.

use super::blocking::{Blocking, Tie};
use super::check::measured;
use super::clampings::{Clamped, Gatherer, places, takes};
use super::clamps::Pressed;
use super::motion::{closes, joints, lifted, motion, way};
use super::search::{Addition, Body, Plan};
use super::step::{ClampKind, Clamping, Motion, Repeat, Step, StepKind, Turned, Watch};
use super::tolerance::{FROM_BEHIND, LEVEL_FEET, PLANAR, SAME_WAY};
use super::{alike, cuts, finished, fits, hidden, squeezed, staves};
use crate::geometry::{DVec3, Interval};
use crate::joinery::{PartSource, Stage, Traits, WorkedJob, WorkedJoint};
use crate::model::{Job, PieceId, StockKind};

/// The steps of one piece.
pub(super) fn steps(job: &Job, worked: &WorkedJob, piece: PieceId, plan: &Plan) -> Vec<Step> {
    let Some(body) = &plan.body else { return Vec::new() };
    let mut teller = Teller {
        job,
        worked,
        blocking: &plan.blocking,
        gatherer: Gatherer { worked, blocking: &plan.blocking, glue: &job.order.glue },
        standing: vec![false; plan.blocking.units.len()],
        fronts: &plan.fronts,
        on_site: &plan.on_site,
    };
    let mut steps: Vec<Step> = lip(worked, piece).into_iter().collect();
    steps.extend(teller.body(body));
    let mut steps = alike::told_once(worked, steps);
    if let Some(first) = staves::glue_up(job, worked, piece) {
        steps.insert(0, first);
    }
    steps.extend(fits::to_the_wall(worked, &plan.blocking));
    steps.extend(fits::last(worked, &plan.blocking));
    let mut steps = finished::fittings_last(worked, steps);
    fits::before_shut_in(worked, plan, &mut steps);
    finished::settle(job, worked, &mut steps);
    settle_joints(worked, &mut steps);
    measured_once(&mut steps);
    steps
}

/// Tells bodies.
struct Teller<'t> {
    job: &'t Job,
    worked: &'t WorkedJob,
    blocking: &'t Blocking,
    gatherer: Gatherer<'t>,
    /// Which units stand, or are made up.
    standing: Vec<bool>,
    /// Units that are show fronts of drawers.
    fronts: &'t [usize],
    /// Units that are scribed and fixed where the piece stands.
    on_site: &'t [usize],
}

impl Teller<'_> {
    /// The steps of a body, from its first part until it is whole.
    fn body(&mut self, body: &Body) -> Vec<Step> {
        let clamped = self.gatherer.gather(body);
        let mut steps: Vec<Step> = Vec::new();
        if clamped.is_empty() {
            return self.lone(body);
        }
        let lone = lone_units(body, &clamped);
        let own: Vec<usize> = super::motion::parts(self.blocking, &lone);
        let waiting: Vec<usize> = own.iter().copied().filter(|part| self.is_cut_later(*part)).collect();
        let last_glued = clamped.iter().rposition(|one| one.glued);
        // What is glued up with them stands round them in the picture.
        let beside = || {
            own.iter().copied().filter(|part| !waiting.contains(part) && self.is_glued_in(*part)).collect()
        };
        let mut cut =
            (!waiting.is_empty()).then(|| Step { stands: beside(), ..cuts::step(self.worked, &waiting) });
        for (i, one) in clamped.iter().enumerate() {
            if last_glued.is_none_or(|last| i > last) {
                steps.extend(cut.take());
                if let Some(finish) = self.finish_before_glass(one, &own, &steps) {
                    steps.push(finish);
                }
            }
            // What goes into a glue-up of several goes is made up before the first of them.
            if !goes_on(&clamped, i) {
                let end = (i + 1..clamped.len()).find(|at| !goes_on(&clamped, *at)).unwrap_or(clamped.len());
                let lists: Vec<Vec<Step>> =
                    clamped.iter().take(end).skip(i).flat_map(|one| self.made_up(one)).collect();
                steps.extend(alike::side_by_side(self.worked, lists));
            }
            // What is bolted to a show front from behind goes on before the drawer hides it.
            let fronts = self.fronts_of(one);
            steps.extend(fits::on_parts(self.worked, self.blocking, (&fronts, &fronts)));
            let dry = set_dry(&clamped, i);
            let mut step = self.step(one, &dry, goes_on(&clamped, i));
            let before = i.checked_sub(1).map(|before| set_dry(&clamped, before)).unwrap_or_default();
            if !before.is_empty() {
                step.watch.push(Watch::TakenOff { parts: super::motion::parts(self.blocking, &before) });
            }
            steps.push(step);
        }
        steps.extend(cut);
        let lone: Vec<usize> = lone.into_iter().filter(|unit| !self.fronts.contains(unit)).collect();
        steps.extend(fits::on_parts(self.worked, self.blocking, (&lone, &body.units())));
        steps
    }

    /// A unit by itself: nothing is joined, but it may be cut and fitted.
    fn lone(&mut self, body: &Body) -> Vec<Step> {
        for unit in &body.base {
            self.standing[*unit] = true;
        }
        let mut step = Step::empty(StepKind::Join);
        let adds = super::motion::parts(self.blocking, &body.base);
        step.motions = vec![Motion { ways: vec![None; adds.len()], adds, ..Motion::default() }];
        let mut steps = vec![step];
        steps.extend(fits::on_parts(self.worked, self.blocking, (&body.base, &body.base)));
        steps
    }

    /// The steps that make up what comes in whole, a list for each; those of like ones go
    /// side by side, so that they are told once.
    fn made_up(&mut self, clamped: &Clamped<'_>) -> Vec<Vec<Step>> {
        if clamped.ring {
            return Vec::new();
        }
        let bodies: Vec<&Body> =
            clamped.adds.iter().map(|add| &add.coming).filter(|body| !body.adds.is_empty()).collect();
        bodies.into_iter().map(|body| self.body(body)).collect()
    }

    /// One clamping, or one fitting, as a step; `dry` what is set dry in its place meanwhile,
    /// `begun` whether a go before it has begun the same glue-up.
    fn step(&mut self, clamped: &Clamped<'_>, dry: &[usize], begun: bool) -> Step {
        let mut step = Step::empty(StepKind::Join);
        let mut adds: Vec<&Addition> = Vec::new();
        for add in &clamped.adds {
            // A half of a ring closes along with the other.
            if clamped.ring {
                adds.extend(add.coming.adds.iter());
            }
            adds.push(add);
        }
        step.motions =
            adds.iter().map(|add| motion(self.worked, self.blocking, add, &mut self.standing)).collect();
        step.glued = clamped.glued;
        let floating = adds.iter().filter(|add| self.floats(add)).flat_map(|add| add.coming.units());
        let floating: Vec<usize> = floating.collect();
        if !floating.is_empty() {
            step.watch.push(Watch::Prop { parts: super::motion::parts(self.blocking, &floating) });
        }
        if clamped.glued {
            self.clamp(&mut step, &adds, (clamped.ring, dry, begun));
            let waits = || Watch::Staged { dry: super::motion::parts(self.blocking, dry) };
            step.watch.extend(clamped.staged.then(waits));
        }
        step.turned = turned(self.worked, &step);
        if step.glued && self.job.finish.is_some() {
            let parts = hidden::shut_in(self.worked, &step);
            step.watch.extend((!parts.is_empty()).then_some(Watch::FinishHidden { parts }));
        }
        watch(self.job, self.worked, &mut step);
        let mut coming = clamped.adds.iter().flat_map(|add| add.coming.units()).peekable();
        if coming.peek().is_some() && coming.all(|unit| self.on_site.contains(&unit)) {
            step.watch.push(Watch::OnSite);
        }
        if !self.fronts_of(clamped).is_empty() {
            step.watch.push(Watch::RunDrawer);
        }
        step.watch.extend(lifted::watch(self.job, self.worked, &step));
        step
    }

    /// The show fronts among what comes in.
    fn fronts_of(&self, clamped: &Clamped<'_>) -> Vec<usize> {
        let base = clamped.adds.iter().flat_map(|add| add.coming.base.iter().copied());
        base.filter(|unit| self.fronts.contains(unit)).collect()
    }

    /// Whether what comes in is neither joined to what stands nor lies on it: such as a shelf
    /// that only the side not yet there holds.
    fn floats(&self, add: &Addition) -> bool {
        let down = self.blocking.ways.iter().position(|way| way.dot(DVec3::NEG_Z) > SAME_WAY);
        let group = add.coming.units();
        let rests = |way: usize| {
            group.iter().any(|unit| add.rest.iter().any(|other| self.blocking.holds(*unit, *other, way)))
        };
        joints(self.blocking, add).is_empty() && down.is_some_and(|way| !rests(way))
    }

    /// Settles clamps, time and what is measured of a glued step: whether it is a ring, and
    /// what is set dry with it, and whether a go before it has begun it.
    fn clamp(&self, step: &mut Step, adds: &[&Addition], (ring, dry, begun): (bool, &[usize], bool)) {
        let groups: Vec<Vec<usize>> = adds.iter().map(|add| add.coming.units()).collect();
        let mut ties: Vec<(&Tie, DVec3)> = Vec::new();
        for (add, group) in adds.iter().zip(&groups) {
            let glued = closes(self.blocking, group, add)
                .into_iter()
                .filter(|tie| self.worked.joints.get(tie.joint).is_some_and(|joint| joint.glued));
            ties.extend(glued.map(|tie| (tie, self.blocking.press_line(tie, way(self.blocking, add)))));
        }
        let mut units: Vec<usize> = ties.iter().flat_map(|(tie, _)| [tie.first, tie.second]).collect();
        units.sort_unstable();
        units.dedup();
        let parts: Vec<Vec<usize>> =
            units.iter().map(|unit| self.blocking.units[*unit].all.clone()).collect();
        let holds = adds.iter().any(|add| self.gatherer.holds(add));
        // What closes a body that was begun before is measured over all of it.
        let stands: Vec<usize> = adds.iter().flat_map(|add| add.rest.iter().copied()).collect();
        let all = stands.iter().chain(groups.iter().flatten()).chain(dry);
        let whole = self.held_by_glue(all.copied().collect());
        let in_goes = begun || !dry.is_empty();
        step.check = holds.then(|| measured(self.worked, (&parts, &whole), in_goes)).flatten();
        let round = if ring { self.round(&units, &ties) } else { None };
        let mut joints: Vec<usize> = ties.iter().map(|(tie, _)| tie.joint).collect();
        joints.sort_unstable();
        joints.dedup();
        let glued = places(joints.iter().filter_map(|j| self.worked.joints.get(*j)));
        let open = glued < units.len();
        let Self { job, worked, blocking, .. } = *self;
        let pressed = Pressed { job, worked, blocking, ties, stands, dry };
        let clamps = match (ring, &step.check) {
            (true, _) if open => pressed.corners(),
            (true, Some(check)) => pressed.round(check.toward),
            _ => pressed.clamps(),
        };
        step.round = round.unwrap_or_default();
        let takes = takes(&self.job.order.glue, glued);
        let bars = clamps.iter().filter(|one| matches!(one.kind, ClampKind::Bar | ClampKind::OnBlocks(_)));
        let longest = bars.map(|one| one.length).fold(0.0, f64::max);
        step.watch.extend((longest > BAR_REACHES).then_some(Watch::LongReach(longest)));
        step.clamping = Some(Clamping { clamps, joints: glued, takes });
        if takes > self.job.order.glue.open() {
            step.watch.push(Watch::TooLong);
        }
        self.flatness(step, &whole);
    }

    /// The parts of those of some units that glue holds to another of them: not of a back that
    /// is dry in its grooves.
    fn held_by_glue(&self, mut units: Vec<usize>) -> Vec<Vec<usize>> {
        units.sort_unstable();
        units.dedup();
        let here = |other: usize| units.binary_search(&other).is_ok();
        let held = |unit: &&usize| {
            self.blocking.ties_between(std::slice::from_ref(*unit), here).any(|tie| tie.glued)
        };
        units.iter().filter(held).map(|unit| self.blocking.units[*unit].all.clone()).collect()
    }

    /// What keeps a body true besides its diagonals: wind of a flat one, feet of a
    /// standing one.
    fn flatness(&self, step: &mut Step, parts: &[Vec<usize>]) {
        let Some(check) = step.check else { return };
        let points: Vec<Vec<DVec3>> = parts.iter().map(|unit| points(self.worked, unit)).collect();
        let span = |along: DVec3| {
            let all = points.iter().flatten().map(|p| along.dot(*p));
            let (low, high) =
                all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), at| (l.min(at), h.max(at)));
            high - low
        };
        let [a, b, ..] = check.corners;
        let across = (b - a).length().max(NEAR_NOTHING);
        if span(check.toward) < PLANAR * across.min(check.corners[1].distance(check.corners[2])) {
            step.watch.push(Watch::Wind);
            return;
        }
        let low = points.iter().flatten().map(|p| p.z).fold(f64::INFINITY, f64::min);
        let on_floor = |unit: &&Vec<DVec3>| unit.iter().any(|p| p.z < low + LEVEL_FEET);
        let feet: Vec<&Vec<DVec3>> = points.iter().filter(on_floor).collect();
        let floor = || feet.iter().flat_map(|unit| unit.iter()).filter(|p| p.z < low + LEVEL_FEET);
        let wide = |along: DVec3| {
            let reach = Interval::of(floor().map(|p| along.dot(*p)));
            reach.map_or(0.0, Interval::length) > LEVEL_FEET
        };
        // Two board ends stand on four points as legs do.
        if feet.len() > 1 && wide(DVec3::X) && wide(DVec3::Y) {
            step.watch.push(Watch::Feet);
        }
    }

    /// Ways in which the members of a ring close all at once, each straight in from its
    /// own side, if every joint between them closes along that.
    fn round(&self, units: &[usize], ties: &[(&Tie, DVec3)]) -> Option<Vec<(usize, DVec3)>> {
        let middle = |units: &[usize]| {
            let all = units.iter().flat_map(|unit| points(self.worked, &self.blocking.units[*unit].all));
            let (low, high) =
                all.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
            (low + high) * 0.5
        };
        let centre = middle(units);
        let ways: Vec<(usize, DVec3)> = units
            .iter()
            .map(|unit| {
                let out = middle(std::slice::from_ref(unit)) - centre;
                let axes = [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z];
                let best = axes.into_iter().max_by(|a, b| a.dot(out).total_cmp(&b.dot(out)));
                (*unit, -best.unwrap_or(DVec3::Z) + DVec3::ZERO)
            })
            .collect();
        let of = |unit: usize| ways.iter().find(|(one, _)| *one == unit).map_or(DVec3::ZERO, |(_, way)| *way);
        let closes = ties.iter().all(|(tie, _)| tie.allows(of(tie.second) - of(tie.first)));
        let parts = ways
            .iter()
            .flat_map(|(unit, way)| self.blocking.units[*unit].all.iter().map(move |part| (*part, *way)));
        closes.then(|| parts.collect())
    }

    /// Whether a part is glued to others, so that it stands when the glue-up is done.
    fn is_glued_in(&self, part: usize) -> bool {
        self.worked.joints.iter().any(|joint| joint.glued && joint.parts.contains(&part))
    }

    /// Whether a cut of a part waits for the glue-up.
    fn is_cut_later(&self, part: usize) -> bool {
        let part = self.worked.parts.get(part);
        part.is_some_and(|part| part.cuts.iter().any(|cut| cut.stage == Stage::AfterGlueUp))
    }

    /// The finishing that comes before glass goes in: a brush along a pane soils it, and
    /// beads hide what was never finished.
    fn finish_before_glass(&self, clamped: &Clamped<'_>, own: &[usize], steps: &[Step]) -> Option<Step> {
        let is_glass = |part: usize| {
            let stock = self.worked.parts.get(part).and_then(|part| self.job.stock.get(part.stock.0));
            stock.is_some_and(|stock| matches!(stock.kind, StockKind::Glass { .. }))
        };
        let finished = steps.iter().any(|step| step.kind == StepKind::Finish);
        let glass = clamped
            .adds
            .iter()
            .flat_map(|add| super::motion::parts(self.blocking, &add.coming.base))
            .any(is_glass);
        if finished || !glass || self.job.finish.is_none() {
            return None;
        }
        let wood = |part: &usize| !is_glass(*part);
        let works: Vec<usize> = own
            .iter()
            .copied()
            .filter(wood)
            .filter(|part| {
                self.blocking
                    .units
                    .iter()
                    .zip(&self.standing)
                    .any(|(unit, stands)| *stands && unit.all.contains(part))
            })
            .collect();
        (!works.is_empty()).then(|| Step { works, ..Step::empty(StepKind::Finish) })
    }
}

/// Whether what is done at `at` belongs to a glue-up that was begun before and goes on, since
/// its glue does not stay open for all: with it or slipped in on the way.
fn goes_on(clamped: &[Clamped<'_>], at: usize) -> bool {
    let glued = |at: &usize| clamped.get(*at).is_some_and(|one| one.glued);
    let before = (0..at).rev().find(glued);
    let after = (at..clamped.len()).any(|at| glued(&at));
    after && before.and_then(|before| clamped.get(before)).is_some_and(|one| one.staged)
}

/// The units that are set dry in their places at `at`, where the glue does not stay open for
/// them too: what is glued when that has set.
fn set_dry(clamped: &[Clamped<'_>], at: usize) -> Vec<usize> {
    if !clamped.get(at).is_some_and(|one| one.staged) {
        return Vec::new();
    }
    let follow = (at + 1..clamped.len()).take_while(|next| goes_on(clamped, *next));
    let glued = follow.filter_map(|next| clamped.get(next)).filter(|one| one.glued);
    glued.flat_map(|one| one.adds.iter().flat_map(|add| add.coming.units())).collect()
}

/// Longest bar clamps that shops have, mm (common practice, no source).
const BAR_REACHES: f64 = 2400.0;

/// A length under which nothing is across, mm.
const NEAR_NOTHING: f64 = 1e-9;

/// Corners of some parts where they stand.
fn points(worked: &WorkedJob, parts: &[usize]) -> Vec<DVec3> {
    let parts = parts.iter().filter_map(|part| worked.parts.get(*part));
    parts.flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p))).collect()
}

/// The units of a body that are in no body made up before; those of a ring's halves too,
/// as these are nothing by themselves.
fn lone_units(body: &Body, clamped: &[Clamped<'_>]) -> Vec<usize> {
    let mut units = body.base.clone();
    for one in clamped {
        let whole = |add: &&&Addition| one.ring || add.coming.adds.is_empty();
        units.extend(one.adds.iter().filter(whole).flat_map(|add| add.coming.units()));
    }
    units
}

/// The first step, if parts are lipped.
fn lip(worked: &WorkedJob, piece: PieceId) -> Option<Step> {
    let mut step = Step::empty(StepKind::Lip);
    let mut motion = Motion { glued: true, ..Motion::default() };
    for (index, part) in worked.parts.iter().enumerate() {
        if let (true, PartSource::Lipping { of, side }) = (part.piece == piece, part.source) {
            motion.adds.push(index);
            motion.ways.push(Some(-side.normal()));
            if !step.works.contains(&of) {
                step.works.push(of);
            }
        }
    }
    if motion.adds.is_empty() {
        return None;
    }
    motion.onto.clone_from(&step.works);
    step.glued = true;
    step.joints = (0..worked.joints.len())
        .filter(|j| worked.joints[*j].parts.iter().any(|p| motion.adds.contains(p)))
        .filter(|j| worked.joints[*j].traits.lips)
        .collect();
    motion.joints.clone_from(&step.joints);
    step.motions.push(motion);
    step.watch.push(Watch::TrimFlush);
    Some(step)
}

/// How the work is turned so that what comes in is seen: from behind where all comes from
/// the back, feet up where all comes from below.
fn turned(worked: &WorkedJob, step: &Step) -> Turned {
    let hung = step.motions.iter().flat_map(|one| &one.joints);
    // Only what is on the wall is seen from the room.
    if hung.filter_map(|j| worked.joints.get(*j)).any(WorkedJoint::goes_to_wall) {
        return Turned::Upright;
    }
    let ways: Vec<DVec3> = step.motions.iter().flat_map(Motion::let_in).collect();
    let all = |along: DVec3| !ways.is_empty() && ways.iter().all(|way| way.dot(along) > FROM_BEHIND);
    if all(DVec3::NEG_Y) {
        Turned::Back
    } else if all(DVec3::Z) {
        Turned::FeetUp
    } else {
        Turned::Upright
    }
}

/// What to have in mind at a joining step.
fn watch(job: &Job, worked: &WorkedJob, step: &mut Step) {
    let joints: Vec<usize> = step.motions.iter().flat_map(|one| one.joints.iter().copied()).collect();
    let any = |have: fn(&Traits) -> bool| {
        joints.iter().filter_map(|j| worked.joints.get(*j)).any(|joint| have(&joint.traits))
    };
    if any(|traits| traits.folds) {
        step.watch.push(Watch::TapeFolds);
    }
    if any(|traits| traits.is_layered) {
        step.watch.push(Watch::PressLayers);
    }
    let free: Vec<usize> =
        joints.iter().copied().filter(|j| worked.joints.get(*j).is_some_and(|joint| !joint.glued)).collect();
    let panels = inside(worked, &free);
    let finished = job.finish.is_some() && !panels.is_empty();
    if !panels.is_empty() {
        let kind = |p: &usize| Some(&job.stock.get(worked.parts.get(*p)?.stock.0)?.kind);
        let solid = panels.iter().filter_map(kind).any(|kind| matches!(kind, StockKind::Board { .. }));
        step.watch.push(if solid { Watch::PanelMoves } else { Watch::PanelDry });
        // As it comes in: from then on what stands round it is in the way of a brush.
        let coming: Vec<usize> =
            panels.into_iter().filter(|panel| step.adds().any(|p| p == *panel)).collect();
        if job.finish.is_some() && !coming.is_empty() {
            step.watch.push(Watch::FinishInside { parts: coming });
        }
    }
    if any(|traits| traits.waits_for_finish) {
        step.watch.push(Watch::FinishFirst);
    }
    if step.glued {
        step.watch.extend(squeezed::watch(worked, step, finished));
    }
    let inserts = joints.iter().filter_map(|j| worked.joints.get(*j)).flat_map(|joint| &joint.inserts);
    let mut wedges: Vec<Watch> = inserts
        .filter(|insert| insert.item.is_wedge())
        .map(|insert| if insert.item.is_foxed() { Watch::FoxedForGood } else { Watch::DriveWedges })
        .collect();
    wedges.dedup();
    step.watch.append(&mut wedges);
}

/// The panels that some joints leave free in their grooves.
fn inside(worked: &WorkedJob, joints: &[usize]) -> Vec<usize> {
    let mut parts: Vec<usize> = joints
        .iter()
        .filter_map(|j| worked.joints.get(*j))
        .filter(|joint| joint.traits.frees_panel)
        .filter_map(|joint| joint.parts.first().copied())
        .collect();
    parts.sort_unstable();
    parts.dedup();
    parts
}

/// Takes away what was measured already on a ring that is closed since.
fn measured_once(steps: &mut [Step]) {
    let mut rings: Vec<[DVec3; 4]> = Vec::new();
    for step in steps {
        let Some(check) = step.check else { continue };
        if rings.contains(&check.corners) {
            step.check = None;
            step.watch.retain(|watch| !matches!(watch, Watch::Feet | Watch::Wind));
        } else if !step.round.is_empty() {
            rings.push(check.corners);
        }
    }
}

/// Gives each joint to the one step after which it is whole: the last that closes some of
/// it.
fn settle_joints(worked: &WorkedJob, steps: &mut [Step]) {
    let mut last: Vec<Option<(usize, usize)>> = vec![None; worked.joints.len()];
    let closed = |motions: &[Motion]| motions.iter().flat_map(|one| one.joints.clone()).collect::<Vec<_>>();
    for (i, step) in steps.iter().enumerate() {
        let own = step.joints.iter().copied().chain(closed(&step.motions)).map(|joint| (joint, 0));
        let again = step.again.iter().enumerate().flat_map(|(k, repeat): (usize, &Repeat)| {
            repeat.joints.iter().copied().chain(closed(&repeat.motions)).map(move |joint| (joint, k + 1))
        });
        for (joint, turn) in own.chain(again) {
            if let Some(place) = last.get_mut(joint) {
                *place = Some((i, turn));
            }
        }
    }
    for (i, step) in steps.iter_mut().enumerate() {
        let of = |turn: usize| {
            let here = last.iter().enumerate().filter(move |(_, place)| **place == Some((i, turn)));
            here.map(|(joint, _)| joint).collect::<Vec<usize>>()
        };
        step.joints = of(0);
        for (k, repeat) in step.again.iter_mut().enumerate() {
            repeat.joints = of(k + 1);
        }
    }
}
