//! Notes of tenons that lean: their shoulders and mortises.

use super::phrases::{Words, blank};
use crate::drawing::page::look::Look;
use crate::drawing::sheets::parts::chosen::PartNote;
use crate::geometry::tolerance::LEAST_ANGLE;
use crate::geometry::trig;
use crate::machining::feature::leaning::{Channel, Leaning, Mortise, Shoulder, across};
use crate::machining::feature::{SAME, axis_side, face_on};
use crate::paper::Run;
use crate::paper::fixes::{Axis, Fact, Fixes};

/// A mortise turned on its length by less is printed as not turned, degrees.
const TURNED: f64 = 0.05;

/// The note of one or more that are alike.
pub(in crate::drawing::sheets::parts) fn note(members: &[&Leaning], look: &Look) -> PartNote {
    match members.first() {
        Some(Leaning::Shoulder(first)) => {
            let all: Vec<&Shoulder> = members
                .iter()
                .filter_map(|m| if let Leaning::Shoulder(s) = m { Some(s) } else { None })
                .collect();
            shoulders(first, &all, look)
        }
        Some(Leaning::Mortise(first)) => mortises(first, members.len(), look),
        Some(Leaning::Channel(first)) => channels(first, members.len(), look),
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
    if first.gauge > LEAST_ANGLE {
        words.say("gauge ").angle(first.gauge);
        note.phrases.push(std::mem::take(&mut words.runs));
        fixes.push(Fact::Gauge);
    }
    if first.blade > LEAST_ANGLE {
        words.say("blade ").angle(first.blade);
        note.phrases.push(words.runs);
        fixes.push(Fact::Blade);
    }
    note.value = Some(if first.blade > LEAST_ANGLE { first.blade } else { first.gauge });
    note.fixes = Fixes::facts(fixes);
    note
}

/// `housing 28.3 wide on the face, 9 deep, walls leaning in 8° to the far end`.
fn channels(first: &Channel, n: usize, look: &Look) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if n > 1 {
        words.say(&format!("{n} {}s ", first.name));
        fixes.push(Fact::Count);
    } else {
        words.say(&format!("{} ", first.name));
    }
    words.length(look, first.high[first.across] - first.low[first.across]).say(" wide on the face");
    fixes.push(Fact::LeanWidth);
    note.phrases.push(std::mem::take(&mut words.runs));
    words.length(look, first.depth).say(" deep");
    fixes.push(Fact::Depth);
    note.phrases.push(std::mem::take(&mut words.runs));
    words.say("walls leaning in ").angle(first.lean);
    words.say(&format!(" to the {}", first.toward.name()));
    note.phrases.push(words.runs);
    fixes.push(Fact::Lean(Axis::of(first.across)));
    note.value = Some(first.lean);
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
        if lean < LEAST_ANGLE {
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
    if turned > TURNED {
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
