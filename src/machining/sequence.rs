//! The operations of one part, in the order a shop does them.

use super::ends::end_cuts;
use super::feature::{Feature, read};
use super::machined::Machined;
use super::of_cut::of_cut;
use super::operation::{Operation, State};
use super::rough::{layer, rough};
use super::set::tidy;
use super::setting::{Against, Setting, Task};
use super::trims::Trim;
use crate::geometry::DVec3;
use crate::joinery::{FillShape, Machine, PartSource, WorkedJob, WorkedPart, Wrap};
use crate::model::{Job, StockKind};
use crate::solid::Body;

/// What is done to part `index`, as [`Machined::operations`] says.
pub(super) fn sequence(machined: &Machined<'_>, index: usize) -> Vec<Operation> {
    let Machined { job, worked, .. } = *machined;
    let Some(part) = worked.parts.get(index).filter(|part| made_here(job, part)) else { return Vec::new() };
    if matches!(part.source, PartSource::Lipping { .. }) {
        return of_lipping(worked, part);
    }
    let whole = machined.made_up(index);
    let state = if whole.is_some() { State::Trimmed } else { State::Rough };
    let as_worked = whole.unwrap_or(part);
    let mut list = if matches!(part.body, Body::Turning(_)) {
        lathe(job, worked, part)
    } else {
        trims(machined, index, as_worked)
    };
    let cuts = read(as_worked);
    let sawn = cuts.iter().filter(|feature| !hinged(&machined.wraps, worked, as_worked, feature));
    list.extend(sawn.map(|feature| of_cut(as_worked, feature, state)));
    let long = end_cuts(as_worked).map(|ends| tidy(ends.long_point));
    for operation in list.iter_mut().filter(|operation| operation.machine == Machine::SawAngled) {
        // Mitres and bevels of an end make the length, so a stop goes with it.
        operation.long = long;
    }
    list.sort_by_key(|operation| operation.later);
    list
}

/// Whether the shop works the part: glass and bought parts come ready.
fn made_here(job: &Job, part: &WorkedPart) -> bool {
    let kind = job.stock.get(part.stock.0).map(|stock| &stock.kind);
    !matches!(kind, Some(StockKind::Glass { .. } | StockKind::Bought) | None)
}

/// Cuts of a loose strip; all others are made with the panel it is glued to.
fn of_lipping(worked: &WorkedJob, part: &WorkedPart) -> Vec<Operation> {
    let own = |feature: &&Feature| {
        let joint = part.cuts.get(feature.cut).and_then(|cut| worked.joints.get(cut.joint?));
        joint.is_some_and(|joint| joint.traits.lips)
    };
    read(part).iter().filter(own).map(|feature| of_cut(part, feature, State::Rough)).collect()
}

/// Whether a cut is a side of a V groove, which is set for the whole panel.
fn hinged(panels: &[Wrap], worked: &WorkedJob, part: &WorkedPart, feature: &Feature) -> bool {
    let joint = part.cuts.get(feature.cut).and_then(|cut| worked.joints.get(cut.joint?));
    joint.is_some_and(|joint| match *joint.parts.as_slice() {
        [a, b] => joint.traits.folds && panels.iter().any(|panel| panel.hinges(a, b)),
        _ => false,
    })
}

/// Trimming to the finished size.
fn trims(machined: &Machined<'_>, index: usize, whole: &WorkedPart) -> Vec<Operation> {
    let Machined { job, worked, .. } = *machined;
    let (Some(part), Some(rough)) = (worked.parts.get(index), rough(job, worked, index)) else {
        return Vec::new();
    };
    let folded = machined.wraps.iter().any(|panel| panel.parts.contains(&index));
    if folded {
        return Vec::new();
    }
    let lips = [DVec3::X, DVec3::Y].map(|axis| [lip(worked, index, -axis), lip(worked, index, axis)]);
    let trim = Trim {
        part: whole,
        rough,
        panel: part.size,
        lips,
        mitred: end_cuts(part).is_some(),
        layered: layer(job, index).is_some_and(|over| over > 0.0),
    };
    trim.operations()
}

/// Thickness of the lipping on the side of part `of` that looks `toward` in its own
/// coordinates, mm; 0 if there is none.
fn lip(worked: &WorkedJob, of: usize, toward: DVec3) -> f64 {
    /// Sides this near to a direction look that way, as a cosine.
    const THAT_WAY: f64 = 0.9;
    let Some(part) = worked.parts.get(of) else { return 0.0 };
    let found = worked.parts.iter().find(|other| match other.source {
        PartSource::Lipping { of: on, side } => {
            on == of && part.at.local_dir(side.normal()).dot(toward) > THAT_WAY
        }
        PartSource::Part(_) => false,
    });
    found.map_or(0.0, |lip| lip.size.z)
}

/// The profile of a turned part, then what is inlaid in it: cut while it is still
/// proud, filled, and turned flush with the rest.
fn lathe(job: &Job, worked: &WorkedJob, part: &WorkedPart) -> Vec<Operation> {
    // Of a piece that is made several times each part is one of a set too.
    let made = |other: &WorkedPart| job.pieces.get(other.piece.0).map_or(1, |piece| piece.count.max(1));
    let alike: u32 = worked.parts.iter().filter(|other| other.number == part.number).map(made).sum();
    let turned = |task, setting, against| Operation {
        state: State::Rough,
        machine: Machine::Lathe,
        later: false,
        task,
        setting,
        against,
        fence: None,
        along: None,
        stopped: None,
        long: None,
    };
    let mut list = vec![turned(Task::Profile, Setting::Diameters { matched: alike > 1 }, Against::Lathe)];
    for fill in &part.fills {
        let (width, depth) = fill.shape.size();
        let setting = Setting::Inlay { width: tidy(width), depth: tidy(depth), fill: fill.what.clone() };
        let (task, against) = match fill.shape {
            FillShape::Ring { .. } => (Task::Ring, Against::PartingTool),
            FillShape::Hollow { .. } => (Task::Hollow, Against::Gouge),
        };
        list.push(turned(task, setting, against));
    }
    list
}
