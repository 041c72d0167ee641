//! What joints sink into shaped parts and does not stay within their wood, and tenons
//! that a shaping cuts into. Joints see the box a part is cut from; this sees the part.

use super::measuring::{TOUCH, range};
use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, WorkedJob, WorkedJoint, WorkedPart, corners};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::Problem;
use crate::solid::{Body, Prism, Wood, carve};

/// Places along the depth of a pocket that are looked at.
const LOOKS: u32 = 24;
/// A pocket that is nearer than this to its bottom lies on it, mm.
const BOTTOM: f64 = 0.05;
/// So far behind its shoulder a tenon must have wood to stand on, mm.
const BEHIND: f64 = 1.0;
/// Least share of its depth that must lie in wood: the rest may begin in the air, where
/// it is sunk into a round or a slope.
const LEAST: f64 = 0.5;
/// The same of a mortise, which may be chopped in a face before that is tapered: its joint
/// sees to how deep the tenon stands in what is left.
const LEAST_MORTISE: f64 = 0.2;

/// An error for each joint whose pocket leaves the wood of a shaped part, or whose
/// tenon a shaping has cut into.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let show = |mm: f64| LengthStyle::of(job.unit).text(mm);
    let mut found: Vec<(Option<usize>, Problem)> = Vec::new();
    let mut keep = |joint: Option<usize>, problem: Problem| {
        // Of a row of holes that leave the wood the first is enough.
        if !found.iter().any(|(known, other)| *known == joint && other.code == problem.code) {
            found.push((joint, problem));
        }
    };
    for part in worked.parts.iter().filter(|part| is_shaped(part)) {
        let sawn = wood(part, |cut| !is_pocket(cut.kind));
        for cut in part.cuts.iter().filter(|cut| is_pocket(cut.kind) && is_blind(part, cut)) {
            if let Some(held) = sawn.as_ref().and_then(|wood| Held::of(part, wood, cut)) {
                keep(cut.joint, held.problem(worked, &show));
            }
        }
    }
    for (index, joint) in worked.joints.iter().enumerate() {
        if let Some(problem) = short_tenon(worked, joint, index, &show) {
            keep(Some(index), problem);
        }
    }
    found.into_iter().map(|(_, problem)| problem).collect()
}

/// Whether a part is another than the box its joints were set out on.
fn is_shaped(part: &WorkedPart) -> bool {
    // What is sunk into a mitre is set out from that, whatever lies beyond it.
    let sloped = |cut: &Cut| matches!(cut.kind, CutKind::Outline | CutKind::Taper | CutKind::Bevel);
    matches!(part.body, Body::Turning(_)) || part.cuts.iter().any(sloped)
}

/// Whether a cut shapes its part rather than joins it.
fn shapes(cut: &Cut) -> bool {
    cut.joint.is_none() && matches!(cut.kind, CutKind::Outline | CutKind::Taper | CutKind::Bevel)
}

/// Whether a cut is sunk for something that goes into it.
fn is_pocket(kind: CutKind) -> bool {
    matches!(
        kind,
        CutKind::Mortise
            | CutKind::ConnectorPocket
            | CutKind::ScrewHole
            | CutKind::HingeCup
            | CutKind::FittingHole
            | CutKind::DowelHole
            | CutKind::BiscuitSlot
    )
}

/// Cosine over which a pocket is sunk square to a face of its part.
const SQUARE: f64 = 0.9999;

/// Whether a pocket is sunk square to a face of its part.
fn is_square(cut: &Cut) -> bool {
    [DVec3::X, DVec3::Y, DVec3::Z].iter().any(|axis| cut.shape.at.z.dot(*axis).abs() > SQUARE)
}

/// Whether a pocket ends within the box of its part: what goes through is meant to.
fn is_blind(part: &WorkedPart, cut: &Cut) -> bool {
    cut.joint.is_some() && !ends(part, &cut.shape).is_empty()
}

/// Whether the section of a pocket at a place along it lies within the box of its part.
fn is_boxed(part: &WorkedPart, shape: &Prism, at: f64) -> bool {
    let cap = Prism { from: at, to: at, ..shape.clone() };
    let points = corners(&cap);
    [DVec3::X, DVec3::Y, DVec3::Z].into_iter().all(|axis| {
        let (low, high) = range(&points, axis);
        low > TOUCH && high < part.size.dot(axis) - TOUCH
    })
}

/// The ends of a pocket that lie within the box of its part, from 0 at its beginning to
/// 1: its bottom, and its mouth as well where that lies on a sloping cut.
fn ends(part: &WorkedPart, shape: &Prism) -> Vec<f64> {
    [(shape.to, 1.0), (shape.from, 0.0)]
        .into_iter()
        .filter(|(at, _)| is_boxed(part, shape, *at))
        .map(|(_, end)| end)
        .collect()
}

/// The part with only some of its cuts.
fn wood(part: &WorkedPart, with: impl Fn(&Cut) -> bool) -> Option<Wood> {
    let cuts: Vec<Prism> = part.cuts.iter().filter(|cut| with(cut)).map(|cut| cut.shape.clone()).collect();
    carve(&part.body, &cuts).ok().map(|solid| Wood::of(&solid))
}

/// How a pocket is held by the wood.
struct Held<'a> {
    part: &'a WorkedPart,
    cut: &'a Cut,
    /// How deep it is, mm.
    deep: f64,
    /// How deep it is in wood all round, from where that begins, mm.
    within: f64,
    /// How much of its bottom end stands out of the wood, mm.
    out: f64,
}

impl<'a> Held<'a> {
    /// Of a pocket that does not stay within the wood, whichever of its ends is taken
    /// for its bottom.
    fn of(part: &'a WorkedPart, wood: &Wood, cut: &'a Cut) -> Option<Self> {
        let all: Option<Vec<Self>> =
            ends(part, &cut.shape).into_iter().map(|end| Self::from_end(part, wood, cut, end)).collect();
        all?.into_iter().next()
    }

    /// Of a pocket whose bottom is at an end.
    fn from_end(part: &'a WorkedPart, wood: &Wood, cut: &'a Cut, end: f64) -> Option<Self> {
        let shape = &cut.shape;
        let whole = shape.to - shape.from;
        // From its bottom to its mouth.
        let at = |back: f64| if end > 0.5 { shape.to - back } else { shape.from + back };
        // One that leans has a mouth that leans too, with as much air before it as it is
        // high: it is looked at from where it is in the part all round.
        let boxed = |k: &u32| is_boxed(part, shape, at(whole * f64::from(*k) / f64::from(LOOKS)));
        let steps = if is_square(cut) { LOOKS } else { (0..=LOOKS).take_while(boxed).last().unwrap_or(0) };
        let deep = whole * f64::from(steps) / f64::from(LOOKS);
        let least = if cut.kind == CutKind::Mortise { LEAST_MORTISE } else { LEAST };
        let full = |back: f64| wood.lacks(shape, at(back)).is_none();
        let step = deep / f64::from(LOOKS);
        let place = |k: u32| (step * f64::from(k)).max(BOTTOM).min(deep - BOTTOM);
        // The usual pocket lies in wood at its bottom and half way out, and no more is
        // looked at.
        if deep < 2.0 * BOTTOM || (full(BOTTOM) && full(least * deep)) {
            return None;
        }
        let wooded: Vec<bool> = (0..=LOOKS).map(|k| full(place(k))).collect();
        let out = wooded.iter().position(|full| *full).map_or(deep, |k| step * (k as f64));
        let within = wooded.iter().filter(|full| **full).count().saturating_sub(1) as f64 * step;
        (out > 0.0 || within < least * deep).then_some(Self {
            part,
            cut,
            deep,
            within: within.min(deep),
            out,
        })
    }

    /// What is said of it.
    fn problem(&self, worked: &WorkedJob, show: &dyn Fn(f64) -> String) -> Problem {
        let name = &self.part.name;
        let what = named(worked, self.part, self.cut);
        let (out, deep) = (show(self.out), show(self.deep));
        let (message, help) = if self.within <= 0.0 {
            (
                format!("in `{name}` the {what} lies in no wood: that is cut away by its shape"),
                format!("move the joint to where `{name}` has wood, or shape it less there"),
            )
        } else if self.out > 0.0 {
            (
                format!("in `{name}` the {what} leaves the wood: {out} of its {deep} are outside its shape"),
                format!("make it at least {out} shallower, move it, or shape `{name}` less there"),
            )
        } else {
            (
                format!("in `{name}` only {} of the {deep} of the {what} lie in wood", show(self.within)),
                format!("move the joint to where `{name}` has wood, or give it a flat to stand on"),
            )
        };
        Problem::error("leaves-the-wood", message).at(self.cut.origin).help(help).part(name.clone())
    }
}

/// ``mortise for `Rail` ``.
fn named(worked: &WorkedJob, part: &WorkedPart, cut: &Cut) -> String {
    let joint = cut.joint.and_then(|j| worked.joints.get(j));
    let parts = joint.map_or(&[][..], |j| &j.parts);
    let others = parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.name.as_str());
    let others: Vec<&str> = others.filter(|n| *n != part.name).collect();
    if others.is_empty() {
        return cut.kind.name().to_owned();
    }
    format!("{} for {}", cut.kind.name(), crate::problem::wording::all_of(others))
}

/// A tenon that the shape of its part cuts into: what goes into a mortise is less than
/// it would be unshaped.
fn short_tenon(
    worked: &WorkedJob,
    joint: &WorkedJoint,
    index: usize,
    show: &dyn Fn(f64) -> String,
) -> Option<Problem> {
    let [rail, member] = [0, 1].map(|k| joint.parts.get(k).and_then(|p| worked.parts.get(*p)));
    let (rail, member) = (rail?, member?);
    if !rail.cuts.iter().any(shapes) {
        return None;
    }
    let mortises = member.cuts.iter().filter(|c| c.joint == Some(index) && c.kind == CutKind::Mortise);
    // A loose tenon is no wood of the rail.
    let own = rail.cuts.iter().any(|c| c.joint == Some(index) && c.kind == CutKind::Shoulder);
    let mut mortises = mortises.filter(|_| own).peekable();
    mortises.peek()?;
    let (plain, shaped) = (wood(rail, |cut| !shapes(cut))?, wood(rail, |_| true)?);
    let lost = |cut: &Cut| {
        let shape = cut.shape.within(&member.at).seen_from(&rail.at);
        let middle = 0.5 * (shape.from.max(shape.to - member.size.max_element()) + shape.to);
        // In the mortise, and behind either end of it, where a shoulder may be.
        let places = [shape.from - BEHIND, shape.from + TOUCH, middle, shape.to - TOUCH, shape.to + BEHIND];
        places
            .into_iter()
            .filter_map(|at| plain.beyond(&shaped, &shape, at))
            .max_by(|a, b| a.area.total_cmp(&b.area))
    };
    let lost = mortises.filter_map(lost).max_by(|a, b| a.area.total_cmp(&b.area))?;
    let (name, other) = (&rail.name, &member.name);
    let by = show(lost.area / lost.size.min_element().max(TOUCH));
    let message = format!("the shape of `{name}` cuts {by} off its tenon in `{other}`");
    Some(
        Problem::error("leaves-the-wood", message)
            .at(joint.origin)
            .help(format!(
                "let the shape leave `{name}` whole where its tenon is, or move the tenon with `shoulder` or `offset`"
            ))
            .part(name.clone())
            .part(other.clone()),
    )
}
