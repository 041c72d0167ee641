//! What an inch shop reads on letter paper: every figure stands on sixteenths of an inch, or
//! is of a kind that cannot: a fit, a slope, an even share, a drill.

use std::collections::{BTreeMap, BTreeSet};

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::measure::Unit;
use rodwright::paper::{Ink, Run};
use rodwright::{draw, examine};

use crate::library::made::{request, started};

/// Why a figure may stand off sixteenths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    /// Room that parts need to go together or to move.
    Fit,
    /// A length along a slope.
    Slope,
    /// What is left of a whole shared evenly.
    Share,
    /// Drills, which come by thirty-seconds and sixty-fourths.
    Drill,
}

/// Figures off sixteenths by type of furniture, as they are printed, and their kinds.
const KNOWN: &[(&str, &[&str], Kind)] = &[
    // A back reaches 1/4 less 1/32 of slack into its grooves.
    ("case", &["1/32", "7/32"], Kind::Fit),
    ("case", &["39 7/32"], Kind::Slope),
    // Slots across the cleats: to the middle of each less half of its width.
    ("table", &["2 29/32", "11 5/32", "19 13/32"], Kind::Share),
    ("chest", &["1/32"], Kind::Fit),
    ("chest", &["43 1/32"], Kind::Slope),
    // Pins and tails, and slots in a batten.
    ("chest", &["1 15/32", "27/32"], Kind::Share),
    // Pilots of hinge screws, #3.
    ("chest", &["7/64", "11/64"], Kind::Drill),
];

/// The coarsest division that is off sixteenths.
const SIXTEENTHS: u32 = 16;

/// Figures off sixteenths on the letter set of what `start` writes for a type, each with a
/// text it stands in.
fn off(name: &str) -> BTreeMap<String, String> {
    let done = examine(&request(name, &started(name, "in"), Vec::new()));
    let (job, worked) = done.worked.unwrap();
    let set = draw(&job, &worked, &Look::new(Paper::Letter, Unit::Inch, Profile::Asme));
    let mut found = BTreeMap::new();
    for mark in set.sheets.iter().flat_map(|sheet| &sheet.marks) {
        let Ink::Text(text) = &mark.ink else { continue };
        let mut whole = String::new();
        for (at, run) in text.runs.iter().enumerate() {
            let read = match run {
                Run::Plain(plain) => plain.clone(),
                Run::Fraction { num, den } => format!(" {num}/{den}"),
            };
            whole.push_str(&read);
            let Run::Fraction { num, den } = run else { continue };
            if *den <= SIXTEENTHS {
                continue;
            }
            let inches = at.checked_sub(1).and_then(|before| match &text.runs[before] {
                Run::Plain(plain) => plain.rsplit(|c: char| !c.is_ascii_digit()).next(),
                Run::Fraction { .. } => None,
            });
            let inches = inches
                .filter(|inches| !inches.is_empty())
                .map_or(String::new(), |inches| format!("{inches} "));
            found.insert(format!("{inches}{num}/{den}"), whole.clone());
        }
    }
    found
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn figures_off_sixteenths_are_of_known_kinds() {
        let (mut odd, mut kinds, mut seen) = (Vec::new(), BTreeSet::new(), BTreeSet::new());
        for name in ["case", "table", "chest"] {
            for (figure, text) in off(name) {
                match KNOWN.iter().find(|(of, known, _)| *of == name && known.contains(&figure.as_str())) {
                    Some((_, _, kind)) => {
                        kinds.insert(kind);
                        seen.insert((name, figure));
                    }
                    None => odd.push(format!("{name}: {figure} in `{text}`")),
                }
            }
        }
        assert!(odd.is_empty(), "{}", odd.join("\n"));
        // What a mend has put on a mark may not come off it again unseen.
        let all =
            KNOWN.iter().flat_map(|(name, known, _)| known.iter().map(move |f| (*name, (*f).to_owned())));
        let gone: Vec<_> = all.filter(|one| !seen.contains(one)).collect();
        assert!(gone.is_empty(), "no longer printed: {gone:?}");
        assert_eq!(kinds.len(), 4);
    }
}
