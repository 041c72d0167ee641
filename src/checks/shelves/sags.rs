//! Shelves and tops that bend too far.

use crate::checks::figures::beams::{
    self, LIMIT, LIMIT_LIGHT, MOST_LIGHT, MOST_ON_ONE, Stiffness, most_bent, pressure_on, sag, span_for,
    thick_for,
};
use crate::checks::figures::tipping::GRAVITY;
use crate::checks::measuring::TOUCH;
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

/// Advice on each board that bends by more than its load allows.
pub(in crate::checks) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
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

/// The load of the job and its name, which says where it is assumed.
fn load(job: &Job) -> (Load, &'static str) {
    match job.load {
        Some(Load::Books) => (Load::Books, "books"),
        Some(Load::General) => (Load::General, "general"),
        Some(Load::Light) => (Load::Light, "light"),
        None => (Load::General, "general, assumed"),
    }
}

/// What shelves and tops of a job are reckoned to bear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShelfLoad {
    /// On a square metre, kg.
    pub square: f64,
    /// On any one of them, kg, where the load has such a bound.
    pub one: Option<f64>,
    /// Its name, which says where it is assumed.
    pub class: &'static str,
}

/// What shelves and tops of a job are reckoned to bear; `None` where no board of it spans
/// from support to support.
pub fn shelf_load(job: &Job, worked: &WorkedJob) -> Option<ShelfLoad> {
    let flat = |part: &WorkedPart| matches!(part.source, PartSource::Part(_)) && part.at.z.z.abs() > FLAT;
    let stands = Stands::of(worked);
    let spans = worked.parts.iter().enumerate().any(|(at, part)| flat(part) && span(&stands, at).is_some());
    let (load, class) = load(job);
    let one = (load != Load::Light).then_some(MOST_ON_ONE / GRAVITY);
    spans.then_some(ShelfLoad { square: load.pressure() * SQUARE_METRE / GRAVITY, one, class })
}

/// What is said of one board, if it bends too far.
fn bends(job: &Job, stands: &Stands<'_>, index: usize, part: &WorkedPart) -> Option<Problem> {
    if !matches!(part.source, PartSource::Part(_)) || part.at.z.z.abs() < FLAT {
        return None;
    }
    let stiff = beams::stiffness(job.stock.get(part.stock.0)?)?;
    let span = span(stands, index)?;
    let (class, name) = load(job);
    let load = pressure_on(class, part.size.x * part.size.y);
    let bent = sag(load, span, stiff.modulus, part.size.z);
    (bent > most_bent(class, span))
        .then(|| message(job, part, &Bent { span, bent, load, class, name, stiff }))
}

/// How far a board bends.
#[allow(clippy::struct_field_names, reason = "how far it is bent is what it says")]
struct Bent {
    span: f64,
    bent: f64,
    load: f64,
    class: Load,
    name: &'static str,
    stiff: Stiffness,
}

impl Bent {
    /// The bound in words, and whose it is.
    fn bound(&self) -> (&'static str, &'static str) {
        let capped = self.class == Load::Light && self.span * LIMIT_LIGHT > MOST_LIGHT;
        match self.class {
            Load::Books | Load::General => ("a 144th of its span", "Architectural Woodwork Standards 2009"),
            Load::Light if capped => ("the most a kitchen shelf may", "ANSI/KCMA A161.1"),
            Load::Light => ("a 192nd of its span", "ANSI/KCMA A161.1"),
        }
    }

    /// The span at which a board so thick bends no more than it may, mm.
    fn widest(&self, thick: f64) -> f64 {
        let share = if self.class == Load::Light { LIMIT_LIGHT } else { LIMIT };
        let span = span_for(self.load, self.stiff.modulus, thick, share);
        let most = most_bent(self.class, span);
        // Beyond the span where the bound in all takes over, bending grows as its fourth power.
        if span * share > most { span * (most / (span * share)).sqrt().sqrt() } else { span }
    }
}

fn message(job: &Job, part: &WorkedPart, found: &Bent) -> Problem {
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let kilos = number(found.load * SQUARE_METRE / GRAVITY, 0);
    let modulus = number(found.stiff.modulus / 1000.0, 1);
    let (bound, source) = found.bound();
    let may = most_bent(found.class, found.span);
    let assumed = if found.stiff.assumed { ", assumed" } else { "" };
    let text = format!(
        "`{}` bends {} over {} under {kilos} kg/m² ({}): more than {}, {bound}",
        part.name,
        show(found.bent),
        show(found.span),
        found.name,
        show(may),
    );
    let help = format!(
        "make it {} thick, or support it so that it spans {} at most; E {modulus} GPa{assumed}, about {} after years ({source}; creep from National Design Specification 3.5.2 and, for sheets, from memory); `shelf_load` says what it bears",
        show(thick_for(found.load, found.span, found.stiff.modulus, may / found.span).ceil()),
        show(found.widest(part.size.z).floor()),
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
