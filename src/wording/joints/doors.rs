//! In words: hinges, runners, handles, stops and catches.

use super::{Named, bore};
use crate::joinery::facts::doors::{Bolted, ButtHinges, Catch, CupHinges, DoorFitting, Runner};
use crate::problem::wording::count;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &DoorFitting) -> String {
    match facts {
        DoorFitting::CupHinges(facts) => cup_summary(words, facts),
        DoorFitting::ButtHinges(facts) => {
            let size = words.bought(&[facts.long, facts.wide]);
            format!("{} {size}", count(facts.count, "butt hinge", "butt hinges"))
        }
        DoorFitting::Bolted(facts) => {
            facts.centres.map_or_else(|| "knob".to_owned(), |centres| words.pull(centres))
        }
        DoorFitting::InsertNut(facts) => format!("insert nut {}", facts.thread.name()),
        DoorFitting::StopBlocks(facts) => format!(
            "{} {} × {} × {}",
            count(facts.count, "stop block", "stop blocks"),
            words.figure(facts.long),
            words.figure(facts.thick),
            words.figure(facts.high)
        ),
        DoorFitting::Catch(Catch::Magnetic { long, deep, .. }) => words.magnetic_catch(*long, *deep),
        DoorFitting::Catch(Catch::BoredMagnet { bore }) => words.bored_magnet(bore.wide, bore.deep),
        DoorFitting::Catch(Catch::Ball { bore, .. }) => words.ball_catch(bore.wide, bore.deep),
        DoorFitting::Runner(facts) => format!("runner {} long", words.figure(facts.long)),
        DoorFitting::Slide(_) => "slides".to_owned(),
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &DoorFitting, _named: Named<'_>) -> String {
    match facts {
        DoorFitting::CupHinges(facts) => cup_setting(words, facts),
        DoorFitting::ButtHinges(facts) => butt_setting(words, facts),
        DoorFitting::Bolted(facts) => bolted_setting(words, facts),
        DoorFitting::InsertNut(facts) => {
            format!("bore {}, from the {}", bore(words, facts.bore), facts.from.name())
        }
        DoorFitting::StopBlocks(facts) => format!("pilot {}", bore(words, facts.pilot)),
        DoorFitting::Catch(facts) => catch_setting(words, facts),
        DoorFitting::Runner(facts) => runner_setting(words, facts),
        DoorFitting::Slide(by) => format!("drawn out {}", words.figure(*by)),
    }
}

/// `2 cup hinges ⌀ 35, overlay 16`; `2 cup hinges ⌀ 35, inset, gap 2`.
fn cup_summary(words: Words, facts: &CupHinges) -> String {
    let covers = if facts.overlay > 0.0 {
        format!("overlay {}", words.figure(facts.overlay))
    } else {
        format!("inset, gap {}", words.figure(-facts.overlay))
    };
    let hinges = count(facts.count, "cup hinge", "cup hinges");
    format!("{hinges} ⌀ {}, {covers}", words.bit(facts.cup.wide))
}

/// `cup ⌀ 35 × 13 deep, middle 22.5 from the edge; plate holes ...`.
fn cup_setting(words: Words, facts: &CupHinges) -> String {
    format!(
        "cup ⌀ {} × {} deep, middle {} from the edge; plate holes ⌀ {} × {} deep, 2 at {}, {} from the front",
        words.bit(facts.cup.wide),
        words.figure(facts.cup.deep),
        words.figure(facts.from_edge),
        words.bit(facts.plate_hole.wide),
        words.figure(facts.plate_hole.deep),
        words.figure(facts.plate_apart),
        words.length(facts.plate_line),
    )
}

/// `recess 50 × 14, 1.8 mm deep in both, open to the front; pilot ⌀ 2.1`.
fn butt_setting(words: Words, facts: &ButtHinges) -> String {
    format!(
        "recess {} × {}, {} deep in both, open to the {}; pilot ⌀ {}",
        words.figure(facts.long),
        words.figure(facts.wide),
        words.length(facts.deep),
        facts.open.name(),
        words.figure(facts.pilot)
    )
}

/// `2 holes ⌀ 5 mm right through, from the front`.
fn bolted_setting(words: Words, facts: &Bolted) -> String {
    let holes = count(facts.holes, "hole", "holes");
    let hole = facts.hole;
    let hole = if words.is_metric_bit(hole) { words.bit(hole) } else { words.length(hole) };
    format!("{holes} ⌀ {hole} right through, from the {}", facts.from.name())
}

/// `bore ⌀ 8 × 14 mm deep; recess 44 × 16, 1 mm deep; pilot ⌀ 2 × 11 mm deep`.
fn catch_setting(words: Words, facts: &Catch) -> String {
    match facts {
        Catch::Magnetic { pilot, .. } => format!("pilot {}", bore(words, *pilot)),
        Catch::BoredMagnet { bore: hole } => format!("bore {}", bore(words, *hole)),
        Catch::Ball { bore: hole, recess: [long, wide, deep], pilot } => format!(
            "bore {}; recess {} × {}, {} deep; pilot {}",
            bore(words, *hole),
            words.figure(*long),
            words.figure(*wide),
            words.length(*deep),
            bore(words, *pilot)
        ),
    }
}

/// `case: holes ⌀ 5 × 12 deep at 37, 133 and 261 from the front; drawer: pilot ...`.
fn runner_setting(words: Words, facts: &Runner) -> String {
    let [first, second, last] = facts.case_at.map(|at| words.figure(at));
    format!(
        "case: holes ⌀ {} × {} deep at {first}, {second} and {last} from the front; drawer: pilot {}",
        words.bit(facts.case_hole.wide),
        words.figure(facts.case_hole.deep),
        bore(words, facts.drawer_pilot)
    )
}
