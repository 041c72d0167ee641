//! Set-ups in words: what is set, what lies against the fence, which parts.

use super::Words;
use crate::cutting::Settings;
use crate::joinery::{CutKind, Machine};
use crate::machining::operation::To;
use crate::machining::places::Distances;
use crate::machining::setting::{Against, Depth, Setting, Task};
use crate::machining::setup::{From, SetUp, Turn, Use};
use crate::measure::{self, ShownLength};
use crate::model::Face;

/// How works and parts are named.
pub struct Names<'a> {
    /// Mark of a work: `1 L`.
    pub mark: &'a dyn Fn(usize) -> String,
    /// Name of a work: `Left side`.
    pub name: &'a dyn Fn(usize) -> String,
    /// Name of the first part of a work.
    pub first: &'a dyn Fn(usize) -> String,
}

/// A set-up as the cells of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetUpRow {
    /// What is done: `housing`.
    pub task: String,
    /// What is set: `18 wide, 6 deep, stop 12 from the face edge`.
    pub set: String,
    /// How far off the fence: `90, 337.3`.
    pub fence: String,
    /// What lies against it: `near end to the fence, cut from the face side`.
    pub against: String,
    /// Stops to the middle: `22.5, 67.5 from the near end`.
    pub stops: String,
    /// Parts: `1 L Left side, 2 cuts`.
    pub parts: String,
}

impl Words {
    /// A set-up as a row of a list.
    pub fn settings_row(self, settings: &Settings, setup: &SetUp) -> SetUpRow {
        let work = |index: usize| settings.works.get(index);
        let names = Names {
            mark: &|index| work(index).map_or_else(String::new, |work| work.mark.clone()),
            name: &|index| work(index).map_or_else(String::new, |work| work.name.clone()),
            first: &|index| work(index).map_or_else(String::new, |work| work.first.clone()),
        };
        self.set_up(setup, &names)
    }

    /// A set-up as a row, its parts named by `names`.
    pub fn set_up(self, setup: &SetUp, names: &Names<'_>) -> SetUpRow {
        let stopped = self.off_ends(setup, names, |turn| &turn.stopped);
        let stopped = if stopped.is_empty() { stopped } else { format!("stop {stopped}") };
        let set = [self.set(setup.task, &setup.setting), stopped];
        let fence = setup.fence.as_ref().map(|fence| {
            let text = self.distances(fence);
            match setup.fence_to {
                To::Side if text == "0" || text == self.figure(0.0) => "at the fence".to_owned(),
                To::Side => text,
                To::Middle => format!("middle {text}"),
                To::Point => format!("point {text}"),
            }
        });
        let fence = fence.or_else(|| match (setup.task, &setup.setting) {
            (Task::Crosscut, Setting::Size { size }) => Some(format!("stop {}", self.plain(*size))),
            (_, Setting::Size { size }) => Some(self.plain(*size)),
            _ => None,
        });
        SetUpRow {
            task: task(setup.task).to_owned(),
            set: set.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", "),
            fence: fence.unwrap_or_default(),
            against: self.against(setup, names),
            stops: self.off_ends(setup, names, |turn| &turn.stops),
            parts: self.uses(setup, names),
        }
    }

    /// What lies against the fence, mirror pairs in one line.
    fn against(self, setup: &SetUp, names: &Names<'_>) -> String {
        let fenced = setup.turns.iter().all(|turn| matches!(turn.against, Against::Fence { .. }));
        if !fenced {
            return by_turn(setup, names, |turn| self.held(turn, names));
        }
        let faces = |list: &[Face]| list.iter().map(|face| face.name()).collect::<Vec<_>>().join(", ");
        let part = |turn: &Turn, fence: bool| match &turn.against {
            Against::Fence { faces: against, .. } if fence => faces(against),
            Against::Fence { from, .. } => faces(from),
            _ => String::new(),
        };
        let made = if matches!(setup.setting, Setting::Bore { .. }) { "bored" } else { "cut" };
        let one = |fence: &str, from: &str| format!("{fence} to the fence, {made} from the {from}");
        let agree =
            |fence: bool| setup.turns.windows(2).all(|pair| part(&pair[0], fence) == part(&pair[1], fence));
        if agree(true) || agree(false) {
            let list = |fence: bool| by_turn(setup, names, |turn| part(turn, fence));
            return one(&list(true), &list(false));
        }
        // Which face goes with which entry must be seen.
        by_turn(setup, names, |turn| one(&part(turn, true), &part(turn, false)))
    }

    /// How a part is held where no fence sets the cut.
    fn held(self, turn: &Turn, names: &Names<'_>) -> String {
        match &turn.against {
            Against::SquareEnd => "a square end".into(),
            Against::PlanedEdge => "a planed edge".into(),
            Against::Lipping { face } => format!("lipping of the {}", face.name()),
            Against::Guide => "saw on a guide rail or a sliding table".into(),
            Against::Fence { faces, from } => {
                format!("{} to the fence, cut from the {}", faces_in(faces, ", "), faces_in(from, ", "))
            }
            Against::EndDown => "the end down, spaced by its drawing".into(),
            Against::EndUp => "the end up, spaced by its drawing".into(),
            Against::Jig { face } => format!("jig on the {}", face.name()),
            Against::BesideMitre => "jig on the inside face, beside the mitre".into(),
            Against::Mitre => "the mitre, cutter square to it".into(),
            Against::LongPoint { made, on } => {
                format!("{}, long point on the {}", made.name(), faces_in(on, " at the "))
            }
            Against::Arris { faces } => format!("arris of the {}", faces_in(faces, " and the ")),
            Against::From { face } => format!("cut from the {}", face.name()),
            Against::FreeEdge { end } => {
                let first = turn.uses.first().map(|one| (names.first)(one.work)).unwrap_or_default();
                let what = if *end { "end" } else { "edge" };
                format!("free {what} of {first} to the fence, taped face down")
            }
            Against::Lathe => "between centres or in the chuck".into(),
            Against::PartingTool => "parting tool".into(),
            Against::Gouge => "gouge or drill in the tailstock".into(),
            _ => self.held_askew(&turn.against),
        }
    }

    /// How parts are held for cuts at an angle.
    fn held_askew(self, against: &Against) -> String {
        match against {
            Against::Taper { face, narrow } => {
                format!("{} to the blade, narrow at the {}", face.name(), narrow.name())
            }
            Against::Shoulder { face, from_end, end } => {
                format!("{}, {} from the {}", face.name(), self.plain(*from_end), end.name())
            }
            Against::FromShoulders { end, apart } => {
                format!("{}, {} from the shoulders", end.name(), self.plain(*apart))
            }
            Against::LeaningFrom { face, line } => {
                format!("{}, along a line {} off the length", face.name(), measure::angle(*line))
            }
            _ => String::new(),
        }
    }

    /// What is set, without fence and stops.
    fn set(self, task: Task, setting: &Setting) -> String {
        match setting {
            // The fence or stop is all that is set.
            Setting::Size { .. } => String::new(),
            Setting::Off { off, left } => format!("{} off, {} left", self.plain(*off), self.plain(*left)),
            Setting::Channel { width, depth } => {
                format!("{} wide, {}", self.plain(*width), self.deep(*depth))
            }
            Setting::Mortise { width, length, depth } => {
                format!("{}, {}", self.mortise(*width, *length), self.deep(*depth))
            }
            Setting::Bore { diameter, .. } if task == Task::Cut(CutKind::Countersink) => {
                format!("Ø{}, 90°", self.bit(*diameter))
            }
            Setting::Bore { diameter, depth } => format!("Ø{}, {}", self.bit(*diameter), self.deep(*depth)),
            Setting::Round { radius } => format!("radius {}", self.plain(*radius)),
            Setting::Arris { sides } => match sides.as_slice() {
                [one] => format!("{} wide", self.plain(*one)),
                sides => sides.iter().map(|side| self.plain(*side)).collect::<Vec<_>>().join(" × "),
            },
            Setting::ByDrawing { depth } => format!("by its drawing, {}", self.deep(*depth)),
            Setting::Diameters { matched: false } => "to the diameters of its drawing".into(),
            Setting::Diameters { matched: true } => {
                format!("to the diameters of its drawing, a set alike within {}", self.plain(MATCHED))
            }
            Setting::Inlay { width, depth, fill } => self.inlay(task, (*width, *depth), fill),
            Setting::VGroove { angle, depth, skin } => self.v_groove(*angle, *depth, *skin),
            _ => self.angled(setting),
        }
    }

    /// What is set at an angle.
    fn angled(self, setting: &Setting) -> String {
        let angle = measure::angle;
        match setting {
            Setting::Gauge { angle: off } => format!("mitre fence {}", angle(*off)),
            Setting::Tilt { angle: tilt, fence: None } => format!("blade tilted {}", angle(*tilt)),
            Setting::Tilt { angle: tilt, fence: Some(fence) } => {
                format!("blade tilted {}, fence {} to the long point", angle(*tilt), self.plain(*fence))
            }
            Setting::Stood { angle: tilt } => {
                format!("stood up against a tall fence, blade tilted {}", angle(*tilt))
            }
            Setting::TaperJig { angle: askew, off, over } => {
                format!("taper jig {}: {} off over {}", angle(*askew), self.plain(*off), self.plain(*over))
            }
            Setting::RakedEdge { angle: askew, off, over, blade, on_edge } => {
                let stood = if *on_edge { "stood up against a tall fence: " } else { "" };
                let (off, over) = (self.plain(*off), self.plain(*over));
                format!(
                    "{stood}taper jig {}: {off} off over {over}, blade tilted {}",
                    angle(*askew),
                    angle(*blade)
                )
            }
            Setting::Compound { gauge, blade, on_edge } => {
                let stood = if *on_edge { "on its edge: " } else { "" };
                format!("{stood}gauge {}, blade tilted {}", angle(*gauge), angle(*blade))
            }
            _ => self.leaning(setting),
        }
    }

    /// What is set for the tenon and mortise of a part that leans.
    fn leaning(self, setting: &Setting) -> String {
        let angle = measure::angle;
        match setting {
            Setting::LeaningEnd { gauge, blade } => {
                format!("gauge {}, blade tilted {}", angle(*gauge), angle(*blade))
            }
            Setting::LeaningShoulder { depth, gauge, blade } => {
                let deep = self.plain(*depth);
                format!("{deep} deep, gauge {}, blade tilted {}", angle(*gauge), angle(*blade))
            }
            Setting::LeaningMortise { width, length, depth, lean } => {
                format!("{}, {}, leaning {}", self.mortise(*width, *length), self.deep(*depth), angle(*lean))
            }
            Setting::LeaningChannel { width, depth, lean } => format!(
                "{} wide on the face, {} deep, walls leaning {}",
                self.plain(*width),
                self.plain(*depth),
                angle(*lean)
            ),
            _ => self.socketed(setting),
        }
    }

    /// Sockets, sloping bores, work in a mitre.
    fn socketed(self, setting: &Setting) -> String {
        let angle = measure::angle;
        match setting {
            Setting::Finger { width, depth } => {
                format!("{} wide, {} deep", self.plain(*width), self.plain(*depth))
            }
            Setting::Flared { narrow, ratio, depth } => format!(
                "{} at the narrow side, slope 1:{ratio}, {} deep",
                self.plain(*narrow),
                self.plain(*depth)
            ),
            Setting::SlopedBore { diameter, angle: slope, seat } => format!(
                "Ø{} at {}, shoulder {} from the end",
                self.plain(*diameter),
                angle(*slope),
                self.plain(*seat)
            ),
            Setting::Slanting { diameter, angle: slope, depth } => {
                format!("Ø{} at {}, {} deep", self.plain(*diameter), angle(*slope), self.plain(*depth))
            }
            Setting::InMitre { width, length, depth, from_inner, from_face } => {
                let size = if (length - width).abs() < ROUND {
                    format!("Ø{}", self.plain(*width))
                } else {
                    format!("{} × {}", self.plain(*width), self.plain(*length))
                };
                let inner = from_inner
                    .map(|far| format!(", {} from the inner corner", self.plain(far)))
                    .unwrap_or_default();
                let face = from_face
                    .map(|(far, face)| format!(", its middle {} from the {}", self.plain(far), face.name()))
                    .unwrap_or_default();
                format!("{size}, {} deep{inner}{face}", self.plain(*depth))
            }
            _ => String::new(),
        }
    }

    fn inlay(self, task: Task, (width, depth): (f64, f64), fill: &str) -> String {
        let (width, depth) = (self.plain(width), self.plain(depth));
        let size = if task == Task::Hollow { format!("⌀ {width}") } else { format!("{width} wide") };
        format!("{size}, {depth} deep; fill with {fill}, let it set, turn flush")
    }

    fn v_groove(self, angle: f64, depth: f64, skin: f64) -> String {
        let deep = if skin > 0.0 {
            format!("{} deep, {} left", self.plain(depth), self.plain(skin))
        } else {
            format!("{} deep, through to the tape", self.plain(depth))
        };
        let half = measure::angle(angle / 2.0);
        format!("{} V, or blade tilted {half} both ways; {deep}", measure::angle(angle))
    }

    /// A figure without the sign for about: the tolerance note of the sheet covers
    /// all of them.
    fn plain(self, mm: f64) -> String {
        let shown = self.lengths.show(mm);
        ShownLength { rounded: false, ..shown }.to_string()
    }

    /// The opening of a mortise, in millimetres where its loose tenon is sold by them.
    fn mortise(self, width: f64, length: f64) -> String {
        match self.in_mm(&[width, length]) {
            Some(sold) => sold,
            None => format!("{} × {}", self.plain(width), self.plain(length)),
        }
    }

    fn deep(self, depth: Depth) -> String {
        match depth {
            Depth::Through => "through".into(),
            Depth::To(deep) => format!("{} deep", self.plain(deep)),
        }
    }

    /// `63 to 801 every 123`, or one after another.
    pub(crate) fn distances(self, distances: &Distances) -> String {
        match distances {
            Distances::Each(all) => all.iter().map(|one| self.plain(*one)).collect::<Vec<_>>().join(", "),
            Distances::Row { first, last, pitch } => {
                format!("{} to {} every {}", self.plain(*first), self.plain(*last), self.plain(*pitch))
            }
        }
    }

    /// Distances from ends: where turns differ only in the end, both ends with the
    /// marks of their parts.
    fn off_ends(self, setup: &SetUp, names: &Names<'_>, list: impl Fn(&Turn) -> &[From]) -> String {
        let only = |turn: &Turn| match list(turn) {
            [one] => Some(one.distances.clone()),
            _ => None,
        };
        let shared = setup.turns.first().and_then(only);
        match shared {
            Some(distances) if setup.turns.iter().all(|turn| only(turn).as_ref() == Some(&distances)) => {
                let ends = by_turn(setup, names, |turn| {
                    list(turn).first().map_or("", |from| from.face.name()).to_owned()
                });
                format!("{} from the {ends}", self.distances(&distances))
            }
            _ => by_turn(setup, names, |turn| self.all_from(list(turn))),
        }
    }

    /// `30, 90 from the near end; 40 from the far end`; ends with the same
    /// distances are named together.
    fn all_from(self, list: &[From]) -> String {
        let mut groups: Vec<(&Distances, Vec<&str>)> = Vec::new();
        for from in list {
            match groups.iter_mut().find(|(known, _)| **known == from.distances) {
                Some((_, faces)) => faces.push(from.face.name()),
                None => groups.push((&from.distances, vec![from.face.name()])),
            }
        }
        let one = |(distances, faces): &(&Distances, Vec<&str>)| {
            format!("{} from the {}", self.distances(distances), faces.join(" and "))
        };
        groups.iter().map(one).collect::<Vec<_>>().join("; ")
    }

    /// `1 L Left side, 2 cuts; 4 Bottom`: each row of the list once.
    fn uses(self, setup: &SetUp, names: &Names<'_>) -> String {
        let mut all: Vec<Use> = Vec::new();
        for one in setup.turns.iter().flat_map(|turn| &turn.uses) {
            match all.iter_mut().find(|known| known.work == one.work && known.long == one.long) {
                Some(known) => known.cuts += one.cuts,
                None => all.push(one.clone()),
            }
        }
        let one = |part: &Use| {
            let name = format!("{} {}", (names.mark)(part.work), (names.name)(part.work));
            let long = part.long.map(|long| format!(" to {}", self.plain(long))).unwrap_or_default();
            let cuts = if part.cuts > 1 { format!(", {} cuts", part.cuts) } else { String::new() };
            format!("{name}{long}{cuts}")
        };
        all.iter().map(one).collect::<Vec<_>>().join("; ")
    }
}

/// One text where all turns agree, else each with the marks of its parts; where all
/// are about the same parts, one after the other.
fn by_turn(setup: &SetUp, names: &Names<'_>, text: impl Fn(&Turn) -> String) -> String {
    let mut texts: Vec<(String, Vec<String>)> = Vec::new();
    for turn in &setup.turns {
        let here = text(turn);
        let marks = turn.uses.iter().map(|one| (names.mark)(one.work));
        match texts.iter_mut().find(|(known, _)| *known == here) {
            Some((_, known)) => known.extend(marks),
            None => texts.push((here, marks.collect())),
        }
    }
    for (_, marks) in &mut texts {
        marks.dedup();
    }
    let same_parts = texts.windows(2).all(|pair| pair[0].1 == pair[1].1);
    let one = |(text, marks): &(String, Vec<String>)| {
        if same_parts { text.clone() } else { format!("{text} ({})", marks.join(", ")) }
    };
    // What has commas of its own is set apart by more than a comma.
    let join = if texts.iter().any(|(text, _)| text.contains(',')) { "; " } else { ", " };
    texts.iter().filter(|(text, _)| !text.is_empty()).map(one).collect::<Vec<_>>().join(join)
}

/// Sizes nearer than this make a round hole, mm.
const ROUND: f64 = 0.005;

/// How near parts turned as a set come to one another, mm (common practice, no
/// source).
pub const MATCHED: f64 = 0.5;

/// What a task is called.
pub fn task(task: Task) -> &'static str {
    match task {
        Task::Rip => "rip",
        Task::Crosscut => "crosscut",
        Task::Straighten => "straighten",
        Task::SquareEnd => "square the end",
        Task::Cut(kind) => kind.name(),
        Task::VGroove => "V groove",
        Task::Profile => "profile",
        Task::Ring => "ring",
        Task::Hollow => "hollow",
    }
}

/// The heading of a machine's set-ups.
pub fn machine(machine: Machine, later: bool) -> String {
    let name = match machine {
        Machine::SawSquare => "Saw, blade square: trimming to finished size",
        Machine::SawAngled => "Saw, angled: mitres, bevels and tapers",
        Machine::Grooving => "Grooving cutter: grooves, housings, rebates",
        Machine::Mortising => "Mortises and connector pockets",
        Machine::Biscuits => "Slots for biscuits",
        Machine::Sockets => "Fingers and dovetails",
        Machine::FineSaw => "Fine saw, by hand or a band: kerfs for wedges",
        Machine::Drilling => "Drilling",
        Machine::Router => "Router: arrises, outlines, notches, slots",
        Machine::Lathe => "Lathe: profiles, rings and hollows",
    };
    let when = match (later, machine) {
        // Its heading is long enough without the rest.
        (true, Machine::SawSquare) => ", glued up",
        (true, _) => ", after the glue-up",
        (false, _) => "",
    };
    format!("{name}{when}")
}

/// The names of faces, joined.
fn faces_in(faces: &[Face], join: &str) -> String {
    faces.iter().map(|face| face.name()).collect::<Vec<_>>().join(join)
}

/// Whether a part is stood up for a set-up.
pub fn stood(setup: &SetUp) -> bool {
    matches!(
        setup.setting,
        Setting::Stood { .. }
            | Setting::Compound { on_edge: true, .. }
            | Setting::RakedEdge { on_edge: true, .. }
    )
}

/// The caution beside stood work (common practice, no source).
pub fn stood_caution() -> &'static str {
    "Stood work: a tall fence, the part clamped to a block that runs along it, hands well above the blade"
}
