//! In words: tenons and bridles.

use super::Named;
use crate::joinery::facts::tenons::{Bridled, BridledAt, Leaning, Mortised, Pegs, Tenoned, Wedges};
use crate::measure::angle;
use crate::problem::wording;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &Tenoned) -> String {
    match facts {
        Tenoned::Mortised(facts) => mortised_summary(words, facts),
        Tenoned::Leaning(facts) => leaning_summary(words, facts),
        Tenoned::Bridled(facts) => bridled_summary(words, facts),
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &Tenoned, _named: Named<'_>) -> String {
    match facts {
        Tenoned::Mortised(facts) => mortised_setting(words, facts),
        Tenoned::Leaning(facts) => leaning_setting(words, facts),
        Tenoned::Bridled(facts) => format!(
            "open mortise {} wide, {} from the {} face",
            words.length(facts.tongue),
            words.length(facts.from_face),
            facts.face.name()
        ),
    }
}

/// `haunched mortise and tenon 8 × 60, 30 mm long, 2 pegs`.
fn mortised_summary(words: Words, facts: &Mortised) -> String {
    let kind = match (facts.deep.is_none(), facts.haunch.is_some()) {
        (false, false) => "",
        (true, false) => "through ",
        (false, true) => "haunched ",
        (true, true) => "through haunched ",
    };
    let noun = if facts.apart.is_some() { "mortises and twin tenons" } else { "mortise and tenon" };
    let wedges = facts.wedges.map_or_else(String::new, |wedges| {
        let what = if wedges.foxed { ("foxed wedge", "foxed wedges") } else { ("wedge", "wedges") };
        format!(", {}", wording::count(wedges.count, what.0, what.1))
    });
    format!(
        "{kind}{noun} {} × {}, {} long{}{wedges}",
        words.figure(facts.thick),
        words.figure(facts.width),
        words.length(facts.length),
        pegged(facts.pegs)
    )
}

/// `, 2 pegs`; nothing without.
fn pegged(pegs: Option<Pegs>) -> String {
    pegs.map_or_else(String::new, |pegs| format!(", {}", wording::count(pegs.count, "peg", "pegs")))
}

/// `mortise 8 × 60, 32 mm deep, haunch 8 × 30, 10 mm deep; peg holes ...`.
fn mortised_setting(words: Words, facts: &Mortised) -> String {
    let (thick, wide) = (words.figure(facts.thick), words.figure(facts.width));
    let apart = facts.apart.map_or_else(String::new, |by| format!("two, {} apart: ", words.length(by)));
    let deep = deep(words, facts.deep);
    let haunch = facts.haunch.map_or_else(String::new, |haunch| {
        format!(", haunch {thick} × {}, {} deep", words.figure(haunch.width), words.length(haunch.deep))
    });
    let pegs = facts.pegs.map_or_else(String::new, |pegs| format!("; {}", peg_holes(words, pegs)));
    let wedges = facts.wedges.map_or_else(String::new, |wedges| format!("; {}", kerfs(words, wedges)));
    format!("{apart}mortise {thick} × {wide}, {deep}{haunch}{pegs}{wedges}")
}

/// `either end opened 2.5 mm at the far face; kerfs 1 wide, 20 deep, 8 mm from the
/// tenon's edges; saw the wedges off flush`.
fn kerfs(words: Words, wedges: Wedges) -> String {
    let (at, last) = if wedges.foxed {
        ("at the bottom", "start the wedges dry and drive the joint home once: it does not come apart again")
    } else {
        ("at the far face", "glue the wedges, drive them in turn and saw them off flush")
    };
    let place = if wedges.count == 1 {
        "in the middle of the tenon".to_owned()
    } else {
        format!("{} from the tenon's edges", words.length(wedges.strip))
    };
    format!(
        "either end opened {} {at}; {} {} wide, {} deep, {place}; {last}",
        words.length(wedges.opened),
        if wedges.count == 1 { "kerf" } else { "kerfs" },
        words.figure(wedges.kerf),
        words.figure(wedges.deep)
    )
}

/// `peg holes ⌀ 8, 17.7 mm from the face, in the tenon 1.5 mm nearer the shoulder`.
fn peg_holes(words: Words, pegs: Pegs) -> String {
    let home = pegs
        .draw
        .map_or_else(String::new, |by| format!(", in the tenon {} nearer the shoulder", words.length(by)));
    format!("peg holes ⌀ {}, {} from the face{home}", words.figure(pegs.thick), words.length(pegs.inset))
}

/// `32 mm deep`, `through`.
fn deep(words: Words, deep: Option<f64>) -> String {
    deep.map_or_else(|| "through".to_owned(), |deep| format!("{} deep", words.length(deep)))
}

/// `leaning mortise and tenon 8 × 30, 25 mm long, 10° off square`.
fn leaning_summary(words: Words, facts: &Leaning) -> String {
    let kind = if facts.deep.is_none() { "through " } else { "" };
    format!(
        "leaning {kind}mortise and tenon {} × {}, {} long, {} off square{}",
        words.figure(facts.thick),
        words.figure(facts.width),
        words.length(facts.length),
        angle(facts.lean),
        pegged(facts.pegs)
    )
}

/// `shoulders: gauge 5° off square, blade tilted 8°; mortise 8 × 30, 27 mm deep, 10°
/// off square`.
fn leaning_setting(words: Words, facts: &Leaning) -> String {
    let pegs = facts.pegs.map_or_else(String::new, |pegs| format!("; {}", peg_holes(words, pegs)));
    format!(
        "shoulders: gauge {} off square, blade tilted {}; mortise {} × {}, {}, {} off square{pegs}",
        angle(facts.gauge),
        angle(facts.blade),
        words.figure(facts.thick),
        words.figure(facts.width),
        deep(words, facts.deep),
        angle(facts.lean)
    )
}

/// `corner bridle, tongue 8 mm`.
fn bridled_summary(words: Words, facts: &Bridled) -> String {
    let at = match facts.at {
        BridledAt::Corner => "corner",
        BridledAt::Tee => "tee",
    };
    format!("{at} bridle, tongue {}", words.length(facts.tongue))
}
