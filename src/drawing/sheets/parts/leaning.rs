//! Tenons that lean: their shoulders and mortises, as a drawing tells them.

use super::chosen::PartNote;
use super::feature::{Feature, Form, SAME, axis_of, axis_side, cuts_blank, face_on, flats, is_rectangle};
use super::phrases::{Words, blank};
use super::slopes::long_point;
use crate::drawing::page::look::Look;
use crate::geometry::{DVec3, trig};
use crate::joinery::CutKind;
use crate::measure;
use crate::model::Face;
use crate::paper::Run;
use crate::paper::fixes::{Axis, Fact, Fixes};
use crate::solid::Prism;

/// A cut of a tenon that leans. Part coordinates, mm, degrees.
#[derive(Clone, Debug)]
pub(in crate::drawing) enum Leaning {
    /// One side of a tenon whose shoulder line is askew to the part.
    Shoulder(Shoulder),
    /// The end of such a tenon, sawn parallel to its shoulders.
    End(End),
    /// A square mortise that leans.
    Mortise(Mortise),
}

/// See [`Leaning::End`].
#[derive(Clone, Debug)]
pub(in crate::drawing) struct End {
    /// Whether it is at the far end.
    far: bool,
    /// A point of the plane, and its normal out of what is cut away.
    plane: (DVec3, DVec3),
    /// From the shoulders, along the part.
    apart: f64,
    /// The middle of the part's section on it.
    middle: DVec3,
}

/// See [`Leaning::Shoulder`].
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Shoulder {
    /// Whether it is at the far end.
    far: bool,
    /// The face it is sawn in from.
    side: Face,
    /// How deep.
    deep: f64,
    /// The corner of the blank's section where the shoulder is nearest the end.
    long: DVec3,
    /// How far that is from the end.
    from_end: f64,
    /// Mitre gauge off square, and tilt of the blade off upright with the part
    /// on its face.
    gauge: f64,
    blade: f64,
    /// The middle of the shoulder line on `side`.
    middle: DVec3,
    /// A point of the shoulder line's plane, and its normal out of what is cut
    /// away.
    plane: (DVec3, DVec3),
}

/// See [`Leaning::Mortise`].
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Mortise {
    /// Where its middle line enters.
    centre: DVec3,
    /// Unit, into the wood.
    into: DVec3,
    /// Unit, along its longer side.
    along: DVec3,
    /// Sides of its section.
    length: f64,
    width: f64,
    /// Along its middle line.
    depth: f64,
    /// Whether it comes out behind.
    through: bool,
    /// The face it is cut from.
    entry: Face,
}

/// A wedge between a cheek and a shoulder line askew to the part.
pub(super) fn shoulder(shape: &Prism, size: DVec3) -> Option<Leaning> {
    let (mut cheek, mut line) = (None, None);
    for (point, normal) in flats(shape).into_iter().filter(|(p, n)| cuts_blank(*p, *n, size)) {
        let place = match axis_of(normal) {
            Some(1 | 2) => &mut cheek,
            Some(_) => return None,
            None => &mut line,
        };
        if place.replace((point, normal)).is_some() {
            return None;
        }
    }
    let ((at_cheek, toward), (point, normal)) = (cheek?, line.filter(|(_, n)| n.x.abs() > 0.1)?);
    let axis = axis_of(toward)?;
    // The cutter lies against its outward normal.
    let (side_far, far) = (toward[axis] < 0.0, normal.x < 0.0);
    let deep = if side_far { size[axis] - at_cheek[axis] } else { at_cheek[axis] };
    let at = |y: f64, z: f64| {
        let x = point.x + (normal.y * (point.y - y) + normal.z * (point.z - z)) / normal.x;
        DVec3::new(x, y, z)
    };
    let corners = [at(0.0, 0.0), at(size.y, 0.0), at(0.0, size.z), at(size.y, size.z)];
    let reach = |p: &DVec3| if far { p.x } else { -p.x };
    let long = corners.into_iter().max_by(|p, q| reach(p).total_cmp(&reach(q)))?;
    let mut middle = size / 2.0;
    middle[axis] = if side_far { size[axis] } else { 0.0 };
    Some(Leaning::Shoulder(Shoulder {
        far,
        side: face_on(axis, side_far),
        deep,
        long,
        from_end: if far { size.x - long.x } else { long.x },
        gauge: saw(normal).0,
        blade: saw(normal).1,
        middle: at(middle.y, middle.z),
        plane: (point, normal),
    }))
}

/// An end sawn askew to the part within a tenon: its blank's corners are gone.
pub(super) fn end(shape: &Prism, size: DVec3) -> Option<Leaning> {
    let mut askew = flats(shape).into_iter().filter(|(point, normal)| cuts_blank(*point, *normal, size));
    let (point, normal) = askew.next().filter(|(_, n)| axis_of(*n).is_none() && n.x.abs() > 0.1)?;
    if askew.next().is_some() {
        return None;
    }
    let half = size / 2.0;
    let x = point.x + (normal.y * (point.y - half.y) + normal.z * (point.z - half.z)) / normal.x;
    let middle = DVec3::new(x, half.y, half.z);
    Some(Leaning::End(End { far: normal.x < 0.0, plane: (point, normal), apart: 0.0, middle }))
}

/// Tells the ends of leaning tenons by their shoulders; an end without them is
/// not told. So is one that leans one way only, where no corner of the part is left
/// that could be its long point.
pub(super) fn join_ends(features: &mut Vec<Feature>, size: DVec3) {
    let lines: Vec<(bool, (DVec3, DVec3))> = features
        .iter()
        .filter_map(|f| match &f.form {
            Form::Leaning(Leaning::Shoulder(s)) => Some((s.far, s.plane)),
            _ => None,
        })
        .collect();
    let shoulders = |far: bool, normal: DVec3| {
        lines.iter().find(|(at, (_, n))| *at == far && n.dot(normal) > 1.0 - 1e-9).map(|(_, (from, _))| *from)
    };
    features.retain_mut(|feature| {
        if let Form::Slope { along: along @ 1.., ends, away } = feature.form
            && feature.kind == CutKind::Bevel
            && long_point(ends, away, along, size).is_none()
        {
            let middle = (ends[0] + ends[1]) / 2.0;
            let (far, plane) = (middle.x > size.x / 2.0, (middle, (middle - away).normalize_or_zero()));
            if shoulders(far, plane.1).is_some() {
                feature.form = Form::Leaning(Leaning::End(End { far, plane, apart: 0.0, middle }));
            }
        }
        let Form::Leaning(Leaning::End(end)) = &mut feature.form else { return true };
        let (at, normal) = end.plane;
        let Some(from) = shoulders(end.far, normal) else { return false };
        end.apart = (normal.dot(at - from) / normal.x).abs();
        true
    });
}

/// A square pocket sunk askew from before a face.
pub(super) fn mortise(shape: &Prism, size: DVec3) -> Option<Leaning> {
    if !is_rectangle(&shape.outline) {
        return None;
    }
    let (low, high) = shape.outline.bounds()?;
    let (middle, span) = ((low + high) / 2.0, high - low);
    let start = shape.at.point(DVec3::new(middle.x, middle.y, shape.from));
    let into = shape.at.z;
    let (mut enters, mut leaves) = ((f64::NEG_INFINITY, Face::Marked), f64::INFINITY);
    for axis in (0..3).filter(|a| into[*a].abs() > 1e-9) {
        let (a, b) = (-start[axis] / into[axis], (size[axis] - start[axis]) / into[axis]);
        let near = a.min(b);
        if near > enters.0 {
            enters = (near, face_on(axis, into[axis] < 0.0));
        }
        leaves = leaves.min(a.max(b));
    }
    let (t, entry) = enters;
    let long = shape.to - shape.from;
    if t < -SAME || t > long || leaves < t {
        return None;
    }
    let lying = span.x >= span.y;
    Some(Leaning::Mortise(Mortise {
        centre: start + into * t,
        into,
        along: if lying { shape.at.x } else { shape.at.y },
        length: span.max_element(),
        width: span.min_element(),
        depth: long - t,
        through: leaves < long - SAME,
        entry,
    }))
}

impl Leaning {
    /// The face of the blank a drawing shows it from.
    pub(super) fn seen_on(&self) -> Face {
        match self {
            Self::Shoulder(_) | Self::End(_) => Face::Marked,
            Self::Mortise(m) => m.entry,
        }
    }

    /// The finest thing of it that is drawn with two lines, mm.
    pub(super) fn finest(&self) -> f64 {
        match self {
            Self::Shoulder(_) | Self::End(_) => f64::MAX,
            Self::Mortise(m) => m.width,
        }
    }

    /// Whether two are told by one note: mortises alike but for their place, or
    /// shoulders on one line.
    pub(super) fn alike(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        match (self, other) {
            (Self::Shoulder(a), Self::Shoulder(b)) => {
                a.far == b.far
                    && (a.long - b.long).length() < SAME
                    && close(a.gauge, b.gauge)
                    && close(a.blade, b.blade)
            }
            (Self::Mortise(a), Self::Mortise(b)) => {
                a.entry == b.entry
                    && (a.into - b.into).length() < 1e-6
                    && a.along.dot(b.along).abs() > 1.0 - 1e-9
                    && close(a.length, b.length)
                    && close(a.width, b.width)
                    && close(a.depth, b.depth)
                    && a.through == b.through
            }
            _ => false,
        }
    }

    /// Where its middle stands on an axis, and what lies there on the other.
    pub(super) fn places(&self, axis: usize, other: usize) -> Vec<(f64, char, (f64, f64))> {
        match self {
            Self::Shoulder(_) | Self::End(_) => Vec::new(),
            Self::Mortise(m) => vec![(m.centre[axis], 'c', (m.centre[other], m.centre[other]))],
        }
    }

    /// Its middle and half its section along its sides, in a view on `face`.
    pub(super) fn cross(&self, face: Face) -> Option<(DVec3, f64)> {
        match self {
            Self::Mortise(m) if axis_side(m.entry).0 == axis_side(face).0 => Some((m.centre, 0.5 * m.length)),
            _ => None,
        }
    }

    /// Places a leader may touch.
    pub(super) fn targets(&self) -> Vec<DVec3> {
        match self {
            Self::Shoulder(s) => vec![s.middle],
            Self::End(e) => vec![e.middle],
            Self::Mortise(m) => {
                // Where the middles of its sides come out at the face.
                let (axis, _) = axis_side(m.entry);
                let out = |p: DVec3| p + m.into * ((m.centre[axis] - p[axis]) / m.into[axis]);
                let across = m.into.cross(m.along);
                let ways = [(m.along, m.length), (across, m.width)];
                ways.into_iter()
                    .flat_map(|(way, long)| [0.5, -0.5].map(|t| out(m.centre + way * (t * long))))
                    .collect()
            }
        }
    }

    /// What a machine is set to, and against what.
    pub(in crate::drawing) fn setting(&self, length: impl Fn(f64) -> String) -> (String, String) {
        match self {
            Self::Shoulder(s) => (
                format!(
                    "{} deep, gauge {}, blade tilted {}",
                    length(s.deep),
                    measure::angle(s.gauge),
                    measure::angle(s.blade)
                ),
                format!("{}, {} from the {}", s.side.name(), length(s.from_end), face_on(0, s.far).name()),
            ),
            Self::End(e) => {
                let (gauge, blade) = saw(e.plane.1);
                (
                    format!("gauge {}, blade tilted {}", measure::angle(gauge), measure::angle(blade)),
                    format!("{}, {} from the shoulders", face_on(0, e.far).name(), length(e.apart)),
                )
            }
            Self::Mortise(m) => {
                let deep = if m.through { "through".into() } else { format!("{} deep", length(m.depth)) };
                let (lean, line) = m.resultant();
                (
                    format!(
                        "{} × {}, {deep}, leaning {}",
                        length(m.width),
                        length(m.length),
                        measure::angle(lean)
                    ),
                    format!("{}, along a line {} off the length", m.entry.name(), measure::angle(line)),
                )
            }
        }
    }
}

impl Mortise {
    /// How far it leans off square to its face, and how far the line it leans
    /// along is off the length of the part (off the width, in an end), degrees.
    fn resultant(&self) -> (f64, f64) {
        let (axis, _) = axis_side(self.entry);
        let (i, j) = across(axis);
        let flat = DVec3::new(self.into[i], self.into[j], 0.0);
        let lean = trig::atan2(flat.length(), self.into[axis].abs()).to_degrees();
        (lean, trig::atan2(flat.y.abs(), flat.x.abs()).to_degrees())
    }

    /// How far its sides are turned from where leaning alone would bring those
    /// of a mortise square to the part, degrees.
    fn turned(&self) -> f64 {
        let (axis, _) = axis_side(self.entry);
        let mut straight = DVec3::ZERO;
        straight[axis] = self.into[axis].signum();
        let mut side = DVec3::ZERO;
        side[across(axis).0] = 1.0;
        // The least turn that brings `straight` to `into`, by Rodrigues' formula.
        let about = straight.cross(self.into);
        let cos = straight.dot(self.into);
        let side = side * cos + about.cross(side) + about * (about.dot(side) / (1.0 + cos));
        let share = side.dot(self.along).abs();
        let off = trig::acos(share.min(1.0)).to_degrees();
        off.min(90.0 - off)
    }
}

/// Mitre gauge off square and tilt of the blade off upright for a cut with this
/// normal, the part lying on its face; degrees.
fn saw(normal: DVec3) -> (f64, f64) {
    let gauge = trig::atan2(normal.y.abs(), normal.x.abs()).to_degrees();
    (gauge, trig::atan2(normal.z.abs(), normal.truncate().length()).to_degrees())
}

/// The other two axes, the longer way of the part first.
fn across(axis: usize) -> (usize, usize) {
    [(1, 2), (0, 2), (0, 1)][axis.min(2)]
}

/// The note of one or more that are alike.
pub(super) fn note(members: &[&Leaning], look: &Look) -> PartNote {
    match members.first() {
        Some(Leaning::Shoulder(first)) => {
            let all: Vec<&Shoulder> = members
                .iter()
                .filter_map(|m| if let Leaning::Shoulder(s) = m { Some(s) } else { None })
                .collect();
            shoulders(first, &all, look)
        }
        Some(Leaning::Mortise(first)) => mortises(first, members.len(), look),
        Some(Leaning::End(end)) => {
            let mut note = blank();
            let mut words = Words::default();
            words.say("tenon sawn parallel to its shoulders");
            note.phrases.push(std::mem::take(&mut words.runs));
            words.length(look, end.apart).say(" from them along the length");
            note.phrases.push(words.runs);
            note.value = Some(end.apart);
            note.fixes = Fixes::facts(vec![Fact::Apart]);
            note
        }
        None => blank(),
    }
}

/// `4 shoulders, 8 deep in the faces, 6 in the edges, 42.3 from the far end at
/// the long point, on face side at edge, gauge 6.9°, blade 9.8°`.
fn shoulders(first: &Shoulder, all: &[&Shoulder], look: &Look) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if all.len() > 1 {
        words.say(&format!("{} shoulders", all.len()));
        fixes.push(Fact::Count);
    } else {
        words.say("shoulder");
    }
    let mut open = true;
    for (axis, name, fix) in [(2, "faces", Fact::Shoulder(Axis::Z)), (1, "edges", Fact::Shoulder(Axis::Y))] {
        let Some(one) = all.iter().find(|s| axis_side(s.side).0 == axis) else { continue };
        words.say(if open { " " } else { ", " }).length(look, one.deep).say(&format!(" deep in the {name}"));
        fixes.push(fix);
        open = false;
    }
    note.phrases.push(std::mem::take(&mut words.runs));
    let end = face_on(0, first.far).name();
    words.length(look, first.from_end).say(&format!(" from the {end} at the long point"));
    fixes.push(Fact::FromEnd);
    note.phrases.push(std::mem::take(&mut words.runs));
    let (face, edge) = (face_on(2, first.long.z > SAME), face_on(1, first.long.y > SAME));
    note.phrases.push(vec![Run::Plain(format!("on {} at {}", face.name(), edge.name()))]);
    if first.gauge > 0.005 {
        words.say("gauge ").angle(first.gauge);
        note.phrases.push(std::mem::take(&mut words.runs));
        fixes.push(Fact::Gauge);
    }
    if first.blade > 0.005 {
        words.say("blade ").angle(first.blade);
        note.phrases.push(words.runs);
        fixes.push(Fact::Blade);
    }
    note.value = Some(if first.blade > 0.005 { first.blade } else { first.gauge });
    note.fixes = Fixes::facts(fixes);
    note
}

/// `2 mortises 20 × 24, through, leaning 10° to the near end, 7° to the edge,
/// 12.1° in all`.
fn mortises(first: &Mortise, n: usize, look: &Look) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if n > 1 {
        words.say(&format!("{n} mortises "));
        fixes.push(Fact::Count);
    } else {
        words.say("mortise ");
    }
    words.length(look, first.width).say(" × ").length(look, first.length);
    fixes.extend([Fact::LeanWidth, Fact::LeanLength]);
    note.phrases.push(std::mem::take(&mut words.runs));
    if first.through {
        note.phrases.push(vec![Run::Plain("through".into())]);
    } else {
        words.length(look, first.depth).say(" deep along its middle");
        fixes.push(Fact::Sunk);
        note.phrases.push(std::mem::take(&mut words.runs));
    }
    let (axis, _) = axis_side(first.entry);
    let (i, j) = across(axis);
    let mut last = 0.0;
    for way in [i, j] {
        let lean = trig::atan2(first.into[way].abs(), first.into[axis].abs()).to_degrees();
        if lean < 0.005 {
            continue;
        }
        let to = face_on(way, first.into[way] > 0.0).name();
        words.say(if last > 0.0 { "" } else { "leaning in " });
        words.angle(lean);
        words.say(&format!(" to the {to}"));
        note.phrases.push(std::mem::take(&mut words.runs));
        fixes.push(Fact::Lean(Axis::of(way)));
        last = lean;
    }
    let turned = first.turned();
    if turned > 0.05 {
        words.say("turned ").angle(turned);
        words.say(" on its length");
        note.phrases.push(words.runs);
        fixes.push(Fact::Turned);
        last = turned;
    }
    note.value = Some(last);
    note.fixes = Fixes::facts(fixes);
    note
}
