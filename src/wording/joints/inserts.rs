//! In words: loose tenons, dowels, biscuits, screws, connectors, pins.

use super::{Named, bore};
use crate::joinery::facts::deep::Deep;
use crate::joinery::facts::inserts::{
    Dowelled, Heads, Inserted, LooseTenons, PocketScrewed, Screwed, ShelfPins,
};
use crate::measure::angle;
use crate::problem::wording::count;
use crate::wording::Words;

/// Depths that differ by less are one, mm.
const SAME: f64 = 0.01;

/// What it is called.
pub(super) fn summary(words: Words, facts: &Inserted) -> String {
    match facts {
        Inserted::Screwed(facts) => screwed_summary(words, facts),
        Inserted::PocketScrewed(facts) => format!(
            "{} {} from the {}",
            count(facts.count, "pocket screw", "pocket screws"),
            words.bought(&[facts.thick, facts.length]),
            facts.from.name()
        ),
        Inserted::Dowelled(facts) => {
            let size = words.bought(&[facts.thick, facts.length]);
            format!("{} {size}", count(facts.count, "dowel", "dowels"))
        }
        Inserted::Biscuits(facts) => {
            format!("{} size {}", count(facts.count, "biscuit", "biscuits"), facts.size.number())
        }
        Inserted::LooseTenons(facts) => format!(
            "{} {}",
            count(facts.count, "loose tenon", "loose tenons"),
            words.tenon(&[facts.thick, facts.width, facts.length])
        ),
        Inserted::ShelfPins(facts) => format!("on shelf pins ⌀ {}", words.bit(facts.hole.wide)),
        Inserted::Fitted(facts) if facts.count == 1 => facts.name.clone(),
        Inserted::Fitted(facts) => format!("{} × {}", facts.count, facts.name),
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &Inserted, named: Named<'_>) -> String {
    match facts {
        Inserted::Screwed(facts) => screwed_setting(words, facts),
        Inserted::PocketScrewed(facts) => pocket_setting(words, facts),
        Inserted::Dowelled(facts) => dowelled_setting(words, facts, named),
        Inserted::Biscuits(facts) => {
            format!("slots {} × {}", words.figure(facts.slot), words.length(facts.deep))
        }
        Inserted::LooseTenons(facts) => tenons_setting(words, facts, named),
        Inserted::ShelfPins(facts) => pins_setting(words, facts),
        Inserted::Fitted(_) => String::new(),
    }
}

/// `4 screws 4 × 35, plugged`.
fn screwed_summary(words: Words, facts: &Screwed) -> String {
    let heads = match facts.heads {
        Heads::Unsaid => "",
        Heads::Countersunk { .. } => ", countersunk",
        Heads::Sunk(_) => ", counterbored",
        Heads::Plugged(_) => ", plugged",
    };
    let rows = match (facts.rows, facts.staggered) {
        (0 | 1, _) => String::new(),
        (rows, false) => format!(" in {rows} rows"),
        (rows, true) => format!(" in {rows} rows, staggered"),
    };
    let slots = facts
        .slots
        .map_or_else(String::new, |slots| format!(" in slots, free to move {}", words.length(slots.moves)));
    let size = words.screw([facts.thick, facts.length]);
    format!("{} {size}{rows}{heads}{slots}", count(facts.count, "screw", "screws"))
}

/// `counterbore ⌀ 10 × 7.5 deep, clearance ⌀ 4, pilot ⌀ 2.8 × 20 mm deep`.
fn screwed_setting(words: Words, facts: &Screwed) -> String {
    let heads = match facts.heads {
        Heads::Unsaid => String::new(),
        Heads::Countersunk { wide } => format!("countersink to ⌀ {}, ", words.figure(wide)),
        Heads::Sunk(over) | Heads::Plugged(over) => {
            format!("counterbore ⌀ {} × {} deep, ", words.figure(over.wide), words.figure(over.deep))
        }
    };
    let clear = facts.slots.map_or_else(
        || format!("clearance ⌀ {}", words.bit(facts.clear)),
        |slots| {
            let [long, wide] = slots.size.map(|mm| words.figure(mm));
            let fixed = if slots.fixed > 0 { ", the middle one round" } else { "" };
            format!("slots {long} × {wide}{fixed}")
        },
    );
    format!("{heads}{clear}, pilot {}", bore(words, facts.pilot))
}

/// `pockets ⌀ 9.5 at 15°, bore ⌀ 4, shoulder 12 mm from the end along the bore`.
fn pocket_setting(words: Words, facts: &PocketScrewed) -> String {
    format!(
        "pockets ⌀ {} at {}, bore ⌀ {}, shoulder {} from the end along the bore",
        words.figure(facts.pocket),
        angle(facts.slope),
        words.figure(facts.thick),
        words.length(facts.shoulder)
    )
}

/// `bore ⌀ 8, 27 deep in Shelf, 15 in Left side`.
fn dowelled_setting(words: Words, facts: &Dowelled, named: Named<'_>) -> String {
    format!("bore ⌀ {}, {}", words.figure(facts.thick), both(words, facts.holes, named))
}

/// `mortises 8 × 40, 22 mm deep`; in inches `mortises 8 × 40 mm, 7/8″ deep`, as the cutter
/// for the tenon is sold.
fn tenons_setting(words: Words, facts: &LooseTenons, named: Named<'_>) -> String {
    format!("mortises {}, {}", words.tenon(&[facts.thick, facts.width]), both(words, facts.mortises, named))
}

/// `22 mm deep`; where the parts differ `27 deep in Shelf, 15 in Left side`.
fn both(words: Words, [a, b]: [Deep; 2], named: Named<'_>) -> String {
    if (a.deep - b.deep).abs() < SAME {
        return format!("{} deep", words.length(a.deep));
    }
    format!(
        "{} deep in {}, {} in {}",
        words.figure(a.deep),
        named(a.part),
        words.figure(b.deep),
        named(b.part)
    )
}

/// `2 rows of 5 holes ⌀ 5 × 12 deep, 32 apart, 37 mm from the shelf's edges`.
fn pins_setting(words: Words, facts: &ShelfPins) -> String {
    format!(
        "{} rows of {} holes ⌀ {} × {} deep, {} apart, {} from the shelf's edges",
        facts.rows,
        facts.holes,
        words.bit(facts.hole.wide),
        words.figure(facts.hole.deep),
        words.figure(facts.pitch),
        words.length(facts.setback)
    )
}
