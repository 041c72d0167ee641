//! What hangs a piece, against its weight, what lies in it, and their lever: an estimate.

use super::figures::beams::rod_stress;
use super::figures::screws::Hold;
use crate::joinery::{Bearing, Burden, WorkedJob, WorkedJoint, bearing, burden, wood};
use crate::measure::{LengthStyle, force, number};
use crate::model::{Job, Load, PieceId};
use crate::problem::Problem;
use crate::timber::screws::together;

/// Friction of wood on wood, smooth and dry (Wood Handbook, ch. 4, the low end, from
/// memory).
const FRICTION: f64 = 0.3;
/// What steel rods bear in bending, `MPa`: yield of 235 over 1.67 (common practice, from
/// memory).
const STEEL: f64 = 140.0;
/// Rods are sold in diameters of whole so many mm.
const ROD_STEP: f64 = 2.0;

/// Advice on each cleat and bracket that bears too little.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let of_joint = |joint: &WorkedJoint| match bearing(joint)? {
        Bearing::Screws { count, size, deep } => held(job, worked, joint, &Screws { count, size, deep }),
        Bearing::Bevel(bevel) => lets_go(job, worked, joint, bevel),
        Bearing::Rods { thick, .. } => droops(job, worked, joint, thick),
        Bearing::CupHinges(_) | Bearing::ButtHinges(_) => None,
    };
    worked.joints.iter().filter_map(of_joint).collect()
}

/// The piece a part is of.
fn piece_of(worked: &WorkedJob, part: usize) -> Option<PieceId> {
    worked.parts.get(part).map(|part| part.piece)
}

/// The part on the wall that a piece hooks on.
fn wall_half(worked: &WorkedJob, piece: PieceId) -> Option<usize> {
    let hooked = worked.joints.iter().filter(|joint| joint.traits.hooks_on && !joint.ways_in.is_empty());
    hooked
        .filter_map(|joint| joint.parts.first().copied())
        .find(|part| piece_of(worked, *part) == Some(piece))
}

/// What is taken to lie in and on it, in words.
fn assumed(job: &Job, burden: &Burden) -> String {
    let load = match job.load {
        Some(Load::Books) => "books",
        Some(Load::General) => "general",
        Some(Load::Light) => "light",
        None => "general, assumed",
    };
    format!("it weighs {} kg and bears {} N ({load})", number(burden.mass, 1), number(burden.load, 0))
}

/// Screws of a strip: how many, diameter and length, how far they go in, mm.
struct Screws {
    count: usize,
    size: [f64; 2],
    deep: f64,
}

/// Screws of the strip that bear less than hangs on them.
fn held(job: &Job, worked: &WorkedJob, joint: &WorkedJoint, screws: &Screws) -> Option<Problem> {
    let [strip, part] = *joint.parts.as_slice() else { return None };
    let piece = piece_of(worked, strip)?;
    let burden = burden(job, worked, piece, wall_half(worked, piece));
    let high = joint.inserts.first()?.at.first()?.origin.z;
    let stock = worked.parts.get(part).and_then(|part| job.stock.get(part.stock.0));
    let (gravity, softwood) = wood(stock);
    let hold = Hold { wide: screws.size[0], deep: screws.deep, gravity, softwood };
    let count = screws.count as f64;
    let (pull, across) = (burden.pull(high) / count, burden.weight() / count);
    let (asked, bears) = (together(pull, across), hold.bears(pull, across));
    if asked <= bears {
        return None;
    }
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let name = &job.pieces.get(piece.0)?.name;
    let message = format!(
        "the {} screws {} × {} of the cleat of `{name}` carry {} N each, and bear {} N",
        screws.count,
        show(screws.size[0]),
        show(screws.size[1]),
        number(asked, 0),
        number(bears.floor(), 0)
    );
    let needs = (count * asked / bears).ceil();
    let help = format!(
        "use {} or more of them with `spacing`, or hang it by a thicker part, so that longer ones hold; {} (an estimate: National Design Specification 2018, 12.2-2 and 12.4-1, Wood Handbook ch. 8; `shelf_load` says what it bears)",
        number(needs, 0),
        assumed(job, &burden)
    );
    Some(Problem::advice("screws-too-weak", message).at(joint.origin).help(help))
}

/// A bevel so shallow that the pull of a deep piece slides it off.
fn lets_go(job: &Job, worked: &WorkedJob, joint: &WorkedJoint, bevel: f64) -> Option<Problem> {
    let wall = *joint.parts.first()?;
    let strip = worked.parts.get(*joint.parts.get(1)?)?;
    let burden = burden(job, worked, strip.piece, Some(wall));
    let high = strip.at.point(strip.size * 0.5).z;
    // The wall half pushes square to its bevel: what it draws in is the weight times the
    // tangent, and friction adds its angle.
    let steepest = libm::atan(FRICTION);
    let draws = burden.weight() * libm::tan(bevel.to_radians() + steepest);
    let pull = burden.pull(high);
    let name = &job.pieces.get(strip.piece.0)?.name;
    if pull <= draws {
        return None;
    }
    let message = format!(
        "`{name}` can slide up its cleat and off: it pulls with {} N, and a bevel of {bevel}° holds {} N",
        number(pull, 0),
        number(draws, 0)
    );
    let needs = (libm::atan(pull / burden.weight()) - steepest).to_degrees().ceil();
    let help = if needs <= 60.0 {
        format!("use a bevel of {}° or more, or set the cleat higher; ", number(needs, 0))
    } else {
        "set the cleat higher over its foot, or screw it to the wall below too; ".to_owned()
    };
    let help = format!("{help}{} (statics, friction {FRICTION})", assumed(job, &burden));
    Some(Problem::advice("cleat-lets-go", message).at(joint.origin).help(help))
}

/// Rods that bend under a shelf.
fn droops(job: &Job, worked: &WorkedJob, joint: &WorkedJoint, thick: f64) -> Option<Problem> {
    let part = worked.parts.get(*joint.parts.first()?)?;
    let burden = burden(job, worked, part.piece, None);
    let brackets = worked.joints.iter().filter_map(|other| match bearing(other)? {
        Bearing::Rods { count, .. } => {
            (piece_of(worked, *other.parts.first()?) == Some(part.piece)).then_some(count)
        }
        _ => None,
    });
    let count = brackets.sum::<usize>().max(1) as f64;
    let moment = burden.weight() / count * burden.out;
    let stress = rod_stress(moment, thick);
    if stress <= STEEL {
        return None;
    }
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let message = format!(
        "the rods of `{}` bend: {} each strain them to {}, more than {}",
        part.name,
        force::moment(job.unit, moment / 1000.0, 1),
        force::stress(job.unit, stress),
        force::stress(job.unit, STEEL)
    );
    let thicker = (thick * (stress / STEEL).cbrt() / ROD_STEP).ceil() * ROD_STEP;
    let help = format!(
        "use {} of them, or rods {} thick in a thicker board; {} (statics; mild steel, common practice)",
        number((count * stress / STEEL).ceil(), 0),
        show(thicker),
        assumed(job, &burden)
    );
    Some(Problem::advice("rods-bend", message).at(joint.origin).help(help))
}
