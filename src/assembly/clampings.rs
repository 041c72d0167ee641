//! Additions gathered into what is done at one time: glue-ups as clampings, and fittings
//! alike at once.

use super::blocking::Blocking;
use super::motion::{closes, joints, way};
use super::search::{Addition, Body};
use super::tolerance::SAME_WAY;
use crate::geometry::DVec3;
use crate::joinery::{TakesUp, WorkedJob, WorkedJoint};
use crate::model::Glue;

/// Most dry moves of one step: more cannot be told apart in one picture (common
/// practice, no source).
const AT_ONCE: usize = 12;

/// Time to set clamps once all is spread, minutes (common practice, no source).
const TO_CLAMP: f64 = 2.0;

/// What is done at one time.
pub(super) struct Clamped<'b> {
    /// Its additions in order.
    pub(super) adds: Vec<&'b Addition>,
    /// Whether glue is spread.
    pub(super) glued: bool,
    /// Whether it is a ring of mitres that close all at once.
    pub(super) ring: bool,
    /// Whether more of the same glue-up follows when it has set, because the glue does not
    /// stay open for all.
    pub(super) staged: bool,
}

/// Time to spread and close so many joints, minutes.
pub(super) fn takes(glue: &Glue, joints: usize) -> f64 {
    glue.rate() * joints as f64 + TO_CLAMP
}

/// How many places some joints glue: a mitre and the tenon in it close as one.
pub(super) fn places<'j>(joints: impl Iterator<Item = &'j WorkedJoint>) -> usize {
    let sorted = |joint: &WorkedJoint| {
        let mut parts = joint.parts.clone();
        parts.sort_unstable();
        parts
    };
    let mut all: Vec<Vec<usize>> = joints.map(sorted).collect();
    all.sort_unstable();
    all.dedup();
    all.len()
}

/// What is read of the job while additions are gathered.
pub(super) struct Gatherer<'j> {
    pub(super) worked: &'j WorkedJob,
    pub(super) blocking: &'j Blocking,
    pub(super) glue: &'j Glue,
}

impl Gatherer<'_> {
    /// The additions of a body, gathered.
    pub(super) fn gather<'b>(&self, body: &'b Body) -> Vec<Clamped<'b>> {
        let mut found: Vec<Clamped<'b>> = Vec::new();
        for add in &body.adds {
            let glued = self.glued(add).next().is_some();
            let alike = |last: &&mut Clamped<'b>| last.glued == glued && self.belongs(last, add);
            if let Some(last) = found.last_mut().filter(alike) {
                if self.has_time(last, add) {
                    self.join(&mut found, add, 0);
                } else {
                    last.staged = true;
                    found.push(Clamped { adds: vec![add], glued, ring: false, staged: false });
                }
                continue;
            }
            // What is only slipped in between belongs to the glue-up that shuts it in.
            let slipped = found.iter().rev().take_while(|one| !one.glued).count();
            let before = found.len() - slipped;
            let shuts = glued
                && slipped > 0
                && before > 0
                && found.get(before - 1).is_some_and(|last| self.belongs(last, add));
            let in_time = shuts && found.get(before - 1).is_some_and(|last| self.has_time(last, add));
            // What follows only when this has set holds it meanwhile, dry.
            if shuts
                && !in_time
                && let Some(last) = found.get_mut(before - 1)
            {
                last.staged = true;
            }
            if in_time {
                self.join(&mut found, add, slipped);
            } else if glued && slipped > 0 && before == 0 && found.iter().all(|one| self.only_panels(one)) {
                // A panel laid in its grooves holds nothing yet: it waits for the glue.
                let adds = found.drain(..).flat_map(|one| one.adds).chain([add]).collect();
                found.push(Clamped { adds, glued, ring: false, staged: false });
            } else {
                found.push(Clamped { adds: vec![add], glued, ring: false, staged: false });
            }
        }
        found
    }

    /// Whether all that is fitted is panels in their grooves.
    fn only_panels(&self, one: &Clamped<'_>) -> bool {
        let of = |add: &&Addition| {
            let joints = joints(self.blocking, add);
            let mut found = joints.iter().filter_map(|j| self.worked.joints.get(*j));
            !joints.is_empty() && found.all(|joint| joint.traits.frees_panel)
        };
        one.adds.iter().all(of)
    }

    /// Adds to the last glue-up, with what was slipped in since.
    fn join<'b>(&self, found: &mut Vec<Clamped<'b>>, add: &'b Addition, slipped: usize) {
        let between: Vec<Clamped<'b>> = found.split_off(found.len() - slipped);
        let Some(last) = found.last_mut() else { return };
        last.adds.extend(between.into_iter().flat_map(|one| one.adds));
        last.ring = last.glued
            && (last.ring || last.adds.len() == 1 || slipped > 0)
            && self.mitred(add)
            && last.adds.iter().all(|one| !self.has_glue(one) || self.mitred(one));
        last.adds.push(add);
    }

    fn has_glue(&self, add: &Addition) -> bool {
        self.glued(add).next().is_some()
    }

    /// The glued joints that an addition closes.
    fn glued<'s>(&'s self, add: &'s Addition) -> impl Iterator<Item = &'s WorkedJoint> {
        let joints = joints(self.blocking, add).into_iter();
        joints.filter_map(|j| self.worked.joints.get(j)).filter(|joint| joint.glued)
    }

    /// Whether all glue of an addition is in mitres, its own made-up part too, and two of
    /// its parts at most meet at each.
    pub(super) fn mitred(&self, add: &Addition) -> bool {
        let mut any = false;
        let joints = joints(self.blocking, add);
        let found = joints.iter().filter_map(|j| self.worked.joints.get(*j)).filter(|joint| joint.glued);
        let mut pairs: Vec<(&[usize], bool)> = Vec::new();
        for joint in found {
            any = true;
            let slope = joint.traits.is_drawn_together || matches!(joint.traits.takes_up, TakesUp::Slope);
            match pairs.iter_mut().find(|(parts, _)| *parts == joint.parts.as_slice()) {
                // A tongue or tenon in a mitre belongs to it.
                Some(pair) => pair.1 |= slope,
                None => pairs.push((&joint.parts, slope)),
            }
        }
        any && pairs.iter().all(|(_, slope)| *slope) && add.coming.adds.iter().all(|one| self.mitred(one))
    }

    /// Whether the glue stays open for an addition too. Mitres wait for nothing: they close
    /// together or not at all; and strips rubbed on need no clamps.
    fn has_time(&self, last: &Clamped<'_>, next: &Addition) -> bool {
        let mitred =
            || self.mitred(next) && last.adds.iter().all(|one| !self.has_glue(one) || self.mitred(one));
        !last.glued || !self.holds(next) || self.in_time(last, next) || mitred()
    }

    /// Whether an addition belongs to what was gathered last.
    fn belongs(&self, last: &Clamped<'_>, next: &Addition) -> bool {
        if !last.glued {
            return self.fitted_at_once(last, next);
        }
        let pressed: Vec<&&Addition> = last.adds.iter().filter(|one| self.has_glue(one)).collect();
        if !pressed.iter().all(|one| self.of_one_kind(one, next)) {
            return false;
        }
        let line = way(self.blocking, next);
        let along = |one: &&Addition| way(self.blocking, one).dot(line).abs() > SAME_WAY;
        let parallel = pressed.iter().all(|one| along(one));
        if !self.holds(next) {
            // Strips and blocks glued on flat need no more than a rubbed joint each.
            return parallel && last.adds.len() < AT_ONCE && self.apart(last, next);
        }
        parallel
            || (self.mitred(next) && pressed.iter().all(|one| self.mitred(one)))
            || pressed.iter().any(|one| along(one))
            || self.closes_ring(last, next)
    }

    /// Whether two additions are glued by the same kind of work: joints that hold by
    /// themselves, plain faces, layers or folds.
    fn of_one_kind(&self, one: &Addition, other: &Addition) -> bool {
        let kind = |add: &Addition| {
            let any = |have: &dyn Fn(&WorkedJoint) -> bool| self.glued(add).any(have);
            (any(&|j| j.traits.is_layered), any(&|j| j.traits.folds), self.holds(add))
        };
        kind(one) == kind(other)
    }

    /// Whether a glued joint of an addition holds its parts in their place.
    pub(super) fn holds(&self, add: &Addition) -> bool {
        self.glued(add).any(|joint| {
            !joint.inserts.is_empty() || joint.traits.takes_up != TakesUp::Meeting || joint.traits.folds
        })
    }

    /// Whether an addition joins units that the last glue-up left loose at an end: without
    /// it they cannot be held square.
    fn closes_ring(&self, last: &Clamped<'_>, next: &Addition) -> bool {
        let group = next.coming.units();
        let is_glued = |joint: usize| self.worked.joints.get(joint).is_some_and(|joint| joint.glued);
        let ties = closes(self.blocking, &group, next);
        let ties = ties.iter().filter(|tie| is_glued(tie.joint));
        let mut met: Vec<usize> =
            ties.map(|tie| if group.contains(&tie.first) { tie.second } else { tie.first }).collect();
        met.sort_unstable();
        met.dedup();
        let here: Vec<usize> =
            last.adds.iter().flat_map(|one| one.coming.units().into_iter().chain(one.rest.clone())).collect();
        let loose = |unit: &usize| {
            let mut held: Vec<usize> = self
                .blocking
                .ties_between(std::slice::from_ref(unit), |other| here.contains(&other))
                .filter(|tie| is_glued(tie.joint))
                .map(|tie| if tie.first == *unit { tie.second } else { tie.first })
                .collect();
            held.sort_unstable();
            held.dedup();
            held.len() == 1
        };
        met.len() > 1 && met.iter().any(|unit| here.contains(unit) && loose(unit))
    }

    /// Whether the glue stays open for both.
    fn in_time(&self, last: &Clamped<'_>, next: &Addition) -> bool {
        let joints = last.adds.iter().copied().chain([next]).flat_map(|one| self.glued(one));
        takes(self.glue, places(joints)) <= self.glue.open()
    }

    /// Whether something is fitted dry along with others: alike, along one line, and
    /// none in the way of another.
    fn fitted_at_once(&self, last: &Clamped<'_>, next: &Addition) -> bool {
        let words = |add: &Addition| {
            let mut words: Vec<&str> = joints(self.blocking, add)
                .into_iter()
                .filter_map(|j| self.worked.joints.get(j))
                .map(|joint| joint.word)
                .collect();
            words.sort_unstable();
            words.dedup();
            (words, add.coming.adds.is_empty())
        };
        last.adds.len() < AT_ONCE
            && last.adds.iter().all(|one| words(one) == words(next))
            && self.apart(last, next)
    }

    /// Whether an addition goes along one line with those before, touching none of them.
    fn apart(&self, last: &Clamped<'_>, next: &Addition) -> bool {
        let blocking = self.blocking;
        let line: DVec3 = blocking.ways[next.off];
        let coming = next.coming.units();
        last.adds.iter().all(|one| {
            let group = one.coming.units();
            let parallel = blocking.ways[one.off].dot(line).abs() > SAME_WAY;
            let free = |a: &[usize], b: &[usize], off: usize| {
                a.iter().all(|x| b.iter().all(|y| !blocking.holds(*x, *y, off)))
            };
            parallel
                && blocking.ties_between(&group, |unit| coming.contains(&unit)).next().is_none()
                && free(&group, &coming, one.off)
                && free(&coming, &group, next.off)
        })
    }
}
