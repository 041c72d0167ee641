//! What the example of each word cuts and how it is set, part by part.
//!
//! The figures of the golden text are read against the example when they change: a place
//! that moves in a joint nobody meant to touch is seen here first.

use std::fmt::Write as _;

use rodwright::cutting::shop_lists;
use rodwright::joinery::WorkedJob;
use rodwright::machining::Machined;
use rodwright::model::Job;

use crate::script::words::{examples, frames};
use crate::support::golden::golden;
use crate::support::scripts::request;
use crate::support::set_out::cuts;

/// The figures of a text to the thousandth, without noughts that say nothing.
pub(super) fn rounded(text: &str) -> String {
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
pub(super) fn told(job: &Job, worked: &WorkedJob) -> String {
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
