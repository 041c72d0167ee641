//! Cuts of different joints that run into one another in one part.

use super::measuring::{TOUCH, range};
use super::parting::Pair;
use super::twice;
use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, Stage, WorkedJob, WorkedPart, corners};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::{Problem, wording};
use crate::solid::{Prism, carve};

/// Less wood than this both cuts take is rounding, mm3.
const LEAST: f64 = 1.0;

/// What a cut is to others it may meet.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Class {
    /// Sunk for a tenon, connector or screw: nothing else may come there.
    Pocket,
    /// A channel along the part: may cross other channels.
    Channel,
    /// A hole, slot or notch.
    Hole,
    /// Sawn or shaped away: nothing is left to collide in.
    Saw,
}

/// Two cuts of one part that meet.
struct Meet<'a> {
    part: &'a WorkedPart,
    earlier: &'a Cut,
    later: &'a Cut,
    /// How far they run into one another, mm.
    by: f64,
}

/// A problem for every two joints whose cuts collide; joints in `doubled` are
/// told elsewhere.
pub(super) fn check(job: &Job, worked: &WorkedJob, doubled: &[(usize, usize)]) -> Vec<Problem> {
    let mut worst: Vec<Meet<'_>> = Vec::new();
    for part in &worked.parts {
        for (k, later) in part.cuts.iter().enumerate() {
            for earlier in part.cuts.iter().take(k) {
                let Some(by) = collide(worked, part, earlier, later, doubled) else { continue };
                let meet = Meet { part, earlier, later, by };
                // Two joints that meet many times are told once, at the worst.
                match worst.iter_mut().find(|m| m.same(&meet)) {
                    Some(known) if known.by >= by => {}
                    Some(known) => *known = meet,
                    None => worst.push(meet),
                }
            }
        }
    }
    worst.iter().map(|meet| meet.told(job, worked)).collect()
}

/// How far two cuts of a part run into one another where they should not, mm.
fn collide(
    worked: &WorkedJob,
    part: &WorkedPart,
    a: &Cut,
    b: &Cut,
    doubled: &[(usize, usize)],
) -> Option<f64> {
    if a.joint == b.joint {
        return None;
    }
    let joint = |cut: &Cut| cut.joint.and_then(|j| worked.joints.get(j));
    let one_pair = joint(a).zip(joint(b)).is_some_and(|(a, b)| twice::shared(a, b).is_some());
    let told = a.joint.zip(b.joint).is_some_and(|(a, b)| doubled.contains(&(a.min(b), a.max(b))));
    let wrong = match (place(a), place(b)) {
        (Class::Saw, _)
        | (_, Class::Saw)
        | (Class::Hole, Class::Hole | Class::Channel)
        | (Class::Channel, Class::Hole) => false,
        (Class::Channel, Class::Channel) => back_to_back(part, a, b),
        // A screw through the floor of a housing joins the same two parts.
        (Class::Pocket, Class::Channel) | (Class::Channel, Class::Pocket) => !one_pair,
        (Class::Pocket, _) | (_, Class::Pocket) => true,
    };
    if !wrong || told {
        return None;
    }
    let by = depth(part, &a.shape, &b.shape);
    (by > TOUCH && both_take(part, a, b) > LEAST).then_some(by)
}

/// The class of a cut where it lies: a slot or hole of a joint has a button, screw or spigot
/// in it, one that is only shaped has nothing.
fn place(cut: &Cut) -> Class {
    match class(cut.kind) {
        Class::Hole if cut.joint.is_some() && cut.kind != CutKind::Notch => Class::Pocket,
        class => class,
    }
}

/// The class of a kind of cut.
fn class(kind: CutKind) -> Class {
    match kind {
        CutKind::Mortise
        | CutKind::ConnectorPocket
        | CutKind::AccessHole
        | CutKind::ScrewHole
        | CutKind::ScrewPocket
        | CutKind::Counterbore
        | CutKind::Countersink
        | CutKind::HingeCup
        | CutKind::FittingHole
        | CutKind::DowelHole
        | CutKind::PegHole
        | CutKind::BiscuitSlot
        | CutKind::OpenMortise => Class::Pocket,
        CutKind::Housing | CutKind::Groove | CutKind::Rebate | CutKind::Halving => Class::Channel,
        CutKind::Hole | CutKind::Slot | CutKind::Notch => Class::Hole,
        CutKind::Mitre
        | CutKind::Bevel
        | CutKind::Taper
        | CutKind::Chamfer
        | CutKind::RoundOver
        | CutKind::Moulding
        | CutKind::Outline
        | CutKind::Shoulder
        | CutKind::FingerSocket
        | CutKind::PinSocket
        | CutKind::TailSocket
        | CutKind::Kerf => Class::Saw,
    }
}

/// Whether two channels come from opposite faces of the part.
fn back_to_back(part: &WorkedPart, a: &Cut, b: &Cut) -> bool {
    let open = |cut: &Cut| {
        let (lo, hi) = range(&corners(&cut.shape), DVec3::Z);
        (lo < TOUCH, hi > part.size.z - TOUCH)
    };
    matches!((open(a), open(b)), ((true, false), (false, true)) | ((false, true), (true, false)))
}

/// How far the boxes round two cuts reach into one another inside the blank,
/// mm; negative where they stand apart.
fn depth(part: &WorkedPart, a: &Prism, b: &Prism) -> f64 {
    let blank = corners(&Prism::cuboid(DVec3::ZERO, part.size));
    let (pa, pb) = (corners(a), corners(b));
    let axes = [DVec3::X, DVec3::Y, DVec3::Z, a.at.x, a.at.y, a.at.z, b.at.x, b.at.y, b.at.z];
    let shared = axes.into_iter().map(|axis| {
        let ranges = [range(&blank, axis), range(&pa, axis), range(&pb, axis)];
        let (lo, hi) = ranges
            .iter()
            .fold((f64::NEG_INFINITY, f64::INFINITY), |(lo, hi), (l, h)| (lo.max(*l), hi.min(*h)));
        hi - lo
    });
    shared.fold(f64::INFINITY, f64::min)
}

/// Wood that both cuts would take of the sawn part, mm3: what each takes alone
/// less what they take together. Nothing where that cannot be told.
fn both_take(part: &WorkedPart, a: &Cut, b: &Cut) -> f64 {
    let sawn: Vec<Prism> =
        part.cuts.iter().filter(|c| class(c.kind) == Class::Saw).map(|c| c.shape.clone()).collect();
    let left = |more: &[&Cut]| {
        let all: Vec<Prism> = sawn.iter().cloned().chain(more.iter().map(|c| c.shape.clone())).collect();
        carve(&part.body, &all).ok().map(|solid| solid.volume())
    };
    let taken = || Some(left(&[])? - left(&[a])? - left(&[b])? + left(&[a, b])?);
    taken().unwrap_or(0.0)
}

impl Meet<'_> {
    /// Whether the same two joints meet here; shapings are told by their place.
    fn same(&self, other: &Self) -> bool {
        let key = |cut: &Cut| (cut.joint, cut.joint.is_none().then_some(cut.origin));
        key(self.earlier) == key(other.earlier) && key(self.later) == key(other.later)
    }

    /// A cut that is made after the glue-up and meets a tenon glued in.
    fn at_a_tenon(&self) -> Option<(&Cut, &Cut)> {
        let pairs = [(self.later, self.earlier), (self.earlier, self.later)];
        pairs.into_iter().find(|(cut, mortise)| {
            mortise.kind == CutKind::Mortise
                && mortise.stage == Stage::Loose
                && cut.stage == Stage::AfterGlueUp
        })
    }

    /// A rebate that is cut before the glue-up, where the mortise is still open.
    fn is_rebate_at_a_mortise(&self) -> bool {
        let kinds = [self.earlier.kind, self.later.kind];
        kinds.contains(&CutKind::Rebate) && kinds.contains(&CutKind::Mortise)
    }

    /// What is said of it.
    fn told(&self, job: &Job, worked: &WorkedJob) -> Problem {
        let by = LengthStyle::of(job.unit).text(self.by);
        let name = &self.part.name;
        let of = |cut: &Cut| self.named(worked, cut, cut.kind.name());
        let problem = if let Some((cut, mortise)) = self.at_a_tenon() {
            let message = format!(
                "in `{name}` the {}, made after the glue-up, cuts {by} into the {}",
                of(cut),
                self.named(worked, mortise, "tenon")
            );
            Problem::warning("rebate-cuts-tenon", message)
                .help("make the tenon narrower or shorter, or move it away with `offset` and `toward`")
        } else {
            return self.collided(job, worked);
        };
        problem.at(self.later.origin).place(self.earlier.origin.user, "the other cut").part(name.clone())
    }

    /// What is said of two that are both cut in the open part: which they are, how far and
    /// along which line they stand in one another, and what parts them.
    fn collided(&self, job: &Job, worked: &WorkedJob) -> Problem {
        let (name, cuts) = (&self.part.name, [self.earlier, self.later]);
        let pair = Pair { job, worked, part: self.part, cuts };
        let apart = pair.apart();
        let by = LengthStyle::of(job.unit).text(apart.by);
        let named = cuts.map(|cut| self.named(worked, cut, cut.kind.name()));
        let [earlier, later] = &named;
        let word = |cut: &Cut| {
            let word = cut.joint.and_then(|j| worked.joints.get(j)).map(|joint| joint.word);
            word.filter(|word| *word != cut.kind.name()).map_or_else(String::new, |w| format!(" (`{w}`)"))
        };
        let message = format!(
            "in `{name}` the {earlier}{} and the {later}{} run {by} into one another {}",
            word(self.earlier),
            word(self.later),
            apart.line
        );
        let mut problem = Problem::error("cuts-collide", message).at(self.later.origin);
        if let Some(place) = problem.places.first_mut() {
            place.label = format!("the {later}");
        }
        let other = self.earlier.origin;
        if other.user != self.later.origin.user {
            problem = problem.place(other.user, format!("the {earlier}"));
        }
        if let Some(span) = other.library.filter(|span| Some(*span) != self.later.origin.library) {
            problem = problem.place(span, format!("the {earlier}, in the furniture library"));
        }
        problem.help(self.cure(&pair, [earlier, later])).part(name.clone())
    }

    /// What would keep the two apart.
    fn cure(&self, pair: &Pair<'_>, named: [&str; 2]) -> String {
        if self.is_rebate_at_a_mortise() {
            return "cut the rebate when the frame is glued, `after_glue_up(|| rebate(…))`, as a router does"
                .into();
        }
        let ways = pair.ways(named);
        if ways.is_empty() {
            return "move one past the other, make one of them smaller, or leave it out".into();
        }
        format!("{}; a little more leaves wood between them", ways.join(", or "))
    }

    /// ``mortise for `Shelf` ``, or `hole` alone where it joins nothing.
    fn named(&self, worked: &WorkedJob, cut: &Cut, kind: &str) -> String {
        let parts = cut.joint.and_then(|j| worked.joints.get(j)).map_or(&[][..], |j| &j.parts);
        let names: Vec<&str> = parts
            .iter()
            .filter_map(|p| worked.parts.get(*p))
            .map(|p| p.name.as_str())
            .filter(|n| *n != self.part.name)
            .collect();
        if names.is_empty() { kind.to_owned() } else { format!("{kind} for {}", wording::all_of(names)) }
    }
}
