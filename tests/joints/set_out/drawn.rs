//! What each word cuts, told by its part sheets alone: the slow tests look at many more
//! settings in all looks, this one at a few of every word while code is being changed.

use std::panic::{AssertUnwindSafe, catch_unwind};

use rayon::prelude::*;
use rodwright::drawing::{Look, Paper, Profile};
use rodwright::measure::Unit;
use rodwright::problem::Severity;

use crate::drawing::parts::all_come_back;
use crate::joints::lot::by_lot::{families, is_figured, setting};
use crate::script::words::{examples, frames};
use crate::support::lot::Lot;
use crate::support::scripts::request;

/// How many settings drawn by lot are looked at, of every family.
const SETTINGS: usize = 2;

#[test]
fn every_word_comes_back_from_its_part_sheets() {
    let frames = frames();
    let joinery: Vec<&str> = rodwright::words().iter().map(|word| word.name).collect();
    let examples = examples().into_iter().filter(|(name, _)| joinery.contains(&&**name));
    let mut scripts: Vec<String> =
        examples.map(|(name, example)| frames[&name].replace("EXAMPLE", &example)).collect();
    for (index, family) in families().iter().enumerate() {
        let mut lot = Lot(900 + index as u64);
        let made = std::iter::repeat_with(|| setting(family, &mut lot).0).filter(|script| {
            let done = rodwright::examine(&request("by lot", script.clone()));
            done.problems.iter().all(|p| p.severity != Severity::Error)
        });
        scripts.extend(made.take(SETTINGS));
    }
    let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
    let drawn = |script: &String| {
        let (job, worked) = rodwright::examine(&request("drawn", script.clone())).worked.unwrap();
        if is_figured(&worked) {
            all_come_back(&job, &worked, &look);
        }
    };
    let faulty = |script: &&String| catch_unwind(AssertUnwindSafe(|| drawn(script))).is_err();
    let faulty: Vec<&String> = scripts.par_iter().filter(faulty).collect();
    assert!(faulty.is_empty(), "{} do not come back:\n{}", faulty.len(), faulty[0]);
}
