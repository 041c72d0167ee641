//! Every word of joinery in thirty settings of its options and of the sizes and
//! angles of its parts, drawn by lot from `tests/joints/lot/by_lot.txt`: closed
//! solids, no part in another, a set that the drawing lint is silent on, and parts
//! that come back from the sizes printed. That both sides of a joint match is held
//! by the test of its own, with closed forms, named beside it there.
//! `ONLY=word` looks at one word, `TRIES=100` at more settings, `LOOKS=all` at each
//! of them on all papers.

use std::collections::BTreeSet;
use std::panic::{AssertUnwindSafe, catch_unwind};

use rayon::prelude::*;
use rodwright::draw;
use rodwright::drawing::{Look, Paper, Profile};
use rodwright::joinery::{CutKind, WorkedJob};
use rodwright::measure::Unit;
use rodwright::model::Job;
use rodwright::paper::lint::judge_set;
use rodwright::problem::{Severity, render_all};
use rodwright::solid::{Body, Standing};

use crate::drawing::parts::all_come_back;
use crate::support::lot::Lot;
use crate::support::scripts::request;
use crate::support::solids::is_closed;

/// A word on parts of one kind.
pub(crate) struct Family {
    pub(crate) word: String,
    /// The test that holds both sides of the joint to one another.
    pub(crate) held_by: String,
    pub(crate) body: String,
    /// What is drawn for each option, and whether it is always given.
    options: Vec<(String, bool)>,
}

/// The words of the file, parts that several share put in.
pub(crate) fn families() -> Vec<Family> {
    let text = std::fs::read_to_string("tests/joints/lot/by_lot.txt").unwrap();
    let (words, shared) = text.split_once("\n=== ").unwrap();
    let shared: Vec<(&str, &str)> = shared.split("\n=== ").map(|one| one.split_once('\n').unwrap()).collect();
    let one = |block: &str| {
        let (head, lines) = block.split_once('\n').unwrap();
        let (word, held_by) = head.split_once(' ').unwrap();
        let (mut body, mut options) = (String::new(), Vec::new());
        for line in lines.lines() {
            match line.strip_prefix("= ") {
                Some(option) => {
                    let always = option.split_once(' ').unwrap().0.ends_with('!');
                    options.push((option.replacen('!', "", usize::from(always)), always));
                }
                None => body.extend([shared.iter().find(|(n, _)| *n == line).map_or(line, |(_, b)| b), "\n"]),
            }
        }
        Family { word: word.into(), held_by: held_by.into(), body, options }
    };
    words.split("\n--- ").skip(1).map(one).collect()
}

/// A text with what stands between `~` and `~` drawn.
pub(crate) fn drawn(text: &str, lot: &mut Lot) -> String {
    let mut all = String::new();
    for (k, part) in text.split('~').enumerate() {
        if k % 2 == 0 {
            all += part;
        } else if let Some((from, to)) = part.split_once("..") {
            let number = lot.between(from.parse().unwrap(), to.parse().unwrap());
            all.extend([format!("{number:?}")]);
        } else {
            let among: Vec<&str> = part.split('|').collect();
            all += among[lot.of(among.len())];
        }
    }
    all
}

/// One setting: the script, and the options given.
pub(crate) fn setting(family: &Family, lot: &mut Lot) -> (String, BTreeSet<String>) {
    let mut given: Vec<(String, String)> = Vec::new();
    for (template, always) in &family.options {
        if !always && lot.of(4) != 0 {
            continue;
        }
        // `offset 4 toward "front"` gives two options, `a 3, b 4` too.
        let text = drawn(template, lot).replace(" toward ", ", toward ");
        for one in split_top(&text) {
            let (key, value) = one.trim().split_once(' ').unwrap();
            if given.iter().all(|(known, _)| known != key) {
                given.push((key.into(), value.into()));
            }
        }
    }
    let list: Vec<String> = given.iter().map(|(k, v)| format!("{k}: {v}")).collect();
    let options = if list.is_empty() { String::new() } else { format!(", #{{ {} }}", list.join(", ")) };
    let body = drawn(&family.body, lot).replace("WORK", &options);
    let text = format!("job(\"By lot\", #{{ unit: \"mm\" }});\npiece(\"Piece\");\n{body}");
    (text, given.into_iter().map(|(key, _)| key).collect())
}

/// Parts of a text between commas that stand in no bracket.
fn split_top(text: &str) -> Vec<String> {
    let (mut parts, mut deep) = (vec![String::new()], 0);
    for c in text.chars() {
        deep += i32::from(c == '[') - i32::from(c == ']');
        if c == ',' && deep == 0 {
            parts.push(String::new());
        } else {
            parts.last_mut().unwrap().push(c);
        }
    }
    parts
}

/// The looks that settings take in turn.
pub(crate) const LOOKS: [(Paper, Unit, Profile); 4] = [
    (Paper::A3, Unit::Mm, Profile::Iso),
    (Paper::Letter, Unit::Inch, Profile::Asme),
    (Paper::A4, Unit::Mm, Profile::Iso),
    (Paper::Tabloid, Unit::Inch, Profile::Asme),
];

/// Whether all that is cut is told by figures: outlines and mouldings are marked from
/// templates, turned parts from their own table.
pub(crate) fn is_figured(worked: &WorkedJob) -> bool {
    let by_template = |kind: CutKind| matches!(kind, CutKind::Outline | CutKind::Moulding);
    worked
        .parts
        .iter()
        .all(|p| matches!(p.body, Body::Prism(_)) && p.cuts.iter().all(|c| !by_template(c.kind)))
}

/// What is wrong with one setting that was worked without an error.
pub(crate) fn faults(
    job: &Job,
    worked: &WorkedJob,
    (paper, unit, profile): (Paper, Unit, Profile),
) -> Vec<String> {
    let mut wrong = Vec::new();
    let standing: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    for (i, a) in worked.parts.iter().enumerate() {
        if !(a.solid.volume() > 0.0 && is_closed(&a.solid)) {
            wrong.push(format!("`{}` is not closed", a.name));
        }
        for (j, b) in worked.parts.iter().enumerate().skip(i + 1) {
            if standing[i].interferes(&standing[j]).is_some() {
                wrong.push(format!("`{}` and `{}` cross", a.name, b.name));
            }
        }
    }
    let look = Look::new(paper, unit, profile);
    let sheets = draw(job, worked, &look);
    let told = sheets.problems.iter().filter(|p| p.severity != Severity::Advice);
    wrong.extend(told.map(|p| format!("{paper:?}: {}", p.message)));
    wrong.extend(judge_set(&sheets.sheets).iter().map(|f| {
        format!("{paper:?} sheet {} at {:.0}, {:.0}: {} {}", f.sheet, f.at.x, f.at.y, f.rule, f.message)
    }));
    if is_figured(worked)
        && let Err(said) = catch_unwind(AssertUnwindSafe(|| all_come_back(job, worked, &look)))
    {
        let said = said.downcast_ref::<String>().cloned().unwrap_or_default();
        wrong.push(format!("{paper:?}: not rebuilt: {said}"));
    }
    wrong
}

/// Good settings of a family, and the options that stood in one of them.
fn tried(index: usize, family: &Family, tries: usize, all: bool) -> (BTreeSet<String>, Vec<String>) {
    let (mut seen, mut wrong, mut made, mut last) = (BTreeSet::new(), Vec::new(), 0, String::new());
    for seed in 0..tries as u64 * 40 {
        let has = |(option, _): &(String, bool)| {
            split_top(option).iter().all(|one| seen.contains(one.trim().split(' ').next().unwrap()))
        };
        if made >= tries && family.options.iter().all(has) {
            break;
        }
        let mut lot = Lot(seed + 10_000 * (index as u64 + 1));
        let (text, given) = setting(family, &mut lot);
        let done = rodwright::examine(&request("by lot", text.clone()));
        if done.problems.iter().any(|p| p.severity == Severity::Error) {
            last = render_all(&done.problems, &done.sources);
            continue;
        }
        made += 1;
        seen.extend(given);
        let (job, worked) = done.worked.unwrap();
        let found: Vec<String> = (0_u64..)
            .zip(LOOKS)
            .filter(|(turn, _)| all || *turn == seed % LOOKS.len() as u64)
            .flat_map(|(_, look)| faults(&job, &worked, look))
            .collect();
        if !found.is_empty() {
            wrong.push(format!("{} seed {seed}: {}\n{text}", family.word, found.join("; ")));
        }
    }
    if made < tries {
        wrong.push(format!("{}: only {made} of {tries} settings could be made\n{last}", family.word));
    }
    (seen, wrong)
}

#[test]
fn every_word_of_the_registry_is_drawn_by_lot_and_held_by_a_test() {
    let families = families();
    for word in rodwright::words() {
        assert!(families.iter().any(|f| f.word == word.name), "no settings for `{}`", word.name);
    }
    for family in &families {
        assert!(rodwright::words().iter().any(|w| w.name == family.word), "no word `{}`", family.word);
        let (file, test) = family.held_by.split_once("::").unwrap();
        let text = std::fs::read_to_string(format!("tests/{file}.rs")).unwrap();
        assert!(text.contains(&format!("fn {test}()")), "{}: no test {}", family.word, family.held_by);
    }
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn every_word_by_lot() {
        let only = std::env::var("ONLY").ok();
        let tries = std::env::var("TRIES").ok().map_or(30, |n| n.parse().unwrap());
        let all = std::env::var("LOOKS").is_ok_and(|looks| looks == "all");
        let families = families();
        let looked: Vec<(usize, &Family)> =
            families.iter().enumerate().filter(|(_, f)| only.as_ref().is_none_or(|o| *o == f.word)).collect();
        let results: Vec<_> =
            looked.par_iter().map(|(index, family)| tried(*index, family, tries, all)).collect();
        let mut wrong: Vec<String> = results.iter().flat_map(|(_, wrong)| wrong).cloned().collect();
        for word in rodwright::words().iter().filter(|w| only.as_ref().is_none_or(|o| o == w.name)) {
            let mine = looked.iter().zip(&results).filter(|((_, f), _)| f.word == word.name);
            let seen: BTreeSet<&String> = mine.flat_map(|(_, (seen, _))| seen).collect();
            for option in word.options.iter().filter(|o| !seen.contains(&o.key.to_owned())) {
                wrong.push(format!("{}: no good setting had `{}`", word.name, option.key));
            }
        }
        assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
    }
}
