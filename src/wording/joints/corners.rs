//! In words: mitres, fingers, dovetails.

use super::{Named, alike};
use crate::geometry::trig;
use crate::joinery::facts::corners::{CompoundSaw, Connectors, CornerJoint, Dovetailed, Fingered, Mitred};
use crate::measure::angle;
use crate::problem::wording::count;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &CornerJoint) -> String {
    match facts {
        CornerJoint::Mitred(mitre) => mitred_summary(mitre),
        CornerJoint::CompoundMitre(_) => "compound mitre".into(),
        CornerJoint::Folded { tilt, .. } => format!("folded mitre {}", angle(*tilt)),
        CornerJoint::Closing { tilt } => format!("closing mitre {}", angle(*tilt)),
        CornerJoint::Fingered(fingers) => fingered_summary(words, fingers),
        CornerJoint::Dovetailed(tails) => dovetailed_summary(words, tails),
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &CornerJoint, named: Named<'_>) -> String {
    match facts {
        CornerJoint::Mitred(mitre) => mitred_setting(words, mitre),
        CornerJoint::CompoundMitre(saws) => compound_setting(saws, named),
        CornerJoint::Folded { tilt, deep } => {
            format!("V groove {}, {} deep", angle(2.0 * tilt), words.length(*deep))
        }
        CornerJoint::Closing { tilt } => format!("saw tilted {}", angle(*tilt)),
        CornerJoint::Fingered(fingers) => fingered_setting(words, fingers, named),
        CornerJoint::Dovetailed(tails) => dovetailed_setting(words, tails),
    }
}

/// `mitred 45°, 3 clamping connectors`.
fn mitred_summary(facts: &Mitred) -> String {
    let text = format!("mitred {}", angle(facts.saws[0]));
    match facts.connectors {
        Some(found) => {
            format!("{text}, {}", count(found.count, "clamping connector", "clamping connectors"))
        }
        None => text,
    }
}

/// `saw tilted 45°`, of boards that lie flat `mitre fence 45°`, and what connectors need.
fn mitred_setting(words: Words, facts: &Mitred) -> String {
    let [first, second] = facts.saws;
    let how = if facts.flat { "mitre fence" } else { "saw tilted" };
    let text = if alike(first, second) {
        format!("{how} {}", angle(first))
    } else {
        format!("{how} {} and {}", angle(first), angle(second))
    };
    match &facts.connectors {
        Some(connectors) => format!("{text}; {}", pockets(words, connectors)),
        None => text,
    }
}

/// `pockets 50 × 7, 9 deep, 12 from the inner corner; key hole ⌀ 6 mm beside the mitre`.
fn pockets(words: Words, facts: &Connectors) -> String {
    let [length, width, depth] = facts.pocket.map(|size| words.figure(size));
    format!(
        "pockets {length} × {width}, {depth} deep, {} from the inner corner; key hole ⌀ {} beside the mitre",
        words.figure(facts.from_inner),
        words.length(facts.key)
    )
}

/// `gauge 20.7° off square, blade tilted 41.4°`, for each board where they differ.
fn compound_setting(saws: &[CompoundSaw; 2], named: Named<'_>) -> String {
    let set = |saw: &CompoundSaw| {
        format!("gauge {} off square, blade tilted {}", angle(saw.gauge), angle(saw.blade))
    };
    let [a, b] = saws;
    let (first, second) = (set(a), set(b));
    if first == second { first } else { format!("{}: {first}; {}: {second}", named(a.part), named(b.part)) }
}

/// `9 fingers 12 mm wide, outer 8 mm`.
fn fingered_summary(words: Words, facts: &Fingered) -> String {
    let text = format!("{} fingers {} wide", facts.count, words.length(facts.width));
    match facts.outer {
        Some(outer) => format!("{text}, outer {}", words.length(outer)),
        None => text,
    }
}

/// `fingers 12 mm wide, 15 mm deep`.
fn fingered_setting(words: Words, facts: &Fingered, named: Named<'_>) -> String {
    let [a, b] = facts.depths;
    let deep = if alike(a.deep, b.deep) {
        format!("{} deep", words.length(a.deep))
    } else {
        format!(
            "{} deep in {}, {} in {}",
            words.figure(a.deep),
            named(a.part),
            words.length(b.deep),
            named(b.part)
        )
    };
    format!("fingers {} wide, {deep}", words.length(facts.width))
}

/// Steps to one that a slope is told in.
const FINEST: f64 = 100.0;

/// `4 lapped dovetails 1:8, lap 5 mm`.
fn dovetailed_summary(words: Words, facts: &Dovetailed) -> String {
    let (one, many) =
        if facts.lap.is_some() { ("lapped dovetail", "lapped dovetails") } else { ("dovetail", "dovetails") };
    let text = format!("{} 1:{}", count(facts.count, one, many), (facts.pitch * FINEST).round() / FINEST);
    match facts.lap {
        Some(lap) => format!("{text}, lap {}", words.length(lap)),
        None => text,
    }
}

/// `slope 7.1°, pins 6 at the narrow face, half-pins 6, tails 18 mm at the end`.
fn dovetailed_setting(words: Words, facts: &Dovetailed) -> String {
    format!(
        "slope {}, pins {} at the narrow face, half-pins {}, tails {} at the end",
        angle(trig::atan2(1.0, facts.pitch).to_degrees()),
        words.figure(facts.pin),
        words.figure(facts.half_pin),
        words.length(facts.tail)
    )
}
