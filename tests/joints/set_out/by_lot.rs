//! What options drawn by lot cut and how it is set, for those that no example gives.

use rodwright::problem::Severity;

use super::words::{rounded, told};
use crate::joints::lot::by_lot::{families, setting};
use crate::support::golden::golden;
use crate::support::lot::Lot;
use crate::support::scripts::request;

/// How many settings of a word stand in the golden text.
const SETTINGS: usize = 2;

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
    golden(file!(), &cases);
}
