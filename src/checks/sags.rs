//! Shelves and tops that bend too far.

use super::figures::beams::{self, BOOKS, GENERAL, LIGHT, LIMIT, Stiffness, sag, span_for, thick_for};
use super::figures::tipping::GRAVITY;
use super::measuring::TOUCH;
use crate::geometry::{DVec3, Interval};
use crate::joinery::{PartSource, WorkedJob, WorkedJoint, WorkedPart};
use crate::measure::{LengthStyle, number};
use crate::model::{Job, Load};
use crate::problem::Problem;

/// A part lies flat where its thickness stands within a few degrees of upright: the cosine.
const FLAT: f64 = 0.995;
/// What runs along more than this share of a board carries it all along.
const ALONG: f64 = 0.5;
/// Square millimetres to the square metre.
const SQUARE_METRE: f64 = 1e6;

/// Advice on each board that bends by more than 1/144 of its span.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let stands = Stands::of(worked);
    let parts = worked.parts.iter().enumerate();
    parts.filter_map(|(index, part)| bends(job, &stands, index, part)).collect()
}

/// Where the parts of a job stand, taken once: each board asks for all that hold it.
struct Stands<'w> {
    worked: &'w WorkedJob,
    /// The box of each part; none of one that has no wood left.
    boxes: Vec<Option<(DVec3, DVec3)>>,
    /// For each piece how low its lowest part reaches, mm.
    floors: Vec<f64>,
}

impl<'w> Stands<'w> {
    fn of(worked: &'w WorkedJob) -> Self {
        let boxes: Vec<_> = worked.parts.iter().map(around).collect();
        let pieces = worked.parts.iter().map(|part| part.piece.0 + 1).max().unwrap_or(0);
        let mut floors = vec![f64::INFINITY; pieces];
        for (part, (low, _)) in worked.parts.iter().zip(&boxes).filter_map(|(part, b)| Some((part, (*b)?))) {
            if let Some(floor) = floors.get_mut(part.piece.0) {
                *floor = floor.min(low.z);
            }
        }
        Self { worked, boxes, floors }
    }

    /// The box of a part.
    fn around(&self, index: usize) -> Option<(DVec3, DVec3)> {
        self.boxes.get(index).copied().flatten()
    }
}

/// The load of the job, N/mm2, its name, and whether it is assumed.
fn load(job: &Job) -> (f64, &'static str, bool) {
    match job.load {
        Some(Load::Books) => (BOOKS, "books", false),
        Some(Load::General) => (GENERAL, "general", false),
        Some(Load::Light) => (LIGHT, "light", false),
        None => (GENERAL, "general, assumed", true),
    }
}

/// What shelves and tops of a job are reckoned to bear: kg/m2, its name, and whether it is
/// assumed; `None` where no board of it spans from support to support.
pub fn shelf_load(job: &Job, worked: &WorkedJob) -> Option<(f64, &'static str)> {
    let flat = |part: &WorkedPart| matches!(part.source, PartSource::Part(_)) && part.at.z.z.abs() > FLAT;
    let stands = Stands::of(worked);
    let spans = worked.parts.iter().enumerate().any(|(at, part)| flat(part) && span(&stands, at).is_some());
    let (load, class, _) = load(job);
    spans.then_some((load * SQUARE_METRE / GRAVITY, class))
}

/// What is said of one board, if it bends too far.
fn bends(job: &Job, stands: &Stands<'_>, index: usize, part: &WorkedPart) -> Option<Problem> {
    if !matches!(part.source, PartSource::Part(_)) || part.at.z.z.abs() < FLAT {
        return None;
    }
    let stiff = beams::stiffness(job.stock.get(part.stock.0)?)?;
    let span = span(stands, index)?;
    let (load, class, _) = load(job);
    let thick = part.size.z;
    let bent = sag(load, span, stiff.modulus, thick);
    (bent > span * LIMIT).then(|| message(job, part, &Bent { span, bent, load, class, stiff }))
}

/// How far a board bends.
#[allow(clippy::struct_field_names, reason = "how far it is bent is what it says")]
struct Bent {
    span: f64,
    bent: f64,
    load: f64,
    class: &'static str,
    stiff: Stiffness,
}

fn message(job: &Job, part: &WorkedPart, found: &Bent) -> Problem {
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let kilos = number(found.load * SQUARE_METRE / GRAVITY, 0);
    let modulus = number(found.stiff.modulus / 1000.0, 1);
    let assumed = if found.stiff.assumed { ", assumed" } else { "" };
    let text = format!(
        "`{}` bends {} over {} under {kilos} kg/m² ({}): more than {}, a 144th of its span",
        part.name,
        show(found.bent),
        show(found.span),
        found.class,
        show(found.span * LIMIT),
    );
    let help = format!(
        "make it {} thick, or support it so that it spans {} at most; E {modulus} GPa{assumed}, about {} after years (Architectural Woodwork Standards 2009; creep from National Design Specification 3.5.2 and, for sheets, from memory); `shelf_load` says what it bears",
        show(thick_for(found.load, found.span, found.stiff.modulus, LIMIT).ceil()),
        show(span_for(found.load, found.stiff.modulus, part.size.z, LIMIT).floor()),
        show(found.bent * found.stiff.creep),
    );
    Problem::advice("sags", text).at(part.origin).part(part.name.clone()).help(help)
}

/// Box of a part where it stands.
fn around(part: &WorkedPart) -> Option<(DVec3, DVec3)> {
    let points = part.solid.points.iter().map(|p| part.at.point(*p));
    points.fold(None, |found: Option<(DVec3, DVec3)>, p| {
        Some(found.map_or((p, p), |(low, high)| (low.min(p), high.max(p))))
    })
}

/// The widest gap between supports of a flat board along its longer side, mm; `None` where
/// it is carried all along, stands on the floor, or rests at one place.
fn span(stands: &Stands<'_>, index: usize) -> Option<f64> {
    let worked = stands.worked;
    let part = worked.parts.get(index)?;
    let (low, high) = stands.around(index)?;
    let floor = stands.floors.get(part.piece.0)?;
    if low.z < floor + TOUCH {
        return None;
    }
    let axis = usize::from(high.y - low.y > high.x - low.x);
    let whole = Interval { from: low[axis], to: high[axis] };
    let mut held: Vec<Interval> = Vec::new();
    for joint in worked.joints.iter().filter(|joint| joint.parts.contains(&index) && carries(joint, index)) {
        let others = joint.parts.iter().filter(|other| **other != index);
        for (a, b) in others.filter_map(|other| stands.around(*other)) {
            let here = Interval { from: a[axis].max(whole.from), to: b[axis].min(whole.to) };
            if here.length() > ALONG * whole.length() {
                return None;
            }
            // What meets it end on reaches no way along it.
            held.push(Interval::between(here.from, here.to));
        }
    }
    held.sort_by(|a, b| a.from.total_cmp(&b.from));
    let gaps = held.windows(2).map(|pair| pair[1].from - pair[0].to);
    gaps.reduce(f64::max).filter(|gap| *gap > 0.0)
}

/// Whether a joint carries a board: not what it carries itself, such as a back in its
/// groove, a lipping or a stop.
fn carries(joint: &WorkedJoint, index: usize) -> bool {
    let traits = &joint.traits;
    let own_panel = joint.parts.first() == Some(&index);
    !traits.lips
        && !traits.rests_without_holding
        && joint.opens.is_none()
        && (!traits.frees_panel || own_panel)
        && joint.parts.len() > 1
}
