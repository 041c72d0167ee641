//! Machine settings: every cut of the job put with the others that one setting
//! makes.

use super::against::{Against, together};
use super::stops::{Stops, spread};
use crate::cutting::{CutRow, CuttingList, FoldedPanel, LaterCut};
use crate::drawing::kit::words::length_text;
use crate::drawing::page::look::Look;
use crate::drawing::sheets::parts::corner;
use crate::drawing::sheets::parts::feature::{
    Feature, Form, SAME, axis_side, face_on, off_square, read, short_end,
};
use crate::drawing::sheets::parts::turned::MATCHED;
use crate::geometry::{DVec3, trig};
use crate::joinery::{self, CutKind, FillShape, Stage, WorkedJob, WorkedPart, Wrap};
use crate::measure;
use crate::model::{Face, Job, StockKind};
use crate::solid::Body;

/// A machine, or a way of using it, in the order a job passes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::drawing) enum Machine {
    /// Saw with its blade upright: parts brought to their finished size.
    SawSquare,
    /// Saw with the blade tilted or the mitre fence turned.
    SawAngled,
    /// Grooving cutter: grooves, housings, rebates, shoulders.
    Grooving,
    /// Mortiser: pockets of loose tenons.
    Mortising,
    /// Small round cutter that sinks slots for biscuits.
    Biscuits,
    /// Fingers and dovetails.
    Sockets,
    /// Drill.
    Drilling,
    /// Router: arrises, outlines, notches, slots.
    Router,
    /// Lathe: profiles, inlaid rings.
    Lathe,
}

impl Machine {
    /// Its heading.
    pub(in crate::drawing) fn name(self) -> &'static str {
        match self {
            Self::SawSquare => "Saw, blade square: trimming to finished size",
            Self::SawAngled => "Saw, angled: mitres, bevels and tapers",
            Self::Grooving => "Grooving cutter: grooves, housings, rebates",
            Self::Mortising => "Mortises and connector pockets",
            Self::Biscuits => "Slots for biscuits",
            Self::Sockets => "Fingers and dovetails",
            Self::Drilling => "Drilling",
            Self::Router => "Router: arrises, outlines, notches, slots",
            Self::Lathe => "Lathe: profiles, rings and hollows",
        }
    }

    /// The machine that makes a kind of cut.
    fn of(kind: CutKind) -> Self {
        match kind {
            CutKind::Mitre | CutKind::Bevel | CutKind::Taper => Self::SawAngled,
            CutKind::Groove | CutKind::Housing | CutKind::Rebate | CutKind::Shoulder | CutKind::Halving => {
                Self::Grooving
            }
            CutKind::Mortise | CutKind::ConnectorPocket | CutKind::OpenMortise => Self::Mortising,
            CutKind::BiscuitSlot => Self::Biscuits,
            CutKind::FingerSocket | CutKind::PinSocket | CutKind::TailSocket => Self::Sockets,
            CutKind::Hole
            | CutKind::AccessHole
            | CutKind::DowelHole
            | CutKind::PegHole
            | CutKind::ScrewHole
            | CutKind::ScrewPocket
            | CutKind::Counterbore
            | CutKind::HingeCup
            | CutKind::FittingHole => Self::Drilling,
            CutKind::Chamfer | CutKind::RoundOver | CutKind::Outline | CutKind::Notch | CutKind::Slot => {
                Self::Router
            }
        }
    }
}

/// One setting.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::drawing) struct Setting {
    /// The machine.
    pub(in crate::drawing) machine: Machine,
    /// Whether it waits until after a glue-up.
    pub(in crate::drawing) later: bool,
    /// What is cut: `groove`.
    pub(in crate::drawing) cut: &'static str,
    /// What is set: `6.5 wide, 8 deep, fence 11.8`.
    pub(in crate::drawing) set: String,
    /// What lies against the fence or on the table.
    pub(in crate::drawing) against: Against,
    /// Where the stops of mortises and holes stand.
    pub(in crate::drawing) stops: Stops,
    /// The rows of the cutting list it is used for, with the cuts on each.
    pub(in crate::drawing) parts: Vec<(String, usize)>,
}

/// Settings being gathered.
struct Gather<'a> {
    look: &'a Look,
    list: Vec<Setting>,
}

/// All settings of a job, machine by machine, those after a glue-up last.
pub(in crate::drawing) fn settings(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    look: &Look,
) -> Vec<Setting> {
    let mut gather = Gather { look, list: Vec::new() };
    let wraps = joinery::wraps(job);
    for row in &list.parts {
        let Some(part) = row.which.first().and_then(|index| worked.parts.get(*index)) else { continue };
        if !made_here(job, part) {
            continue;
        }
        if matches!(part.body, Body::Turning(_)) {
            gather.lathe(row, part);
        } else {
            gather.trims(row, part);
        }
        for feature in read(part).iter().filter(|feature| !hinged(&wraps, worked, part, feature)) {
            gather.feature(row, part, feature);
        }
    }
    for panel in &list.folded {
        gather.folds(panel);
    }
    for row in &list.lippings {
        let Some(part) = row.which.first().and_then(|index| worked.parts.get(*index)) else { continue };
        for feature in read(part).iter().filter(|feature| own(worked, part, feature)) {
            gather.feature(row, part, feature);
        }
    }
    // Stable, so that within a machine settings keep the order of the list.
    let mut list = spread(gather.list, look);
    list.sort_by_key(|setting| (setting.later, setting.machine));
    together(list)
}

/// Whether the shop works the part: glass and bought parts come ready.
fn made_here(job: &Job, part: &WorkedPart) -> bool {
    let kind = job.stock.get(part.stock.0).map(|stock| &stock.kind);
    !matches!(kind, Some(StockKind::Glass { .. } | StockKind::Bought) | None)
}

/// Whether a cut of a lipping is made on the loose strip; all others are made
/// together with the panel it is glued to.
fn own(worked: &WorkedJob, part: &WorkedPart, feature: &Feature) -> bool {
    let joint = part.cuts.get(feature.cut).and_then(|cut| worked.joints.get(cut.joint?));
    joint.is_some_and(|joint| joint.word == "lipping")
}

/// Whether a cut is a side of a V groove, which is set for the whole panel.
fn hinged(wraps: &[Wrap], worked: &WorkedJob, part: &WorkedPart, feature: &Feature) -> bool {
    let joint = part.cuts.get(feature.cut).and_then(|cut| worked.joints.get(cut.joint?));
    joint.is_some_and(|joint| match *joint.parts.as_slice() {
        [a, b] => joint.word == "folded_mitre" && wraps.iter().any(|wrap| wrap.hinges(a, b)),
        _ => false,
    })
}

impl Gather<'_> {
    fn length(&self, mm: f64) -> String {
        length_text(self.look, mm)
    }

    /// Adds a cut to its setting.
    fn add(&mut self, row: &CutRow, setting: Setting) {
        let mut name = format!("{} {}", row.mark, row.name);
        // Mitres and bevels of an end make the length, so a stop goes with it.
        if setting.machine == Machine::SawAngled
            && let Some(ends) = &row.ends
        {
            name = format!("{name} to {}", self.length(ends.long_point));
        }
        let alike = |have: &&mut Setting| {
            have.machine == setting.machine
                && have.later == setting.later
                && have.cut == setting.cut
                && have.set == setting.set
                && have.against == setting.against
                // The stops of a part are put in order before its setting is
                // shared with others.
                && have.stops.is_empty() == setting.stops.is_empty()
                && (setting.stops.is_empty() || have.parts.iter().any(|part| part.0 == name))
        };
        match self.list.iter_mut().find(alike) {
            Some(have) => {
                have.stops.add(&setting.stops);
                match have.parts.iter_mut().find(|part| part.0 == name) {
                    Some(part) => part.1 += 1,
                    None => have.parts.push((name, 1)),
                }
            }
            None => self.list.push(Setting { parts: vec![(name, 1)], ..setting }),
        }
    }

    /// The V grooves of a panel: cutter or blade, depth and fence of each.
    fn folds(&mut self, panel: &FoldedPanel) {
        let ends = if panel.along_grain { "end" } else { "edge" };
        let first = panel.names.first().map_or("", String::as_str);
        for fold in &panel.folds {
            let deep = if panel.skin > 0.0 {
                format!("{} deep, {} left", self.length(fold.depth), self.length(panel.skin))
            } else {
                format!("{} deep, through to the tape", self.length(fold.depth))
            };
            let set = format!(
                "{} V, or blade tilted {} both ways; {deep}; point {} from the fence",
                measure::angle(fold.angle),
                measure::angle(0.5 * fold.angle),
                self.length(fold.at)
            );
            let setting = Setting {
                machine: Machine::SawAngled,
                later: false,
                cut: "V groove",
                set,
                against: Against::Words(format!("free {ends} of {first} to the fence, taped face down")),
                stops: Stops::default(),
                parts: Vec::new(),
            };
            self.add(&panel.row, setting);
        }
    }

    /// Trimming a part from its rough to its finished size, lippings on. Ends
    /// that are mitred are cut to length by their mitres.
    fn trims(&mut self, row: &CutRow, part: &WorkedPart) {
        let Some(rough) = row.rough else { return };
        let finished = [row.length, row.width];
        for axis in [1, 0] {
            let sloping = axis == 0 && row.ends.is_some();
            if rough[axis] - finished[axis] < 0.05 || sloping {
                continue;
            }
            let along = [DVec3::X, DVec3::Y][axis];
            let lipping = |toward: DVec3| {
                let side = |lipped: &&crate::cutting::Lipped| {
                    part.at.local_dir(lipped.side.normal()).dot(toward) > 0.9
                };
                row.lipped.iter().find(side).map(|lipped| lipped.thick)
            };
            let (low, high) = (lipping(-along), lipping(along));
            let whole = finished[axis] + low.unwrap_or(0.0) + high.unwrap_or(0.0);
            let set = format!("{} {}", if axis == 0 { "stop" } else { "fence" }, self.length(whole));
            let against: String = match (low, high, axis) {
                (None, None, 0) => "a square end".into(),
                (None, None, _) => "a planed edge".into(),
                (Some(_), _, _) => format!("lipping of the {}", face_on(axis, false).name()),
                (None, Some(_), _) => format!("lipping of the {}", face_on(axis, true).name()),
            };
            let against = Against::Words(against);
            let cut = if axis == 0 { "crosscut" } else { "rip" };
            // Layers that are glued face to face are trimmed together.
            let later = row.after_glue_up.contains(&LaterCut::Trim);
            let stops = Stops::default();
            let setting =
                Setting { machine: Machine::SawSquare, later, cut, set, against, stops, parts: Vec::new() };
            self.add(row, setting);
        }
    }

    /// The profile of a turned part, then what is inlaid in it: cut while it is
    /// still proud, filled, and turned flush with the rest.
    fn lathe(&mut self, row: &CutRow, part: &WorkedPart) {
        let mut set = "to the diameters of its drawing".to_owned();
        if row.quantity > 1 {
            set = format!("{set}, a set alike within {}", self.length(MATCHED));
        }
        let turned = |cut: &'static str, set: String, against: &str| Setting {
            machine: Machine::Lathe,
            later: false,
            cut,
            set,
            against: Against::Words(against.to_owned()),
            stops: Stops::default(),
            parts: Vec::new(),
        };
        self.add(row, turned("profile", set, "between centres or in the chuck"));
        for fill in &part.fills {
            let (wide, deep) = fill.shape.size();
            let (wide, deep) = (self.length(wide), self.length(deep));
            let (size, tool) = match fill.shape {
                FillShape::Ring { .. } => (format!("{wide} wide, {deep} deep"), "parting tool"),
                FillShape::Hollow { .. } => {
                    (format!("⌀ {wide}, {deep} deep"), "gouge or drill in the tailstock")
                }
            };
            let set = format!("{size}; fill with {}, let it set, turn flush", fill.what);
            self.add(row, turned(fill.shape.name(), set, tool));
        }
    }

    /// One cut.
    fn feature(&mut self, row: &CutRow, part: &WorkedPart, feature: &Feature) {
        let (set, against) = match &feature.form {
            Form::Pocket { min, max, .. } if feature.kind == CutKind::FingerSocket => {
                let (wide, deep) = (max.y - min.y, max.x - min.x);
                let set = format!("{} wide, {} deep", self.length(wide), self.length(deep));
                (set, Against::Words("the end down, spaced by its drawing".into()))
            }
            Form::Flared(socket) => (
                format!(
                    "{} at the narrow side, slope 1:{}, {} deep",
                    self.length(socket.narrow()),
                    socket.ratio(),
                    self.length(socket.deep())
                ),
                Against::Words("the end up, spaced by its drawing".into()),
            ),
            Form::SlopedBore(bore) => (
                format!(
                    "Ø{} at {}, shoulder {} from the end",
                    self.length(bore.diameter),
                    measure::angle(bore.slope()),
                    self.length(bore.seat)
                ),
                Against::Words(format!("jig on the {}", bore.entry.name())),
            ),
            Form::Pocket { min, max, entry, .. } => {
                self.pocket(feature.kind, part.size, (*min, *max), *entry)
            }
            Form::Hole { centre, entry, diameter, depth, through } => {
                self.hole(part.size, *centre, *entry, (*diameter, *depth, *through))
            }
            Form::Compound { far, long, gauge, blade, .. } => {
                let [end, face, edge] =
                    [(0, *far), (2, long.z > part.size.z / 2.0), (1, long.y > part.size.y / 2.0)]
                        .map(|(axis, far)| face_on(axis, far).name());
                let set =
                    format!("gauge {}, blade tilted {}", measure::angle(*gauge), measure::angle(*blade));
                (set, Against::Words(format!("{end}, long point on the {face} at the {edge}")))
            }
            Form::Leaning(leaning) => {
                let (set, against) = leaning.setting(|mm| self.length(mm));
                (set, Against::Words(against))
            }
            Form::Slope { along, ends, away } => self.slope(feature.kind, part, *along, *ends, *away),
            Form::Askew { width, depth, into, .. } if feature.kind == CutKind::AccessHole => {
                let (wide, deep) = (self.length(*width), self.length(*depth));
                let set = format!("Ø{wide} at {}, {deep} deep", measure::angle(corner::slope(*into)));
                (set, Against::Words("jig on the inside face, beside the mitre".into()))
            }
            Form::Askew { width, length, depth, from_inner, .. } => {
                let mut set = if (length - width).abs() < SAME {
                    format!("Ø{}", self.length(*width))
                } else {
                    format!("{} × {}", self.length(*width), self.length(*length))
                };
                set = format!("{set}, {} deep", self.length(*depth));
                if let Some(inner) = from_inner {
                    set = format!("{set}, {} from the inner corner", self.length(*inner));
                }
                (set, Against::Words("the mitre, cutter square to it".into()))
            }
            Form::Shape { entry, depth, through, .. } => {
                let deep = if *through { "through".into() } else { format!("{} deep", self.length(*depth)) };
                let from = format!("cut from the {}", entry.name());
                (format!("by its drawing, {deep}"), Against::Words(from))
            }
        };
        let stops = match &feature.form {
            Form::Pocket { min, max, entry, .. } if Machine::of(feature.kind) == Machine::Mortising => {
                let run = run_of(part.size, (*min, *max), *entry);
                Stops::of(part.size, run, (min[run], max[run]))
            }
            Form::Hole { centre, entry, .. } => {
                let along = 3 - axis_side(*entry).0 - fence_of(*entry);
                Stops::of(part.size, along, (centre[along], centre[along]))
            }
            _ => Stops::default(),
        };
        let setting = Setting {
            machine: Machine::of(feature.kind),
            later: feature.stage == Stage::AfterGlueUp,
            cut: feature.kind.name(),
            set,
            against,
            stops,
            parts: Vec::new(),
        };
        self.add(row, setting);
    }

    /// A groove, housing, rebate, mortise or the like: cutter, depth, fence,
    /// and stops where it does not run through.
    fn pocket(
        &self,
        kind: CutKind,
        size: DVec3,
        (min, max): (DVec3, DVec3),
        entry: Face,
    ) -> (String, Against) {
        if matches!(kind, CutKind::RoundOver | CutKind::Chamfer) {
            return self.arris(kind, size, (min, max));
        }
        let (deep, _) = axis_side(entry);
        let open = |axis: usize| (min[axis] < SAME, max[axis] > size[axis] - SAME);
        let run = run_of(size, (min, max), entry);
        let across = 3 - deep - run;
        let mortise = Machine::of(kind) == Machine::Mortising;
        let far = size[across] - max[across] < min[across] - SAME;
        let edge = if far { size[across] - max[across] } else { min[across] };
        let wide = max[across] - min[across];
        let mut set = format!("{} wide, ", self.length(wide));
        if mortise {
            set = format!("{} × {}, ", self.length(wide), self.length(max[run] - min[run]));
        }
        let deep = if open(deep) == (true, true) {
            "through".to_owned()
        } else {
            format!("{} deep", self.length(max[deep] - min[deep]))
        };
        set.push_str(&deep);
        if mortise {
            set = format!("{set}, middle {} from the fence", self.length(edge + wide / 2.0));
        } else if edge > SAME {
            set = format!("{set}, fence {}", self.length(edge));
        } else {
            set.push_str(", at the fence");
        }
        if !mortise {
            for (stopped, gap, end) in [
                (!open(run).0, min[run], face_on(run, false)),
                (!open(run).1, size[run] - max[run], face_on(run, true)),
            ] {
                if stopped {
                    set = format!("{set}, stop {} from the {}", self.length(gap), end.name());
                }
            }
        }
        let fence = vec![face_on(across, far).name()];
        (set, Against::Fence { fence, made: "cut", from: vec![entry.name()] })
    }

    /// A hole: drill, depth, and the fence where it stands nearer a long edge.
    fn hole(
        &self,
        size: DVec3,
        centre: DVec3,
        entry: Face,
        (diameter, depth, through): (f64, f64, bool),
    ) -> (String, Against) {
        let across = fence_of(entry);
        let far = size[across] - centre[across] < centre[across] - SAME;
        let edge = if far { size[across] - centre[across] } else { centre[across] };
        let deep = if through { "through".into() } else { format!("{} deep", self.length(depth)) };
        let set = format!("Ø{}, {deep}, middle {} from the fence", self.length(diameter), self.length(edge));
        let fence = vec![face_on(across, far).name()];
        (set, Against::Fence { fence, made: "bored", from: vec![entry.name()] })
    }

    /// An arris taken off by a cutter of its shape: its size, and the two faces
    /// it lies between.
    fn arris(&self, kind: CutKind, size: DVec3, (min, max): (DVec3, DVec3)) -> (String, Against) {
        let long = (0..3).fold(0, |a, b| if max[b] - min[b] > max[a] - min[a] { b } else { a });
        let mut faces = Vec::new();
        let mut sides = Vec::new();
        for axis in (0..3).filter(|axis| *axis != long) {
            faces.push(face_on(axis, max[axis] > size[axis] - SAME).name());
            sides.push(max[axis] - min[axis]);
        }
        let mut set = match sides[..] {
            [a, b] if (a - b).abs() < SAME && kind == CutKind::RoundOver => {
                format!("radius {}", self.length(a))
            }
            [a, b] if (a - b).abs() < SAME => format!("{} wide", self.length(a)),
            _ => sides.iter().map(|side| self.length(*side)).collect::<Vec<_>>().join(" × "),
        };
        for (gap, far) in [(min[long], false), (size[long] - max[long], true)] {
            if gap > SAME {
                set = format!("{set}, stop {} from the {}", self.length(gap), face_on(long, far).name());
            }
        }
        (set, Against::Words(format!("arris of the {}", faces.join(" and the "))))
    }

    /// A mitre, bevel, taper or arris.
    fn slope(
        &self,
        kind: CutKind,
        part: &WorkedPart,
        along: usize,
        ends: [DVec3; 2],
        away: DVec3,
    ) -> (String, Against) {
        let size = part.size;
        let away_from = (away - (ends[0] + ends[1]) / 2.0).normalize_or_zero();
        let long = ends[1 - short_end(ends, away, size)];
        if Machine::of(kind) == Machine::Router {
            let d = (ends[1] - ends[0]).abs();
            let faces: Vec<&str> = (0..3)
                .filter(|axis| *axis != along)
                .map(|axis| face_on(axis, away_from[axis] > 0.0).name())
                .collect();
            let between = format!("arris of the {}", faces.join(" and the "));
            return (format!("{} wide", self.length(d.max_element())), Against::Words(between));
        }
        if kind == CutKind::Taper && along != 0 {
            return self.taper(size, 3 - along, ends, away_from);
        }
        // Square to the cut's slope lies the end or edge it makes.
        let other = |a: usize| 3 - along - a;
        let end = if along != 0 {
            0
        } else if away_from.y.abs() >= away_from.z.abs() - 1e-6 {
            1
        } else {
            2
        };
        let angle = measure::angle(off_square(ends, along, end));
        let made = face_on(end, away_from[end] > 0.0);
        let leans = other(end);
        let point = face_on(leans, long[leans] > size[leans] / 2.0);
        let set = match (along, kind) {
            (2, _) => format!("mitre fence {angle}"),
            // Ripped along its length: the fence stands off by its width there.
            (0, CutKind::Bevel) if end == 1 => {
                format!("blade tilted {angle}, fence {} to the long point", self.length(size.y))
            }
            _ => format!("blade tilted {angle}"),
        };
        (set, Against::Words(format!("{}, long point on the {}", made.name(), point.name())))
    }

    /// A taper down the length of a part, sawn in a jig that holds it askew: what
    /// it takes off and over which length. `leans` is the axis it makes thinner.
    fn taper(&self, size: DVec3, leans: usize, ends: [DVec3; 2], away: DVec3) -> (String, Against) {
        let (off, long) = ((ends[0] - ends[1])[leans].abs(), (ends[0] - ends[1]).x.abs());
        let far = away[leans] > 0.0;
        // How deep the cut is under the face it starts from.
        let deep = |point: DVec3| if far { size[leans] - point[leans] } else { point[leans] };
        let narrow = if deep(ends[0]) > deep(ends[1]) { ends[0] } else { ends[1] };
        let set = format!(
            "taper jig {}: {} off over {}",
            measure::angle(trig::atan2(off, long).to_degrees()),
            self.length(off),
            self.length(long)
        );
        let (face, end) = (face_on(leans, far), face_on(0, narrow.x > size.x / 2.0));
        (set, Against::Words(format!("{} to the blade, narrow at the {}", face.name(), end.name())))
    }
}

/// The axis along which a groove or mortise runs: that on which it goes right
/// through, else that on which it is longer.
fn run_of(size: DVec3, (min, max): (DVec3, DVec3), entry: Face) -> usize {
    let (i, j) = match axis_side(entry).0 {
        0 => (1, 2),
        1 => (0, 2),
        _ => (0, 1),
    };
    let through = |axis: usize| min[axis] < SAME && max[axis] > size[axis] - SAME;
    match (through(i), through(j)) {
        (true, false) => i,
        (false, true) => j,
        _ if max[i] - min[i] >= max[j] - min[j] => i,
        _ => j,
    }
}

/// The axis across which a hole keeps its distance from the fence: a face lies
/// against it for holes into ends and edges.
fn fence_of(entry: Face) -> usize {
    if axis_side(entry).0 == 2 { 1 } else { 2 }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::drawing::page::look::Paper;
    use crate::drawing::page::profile::Profile;
    use crate::measure::Unit;
    use crate::script::{Limits, NoModules, Request};

    fn gathered(text: &str) -> (Vec<Setting>, usize) {
        let request = Request {
            name: "test".into(),
            text: text.into(),
            settings: Vec::new(),
            loader: Arc::new(NoModules),
            words: crate::words(),
            limits: Limits::default(),
        };
        let (job, worked) = crate::examine(&request).worked.unwrap();
        let list = crate::cutting::cutting_list(&job, &worked);
        let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
        let cuts = list.parts.iter().map(|row| {
            let part = &worked.parts[row.which[0]];
            if made_here(&job, part) { read(part).len() } else { 0 }
        });
        (settings(&job, &worked, &list, &look), cuts.sum())
    }

    /// Every cut that a part drawing describes stands under one setting.
    #[test]
    fn no_cut_is_lost() {
        for text in [
            include_str!("../../../../scripts/periodicals_cabinet.rhai"),
            include_str!("../../../../scripts/low_bookcase.rhai"),
            include_str!("../../../../scripts/notice_frame.rhai"),
        ] {
            let (list, cuts) = gathered(text);
            let set = list.iter().filter(|setting| setting.machine != Machine::SawSquare);
            assert_eq!(set.flat_map(|setting| &setting.parts).map(|part| part.1).sum::<usize>(), cuts);
            assert!(cuts > 0);
        }
    }

    /// By hand: two rails 60 wide with a loose tenon each into a side 600 long,
    /// their middles 70 from its ends.
    #[test]
    fn mortises_have_stops_from_the_nearer_end() {
        let (list, _) = gathered(
            r#"
job("Side", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2400] });
piece("Side");
let side = board("Side", oak, #{ x: [0, 22], y: [0, 90], z: [0, 600], grain: "z" });
let low  = board("Low rail", oak, #{ x: [22, 600], y: [0, 22], z: [40, 100], grain: "x" });
let high = board("High rail", oak, #{ x: [22, 600], y: [0, 22], z: [500, 560], grain: "x" });
loose_tenons(low, side, #{ tenon: "8x40", count: 1 });
loose_tenons(high, side, #{ tenon: "8x40", count: 1 });
"#,
        );
        let side = |setting: &&Setting| setting.parts.iter().any(|part| part.0.contains("Side"));
        let mortises: Vec<&Setting> =
            list.iter().filter(|setting| setting.cut == "mortise").filter(side).collect();
        assert_eq!(mortises.len(), 1, "{mortises:#?}");
        assert_eq!(mortises[0].stops.text(), "70 from the near end and far end".to_owned(), "{mortises:#?}");
        assert_eq!(mortises[0].parts[0].1, 2);
    }

    /// By hand: a shelf 18 thick let 6 into a side, its underside 200 up, stopped
    /// 12 from the front.
    #[test]
    fn a_stopped_housing_has_cutter_depth_fence_and_stop() {
        let (list, _) = gathered(
            r#"
job("Shelf", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
piece("Shelf");
let side  = panel("Side",  ply, #{ x: [0, 18],   y: [0, 250], z: [0, 600], grain: "z" });
let shelf = panel("Shelf", ply, #{ x: [18, 600], y: [0, 250], z: [200, 218], grain: "x" });
housing(shelf, side, #{ depth: 6, stop: 12 });
"#,
        );
        let housing = list.iter().find(|setting| setting.cut == "housing").unwrap();
        assert!(housing.set.starts_with("18 wide, 6 deep, fence 200, stop 12 from the "), "{}", housing.set);
        assert_eq!(housing.parts, [("1 Side".to_owned(), 1)]);
    }

    /// By hand: a leg 54 square tapers to 40 over 616, off two faces: 1.3 degrees in
    /// a jig, where no blade tilts by 88.7.
    #[test]
    fn a_taper_is_set_by_its_jig() {
        let (list, _) = gathered(
            r#"
job("Leg", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [66], lengths: [2400] });
piece("Leg");
let leg = board("Leg", oak, #{ x: [0, 54], y: [0, 54], z: [0, 716], grain: "z" });
taper(leg, "right", #{ by: 14, toward: "bottom", start: 100 });
taper(leg, "back", #{ by: 14, toward: "bottom", start: 100 });
"#,
        );
        let tapers: Vec<&Setting> = list.iter().filter(|setting| setting.cut == "taper").collect();
        assert_eq!(tapers.len(), 2);
        for taper in tapers {
            assert_eq!(taper.set, "taper jig 1.3°: 14 off over 616");
            assert!(
                taper.against.text().ends_with("to the blade, narrow at the near end"),
                "{}",
                taper.against.text()
            );
        }
    }
}
