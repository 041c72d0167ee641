//! What the example of each word cuts and how it is set, part by part.
//!
//! The figures of the golden text are read against the example when they change: a place
//! that moves in a joint nobody meant to touch is seen here first.

use std::fmt::Write as _;
use std::path::Path;

use rodwright::cutting::shop_lists;
use rodwright::joinery::WorkedJob;
use rodwright::machining::Machined;
use rodwright::model::Job;
use rodwright::problem::Severity;

use crate::joints::lot::by_lot::{families, setting};
use crate::script::words::{examples, frames};
use crate::support::golden::{golden, golden_in};
use crate::support::lot::Lot;
use crate::support::scripts::request;
use crate::support::set_out::cuts;

/// The figures of a text to the thousandth, without noughts that say nothing.
fn rounded(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(from) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, found) = rest.split_at(from);
        let to = found.find(|c: char| !c.is_ascii_digit() && c != '.' && c != 'e').unwrap_or(found.len());
        let (figure, after) = found.split_at(to);
        let figure = match figure.parse::<f64>() {
            Ok(value) => format!("{}", (value * 1000.0).round() / 1000.0),
            Err(_) => figure.to_owned(),
        };
        let _ = write!(out, "{before}{figure}");
        rest = after;
    }
    out + rest
}

/// Every part with its cuts, and every set-up.
fn told(job: &Job, worked: &WorkedJob) -> String {
    let mut text = String::new();
    for (index, part) in worked.parts.iter().enumerate() {
        let _ = writeln!(text, "{}", part.name);
        for line in cuts(worked, index) {
            let _ = writeln!(text, "  {line}");
        }
    }
    let machined = Machined::new(job, worked);
    let settings = shop_lists(&machined).0.settings;
    for set_up in settings.set_ups {
        let later = if set_up.later { " later" } else { "" };
        let _ = writeln!(text, "{:?}{later} {:?}", set_up.machine, set_up.setting);
        if let Some(fence) = set_up.fence {
            let _ = writeln!(text, "  {fence:?} to {:?}", set_up.fence_to);
        }
        for turn in set_up.turns {
            let _ = writeln!(text, "  {:?} {:?} {:?}", turn.against, turn.stops, turn.stopped);
            for used in turn.uses {
                let mark = settings.works.get(used.work).map_or("?", |work| &*work.name);
                let _ = writeln!(text, "    {mark}: {} cuts, {:?}", used.cuts, used.long);
            }
        }
    }
    text
}

/// How many settings of a word stand in the golden text.
const SETTINGS: usize = 2;

/// The same of options drawn by lot, for those that the examples do not give.
#[test]
fn settings_by_lot_are_cut_and_set_as_they_were() {
    let mut cases: Vec<(String, String)> = Vec::new();
    for (index, family) in families().iter().enumerate() {
        let mut lot = Lot(700 + index as u64);
        let mut made = 0;
        while made < SETTINGS {
            let (script, _) = setting(family, &mut lot);
            let done = rodwright::examine(&request(&family.word, script.clone()));
            if done.problems.iter().any(|p| p.severity == Severity::Error) {
                continue;
            }
            let (job, worked) = done.worked.unwrap();
            made += 1;
            let asked = script.lines().last().unwrap();
            let text = format!("{asked}\n{}", rounded(&told(&job, &worked)));
            cases.push((format!("{} {index} {made}", family.word), text));
        }
    }
    golden_in(Path::new("tests/joints/set_out/by_lot.txt"), &cases);
}

#[test]
fn every_example_is_cut_and_set_as_it_was() {
    let frames = frames();
    let joinery: Vec<&str> = rodwright::words().iter().map(|word| word.name).collect();
    let examples = examples().into_iter().filter(|(name, _)| joinery.contains(&&**name));
    let cases: Vec<(String, String)> = examples
        .map(|(name, example)| {
            let done = rodwright::examine(&request(&name, frames[&name].replace("EXAMPLE", &example)));
            let (job, worked) = done.worked.unwrap();
            let text = rounded(&told(&job, &worked));
            (name, text)
        })
        .collect();
    golden(file!(), &cases);
}
