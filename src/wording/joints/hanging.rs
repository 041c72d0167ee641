//! In words: cleats, brackets, clips, points, feet and buttons.

use super::{Named, bore};
use crate::joinery::facts::hanging::{Buttoned, Cleat, Clips, Hanging, Rods, Slotted};
use crate::measure::angle;
use crate::problem::wording::count;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &Hanging) -> String {
    match facts {
        Hanging::Cleat(facts) => {
            let fixings = count(facts.fixings, "wall fixing", "wall fixings");
            format!("hangs on a cleat, bevel {}, {fixings}", angle(facts.bevel))
        }
        Hanging::Rods(facts) => {
            let size = words.bought(&[facts.thick, facts.length]);
            format!("{} ⌀ {size} out of the wall", count(facts.count, "rod", "rods"))
        }
        Hanging::Clips(facts) => count(facts.count, "pair of clips", "pairs of clips"),
        Hanging::Points(facts) => {
            let points = count(facts.count, "glazing point", "glazing points");
            format!("{points}, {} apart at most", words.length(facts.spacing))
        }
        Hanging::Feet(facts) => {
            let feet = count(facts.count, "levelling foot", "levelling feet");
            format!("{feet} {}", facts.thread.name())
        }
        Hanging::Buttoned(facts) => {
            let buttons = count(facts.count, "button", "buttons");
            format!("{buttons}, top free to move {}", words.length(facts.moves))
        }
        Hanging::Slotted(facts) => {
            let screws = count(facts.count, "screw", "screws");
            let size = words.screw([facts.thick, facts.length]);
            format!("{screws} {size} in slots, top free to move {}", words.length(facts.moves))
        }
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &Hanging, _named: Named<'_>) -> String {
    match facts {
        Hanging::Cleat(facts) => cleat_setting(words, facts),
        Hanging::Rods(facts) => rods_setting(words, facts),
        Hanging::Clips(facts) => clips_setting(words, facts),
        Hanging::Points(_) => String::new(),
        Hanging::Feet(facts) => format!("bore {}, from below", bore(words, facts.bore)),
        Hanging::Buttoned(facts) => buttoned_setting(words, facts),
        Hanging::Slotted(facts) => slotted_setting(words, facts),
    }
}

/// `saw tilted 45°, bevel 18 across; fixing holes ⌀ 6.5, 30 mm from the lower edge`.
fn cleat_setting(words: Words, facts: &Cleat) -> String {
    format!(
        "saw tilted {}, bevel {} across; fixing holes ⌀ {}, {} from the lower edge",
        angle(facts.bevel),
        words.figure(facts.across),
        words.bit(facts.hole),
        words.length(facts.from_edge)
    )
}

/// `recess 520 × 20 × 5 deep, then bore ⌀ 12.5 × 152 deep, 20 mm from the top`.
fn rods_setting(words: Words, facts: &Rods) -> String {
    let recess = facts.recess.map_or_else(String::new, |size| {
        let [long, high, deep] = size.map(|mm| words.figure(mm));
        format!("recess {long} × {high} × {deep} deep, then ")
    });
    format!(
        "{recess}bore ⌀ {} × {} deep, {} from the {}",
        words.bit(facts.bore.wide),
        words.figure(facts.bore.deep),
        words.length(facts.from_face),
        facts.face.name()
    )
}

/// `pilot ⌀ 2.5 × 16 deep, 2 at 30 mm`.
fn clips_setting(words: Words, facts: &Clips) -> String {
    format!(
        "pilot ⌀ {} × {} deep, 2 at {}",
        words.bit(facts.pilot.wide),
        words.figure(facts.pilot.deep),
        words.length(facts.apart)
    )
}

/// `slots 46 × 11 × 14 deep, 12 from the top; pilot ⌀ 2.8 × 14 mm deep`.
fn buttoned_setting(words: Words, facts: &Buttoned) -> String {
    let [long, wide, deep] = facts.slot.map(|mm| words.figure(mm));
    format!(
        "slots {long} × {wide} × {deep} deep, {} from the top; pilot {}",
        words.figure(facts.down),
        bore(words, facts.pilot)
    )
}

/// `slots 10.5 × 4.5; pilot ⌀ 2.8 × 20 mm deep`.
fn slotted_setting(words: Words, facts: &Slotted) -> String {
    let [long, wide] = facts.slot.map(|mm| words.figure(mm));
    format!("slots {long} × {wide}; pilot {}", bore(words, facts.pilot))
}
