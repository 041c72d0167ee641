//! Dovetails and the pockets of pocket screws as a drawing reads them.

use super::chosen::PartNote;
use super::feature::{Feature, Form, SAME, axis_of, axis_side, circle, face_on};
use super::phrases::{Words, blank};
use crate::drawing::page::look::Look;
use crate::geometry::{DVec3, trig};
use crate::joinery::CutKind;
use crate::model::Face;
use crate::paper::Run;
use crate::paper::fixes::{Axis, Fact, Fixes};
use crate::solid::Prism;

/// A socket with sides that lean: for a pin or a dovetail. Part coordinates, mm.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Flared {
    /// Least corner inside the blank.
    pub(super) min: DVec3,
    /// Greatest corner inside the blank.
    pub(super) max: DVec3,
    /// The face it is cut from.
    pub(in crate::drawing) entry: Face,
    /// The axis along the corner.
    pub(super) run: usize,
    /// The axis along which it widens.
    pub(super) rise: usize,
    /// Width at the lower and at the higher place of `rise`.
    pub(super) widths: (f64, f64),
    /// One in this.
    pub(super) ratio: f64,
    /// How many of its sides lean: one beside an edge of the board.
    pub(super) leaning: usize,
    /// Whether it comes out behind.
    pub(super) through: bool,
    /// How much of the blank there is along `rise`.
    blank_rise: f64,
}

/// The pocket of a pocket screw with the bore that goes on from it.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct SlopedBore {
    /// Where its axis crosses the face.
    pub(super) centre: DVec3,
    /// Unit vector into the wood.
    pub(super) into: DVec3,
    /// Diameter of the pocket.
    pub(in crate::drawing) diameter: f64,
    /// The cut that goes on, and its diameter.
    pub(super) bore: Option<(usize, f64)>,
    /// From the shoulder along the bore to where it comes out.
    pub(in crate::drawing) seat: f64,
    /// The face it is bored from.
    pub(in crate::drawing) entry: Face,
}

/// Whether what a cut leaves at a corner is sized alike wherever it stands.
pub(super) fn at_corner(kind: CutKind) -> bool {
    matches!(kind, CutKind::FingerSocket | CutKind::PinSocket | CutKind::TailSocket)
}

/// Which end a shoulder is cut at, false the near: none for other cuts and for
/// one that runs from end to end.
pub(super) fn shoulder_end(feature: &Feature, size: DVec3) -> Option<bool> {
    let Form::Pocket { min, max, round: 0.0, .. } = &feature.form else { return None };
    let (near, far) = (min.x < SAME, max.x > size.x - SAME);
    (feature.kind == CutKind::Shoulder && near != far).then_some(far)
}

/// A four-cornered outline with two sides along one axis, as a socket.
pub(super) fn flared(shape: &Prism, size: DVec3, sweep: usize) -> Option<Flared> {
    let (run, rise) = (axis_of(shape.at.x)?, axis_of(shape.at.y)?);
    let [ring] = shape.outline.rings.as_slice() else { return None };
    let points: Vec<DVec3> =
        ring.points.iter().map(|p| shape.at.point(DVec3::new(p.x, p.y, shape.from))).collect();
    let (lo, hi) = span(points.iter().map(|p| p[rise]));
    let at = |level: f64| span(points.iter().filter(|p| (p[rise] - level).abs() < SAME).map(|p| p[run]));
    let (low, high) = (at(lo), at(hi));
    if points.len() != 4 || !low.0.is_finite() || !high.0.is_finite() || hi - lo < SAME {
        return None;
    }
    // The sides where they cross the blank.
    let (from, to) = (lo.max(0.0), hi.min(size[rise]));
    let on = |level: f64| {
        let t = (level - lo) / (hi - lo);
        let side = |a: f64, b: f64| (a + (b - a) * t).clamp(0.0, size[run]);
        (side(low.0, high.0), side(low.1, high.1))
    };
    let (first, last) = (on(from), on(to));
    let leans = [last.0 - first.0, last.1 - first.1].map(f64::abs);
    let leaning = leans.iter().filter(|l| **l > SAME).count();
    let lean = leans[0].max(leans[1]);
    let a = shape.at.point(DVec3::new(0.0, 0.0, shape.from))[sweep];
    let b = shape.at.point(DVec3::new(0.0, 0.0, shape.to))[sweep];
    let (near, far) = (a.min(b).max(0.0), a.max(b).min(size[sweep]));
    if far - near < SAME || leaning == 0 {
        return None;
    }
    let opens = (near < SAME, far > size[sweep] - SAME);
    let (mut min, mut max) = (DVec3::ZERO, DVec3::ZERO);
    (min[run], max[run]) = (first.0.min(last.0), first.1.max(last.1));
    (min[rise], max[rise]) = (from, to);
    (min[sweep], max[sweep]) = (near, far);
    Some(Flared {
        min,
        max,
        entry: face_on(sweep, opens.1 && !opens.0),
        run,
        rise,
        widths: (first.1 - first.0, last.1 - last.0),
        ratio: (to - from) / lean,
        leaning,
        through: opens.0 && opens.1,
        blank_rise: size[rise],
    })
}

/// Least and greatest.
fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
}

impl Flared {
    /// Width of its narrow side, mm.
    pub(in crate::drawing) fn narrow(&self) -> f64 {
        self.widths.0.min(self.widths.1)
    }

    /// One in this, to a hundredth.
    pub(in crate::drawing) fn ratio(&self) -> f64 {
        (self.ratio * 100.0).round() / 100.0
    }

    /// How deep it is cut from the end, mm.
    pub(in crate::drawing) fn deep(&self) -> f64 {
        self.max.x - self.min.x
    }

    /// Whether two are alike but for their place.
    pub(super) fn alike(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        let sorted = |f: &Self| (f.widths.0.min(f.widths.1), f.widths.0.max(f.widths.1));
        let ((a, b), (c, d)) = (sorted(self), sorted(other));
        (self.run, self.rise, self.leaning, self.through)
            == (other.run, other.rise, other.leaning, other.through)
            && close(a, c)
            && close(b, d)
            && (0..3).all(|i| close(self.max[i] - self.min[i], other.max[i] - other.min[i]))
    }

    /// Where it stands along the corner: its middle, or the low side of one that
    /// leans to one side only; `None` at an edge of the board.
    pub(super) fn place(&self, size: DVec3) -> Option<(f64, char)> {
        let (low, high) = (self.min[self.run], self.max[self.run]);
        if self.leaning == 2 {
            return Some((f64::midpoint(low, high), 'c'));
        }
        (low > SAME && high < size[self.run] - SAME).then_some((low, 'a'))
    }

    /// Places on its outline a leader may touch: its sides, then its bottom.
    pub(super) fn targets(&self, size: DVec3) -> Vec<DVec3> {
        let middle = f64::midpoint(self.min[self.rise], self.max[self.rise]);
        let lean = 0.5 * (self.widths.0 - self.widths.1).abs() / self.leaning as f64;
        let mut list = Vec::new();
        for (at, inward) in [(self.min[self.run], lean), (self.max[self.run], -lean)] {
            if at > SAME && at < size[self.run] - SAME {
                let mut p = 0.5 * (self.min + self.max);
                (p[self.run], p[self.rise]) = (at + inward, middle);
                list.push(p);
            }
        }
        for level in [self.min[self.rise], self.max[self.rise]] {
            if level > SAME && level < size[self.rise] - SAME {
                let mut p = 0.5 * (self.min + self.max);
                p[self.rise] = level;
                list.push(p);
            }
        }
        list
    }
}

/// Reads the pockets of pocket screws, each with the bore that goes on.
pub(super) fn join_bores(features: &mut Vec<Feature>, size: DVec3) {
    let bores: Vec<Feature> = features
        .iter()
        .filter(|f| f.kind == CutKind::ScrewHole && matches!(f.form, Form::Askew { .. }))
        .cloned()
        .collect();
    let mut gone = Vec::new();
    for feature in features.iter_mut().filter(|f| f.kind == CutKind::ScrewPocket) {
        let Form::Askew { centre, into, width, depth, .. } = feature.form else { continue };
        let bottom = centre + into * depth;
        let bore = bores.iter().find_map(|b| {
            let Form::Askew { centre: c, into: d, width: w, .. } = b.form else { return None };
            let on = (c - bottom).length() < SAME && (d - into).length() < 1e-6;
            on.then_some((b.cut, w))
        });
        gone.extend(bore.map(|b| b.0));
        // Out at the end or edge it looks to most, in at a broad face.
        let ahead = usize::from(into.x.abs() <= into.y.abs());
        let end = if into[ahead] > 0.0 { size[ahead] } else { 0.0 };
        let far = into.z < 0.0;
        let face = if far { size.z } else { 0.0 };
        if into[ahead].abs() < 1e-6 || into.z.abs() < 1e-6 {
            continue;
        }
        feature.form = Form::SlopedBore(SlopedBore {
            centre: bottom + into * ((face - bottom.z) / into.z),
            into,
            diameter: width,
            bore,
            seat: (end - bottom[ahead]) / into[ahead],
            entry: face_on(2, far),
        });
    }
    features.retain(|f| !gone.contains(&f.cut));
}

/// A hole that slants in from a broad face: its place and depth are those of its axis,
/// from the face on.
pub(super) fn slanting_hole(shape: &Prism, size: DVec3) -> Option<Form> {
    let (_, radius) = circle(&shape.outline)?;
    let into = shape.at.z;
    let face = if into.z < 0.0 { size.z } else { 0.0 };
    let start = shape.at.point(DVec3::new(0.0, 0.0, shape.from));
    let before = (face - start.z) / into.z;
    Some(Form::Askew {
        centre: start + into * before,
        into,
        along: DVec3::Y,
        length: 2.0 * radius,
        width: 2.0 * radius,
        depth: shape.to - shape.from - before,
        from_inner: None,
    })
}

/// How far a way into the wood slopes to the face, degrees.
pub(in crate::drawing) fn slope(into: DVec3) -> f64 {
    trig::atan2(into.z.abs(), into.truncate().length()).to_degrees()
}

impl SlopedBore {
    /// Slope to the face, degrees.
    pub(in crate::drawing) fn slope(&self) -> f64 {
        slope(self.into)
    }

    /// Whether two are alike but for their place and end.
    pub(super) fn alike(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        self.entry == other.entry
            && (0..3).all(|i| close(self.into[i].abs(), other.into[i].abs()))
            && close(self.diameter, other.diameter)
            && close(self.seat, other.seat)
            && match (self.bore, other.bore) {
                (Some((_, a)), Some((_, b))) => close(a, b),
                (None, None) => true,
                _ => false,
            }
    }

    /// `2 screw pockets Ø9.5 at 15°, shoulder 12.8 from the end, bore Ø4`.
    pub(super) fn note(&self, n: usize, look: &Look) -> PartNote {
        let mut note = blank();
        let mut words = Words::default();
        let mut fixes = Vec::new();
        if n > 1 {
            words.say(&format!("{n} "));
            fixes.push(Fact::Count);
        }
        words.say(if n > 1 { "screw pockets Ø" } else { "screw pocket Ø" }).length(look, self.diameter);
        words.say(" at ").angle(self.slope());
        note.phrases.push(std::mem::take(&mut words.runs));
        fixes.extend([Fact::Diameter, Fact::Angle, Fact::Sunk]);
        let end = if self.into.x.abs() > self.into.y.abs() { "end" } else { "edge" };
        words.say("shoulder ").length(look, self.seat).say(&format!(" from the {end} along the bore"));
        note.phrases.push(std::mem::take(&mut words.runs));
        if let Some((_, bore)) = self.bore {
            words.say("bore Ø").length(look, bore);
            note.phrases.push(words.runs);
            fixes.push(Fact::Width);
        }
        note.value = Some(self.bore.map_or(self.seat, |b| b.1));
        note.fixes = Fixes::facts(fixes);
        note
    }
}

/// `3 pin sockets 6 at the end, slope 1:8, 15 deep`; `4 tail sockets 22.5 on
/// the back side, slope 1:8, 12 deep`.
pub(super) fn flared_note(kind: CutKind, socket: &Flared, n: usize, look: &Look) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if n > 1 {
        words.say(&format!("{n} "));
        fixes.push(Fact::Count);
    }
    let half = if socket.leaning == 1 { "half-" } else { "" };
    let plural = if n > 1 { "s" } else { "" };
    let (narrow, wide) = (socket.widths.0.min(socket.widths.1), socket.widths.0.max(socket.widths.1));
    let high = socket.widths.1 > socket.widths.0;
    let run = Axis::of(socket.run);
    if kind == CutKind::PinSocket {
        words.say(&format!("{half}pin socket{plural} ")).length(look, narrow).say(" at the end");
        fixes.push(Fact::Flank(socket.leaning, run));
    } else {
        let place = if socket.lapped() {
            "at the lap".into()
        } else {
            format!("on the {}", face_on(socket.rise, high).name())
        };
        words.say(&format!("tail socket{plural} ")).length(look, wide).say(&format!(" {place}"));
        fixes.push(Fact::Flank(0, run));
    }
    note.phrases.push(std::mem::take(&mut words.runs));
    note.phrases.push(vec![Run::Plain(format!("slope 1:{}", socket.ratio()))]);
    fixes.push(Fact::Slope);
    let rise = socket.max[socket.rise] - socket.min[socket.rise];
    let (sweep, _) = axis_side(socket.entry);
    let deep = socket.max[sweep] - socket.min[sweep];
    let mut last = rise;
    if kind == CutKind::PinSocket {
        words.length(look, rise).say(" deep");
        fixes.push(Fact::Rise(Axis::of(socket.rise)));
    } else {
        if socket.lapped() {
            words.length(look, rise).say(&format!(" from the {}", face_on(socket.rise, !high).name()));
            note.phrases.push(std::mem::take(&mut words.runs));
            fixes.push(Fact::Rise(Axis::of(socket.rise)));
        }
        words.length(look, deep).say(" deep");
        fixes.push(Fact::Depth);
        last = deep;
    }
    note.phrases.push(words.runs);
    note.value = Some(last);
    note.fixes = Fixes::facts(fixes);
    note
}

impl Flared {
    /// Whether its wide side stops inside the board.
    fn lapped(&self) -> bool {
        let rise = self.max[self.rise] - self.min[self.rise];
        // Seen from an end, a through socket takes the whole thickness.
        matches!(self.entry, Face::NearEnd | Face::FarEnd) && self.blank_rise > rise + SAME
    }
}
