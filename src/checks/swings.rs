//! Hinges against the weight of their door and its lever.

use super::figures::screws::screw_withdrawal;
use super::figures::tipping::GRAVITY;
use crate::geometry::DVec3;
use crate::joinery::{Bearing, Opening, WorkedJob, WorkedJoint, bearing, density_of, hinges_for, wood};
use crate::measure::{LengthStyle, mass, number};
use crate::model::Job;
use crate::problem::Problem;

/// Cubic millimetres to the cubic metre.
const CUBIC_METRE: f64 = 1e9;
/// Hinges stand upright where their axis does: the cosine.
const UPRIGHT: f64 = 0.9;

/// A door on its hinges.
struct Door<'d> {
    name: &'d str,
    /// kg.
    mass: f64,
    /// Its reach across from the axis, and up, mm.
    wide: f64,
    high: f64,
}

/// Advice on each door with too few hinges, or whose hinges pull out.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    worked.joints.iter().filter_map(|joint| of_joint(job, worked, joint)).collect()
}

fn of_joint(job: &Job, worked: &WorkedJob, joint: &WorkedJoint) -> Option<Problem> {
    let fitting = bearing(joint)?;
    let (Bearing::CupHinges(count) | Bearing::ButtHinges(count)) = fitting else { return None };
    let Some(Opening::Swings { about, axis, .. }) = joint.opens else { return None };
    if axis.z.abs() < UPRIGHT {
        return None;
    }
    let door = door(job, worked, joint, about)?;
    let needs = hinges_for(door.high, door.mass);
    let show = |mm: f64| LengthStyle::of(job.unit).text(mm.round());
    if u32::try_from(count).is_ok_and(|count| count < needs) {
        let message = format!(
            "`{}` is {} high, weighs {} and hangs on {count} hinges; it needs {needs}",
            door.name,
            show(door.high),
            mass(door.mass)
        );
        let help = format!("`count: {needs}` (trade planning sheets: common practice, no source)");
        return Some(Problem::advice("too-few-hinges", message).at(joint.origin).help(help));
    }
    let Bearing::ButtHinges(_) = fitting else { return None };
    pulls_out((job, worked), joint, &door, show)
}

/// What moves with the leaf.
fn door<'d>(job: &Job, worked: &'d WorkedJob, joint: &WorkedJoint, about: DVec3) -> Option<Door<'d>> {
    let leaf = *joint.parts.first()?;
    let moving = worked.moving_with(leaf);
    let parts = || moving.iter().filter_map(|part| worked.parts.get(*part));
    let weigh = |part: &crate::joinery::WorkedPart| {
        part.solid.volume() * density_of(job.stock.get(part.stock.0)) / CUBIC_METRE
    };
    let points = parts().flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p)));
    let (low, high) =
        points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)));
    let across = (high.x - about.x).abs().max((low.x - about.x).abs());
    Some(Door {
        name: worked.parts.get(leaf)?.name.as_str(),
        mass: parts().map(weigh).sum(),
        wide: across,
        high: high.z - low.z,
    })
}

/// Screws of the top hinge that the weight of the door draws out.
fn pulls_out(
    (job, worked): (&Job, &WorkedJob),
    joint: &WorkedJoint,
    door: &Door<'_>,
    show: impl Fn(f64) -> String,
) -> Option<Problem> {
    let screws = joint.inserts.iter().find_map(|insert| Some((insert, insert.item.screw()?)));
    let (insert, (wide, long)) = screws?;
    let heights = insert.at.iter().map(|at| at.origin.z);
    let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
    let lever = high - low;
    let upper = insert.at.iter().filter(|at| at.origin.z > f64::midpoint(low, high)).count() / 2;
    if lever <= 0.0 || upper == 0 {
        return None;
    }
    let pull = door.mass * GRAVITY * 0.5 * door.wide / lever / upper as f64;
    let stock = |part: &usize| worked.parts.get(*part).and_then(|part| job.stock.get(part.stock.0));
    let gravity = joint.parts.iter().map(|part| wood(stock(part)).0).fold(f64::INFINITY, f64::min);
    let bears = screw_withdrawal(gravity, wide) * long;
    if pull <= bears {
        return None;
    }
    let message = format!(
        "the upper hinge of `{}` pulls its screws {} × {} with {} N each, and they hold {} N",
        door.name,
        show(wide),
        show(long),
        number(pull, 0),
        number(bears.floor(), 0)
    );
    let help = format!(
        "use screws {} long, more of them with `screws`, or hinges farther apart; the door weighs {} (an estimate: statics, National Design Specification 2018, 12.2-2)",
        show((long * pull / bears).ceil()),
        mass(door.mass)
    );
    Some(Problem::advice("hinge-pulls-out", message).at(joint.origin).help(help))
}
