//! Scripts by lot that pass are drawn: nothing panics or hangs, and what is found on the
//! way and on the sheets is told with a cure.
//!
//! `ATTACK_SETS=500` draws so many, from `ATTACK_SEED=7` on.

use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

use rodwright::problem::{Problem, Severity, render};
use rodwright::{Choices, look_over};

use super::attack::ill_told;
use super::scripts::{Scripts, asked};
use crate::support::scripts::request;
use crate::support::sets::looks;

/// Longer than any set by lot takes on a slow machine with other work, unoptimised.
const PATIENCE: Duration = Duration::from_secs(240);

/// What is amiss with what is said of a set that is drawn.
fn amiss(problem: &Problem) -> Option<String> {
    if problem.severity == Severity::Error {
        return Some("passes `check` half way and is not drawn".into());
    }
    // A sheet is a place that no script has.
    ill_told(problem).filter(|why| *why != "has no place").map(str::to_owned)
}

/// Draws a script that passes, in the look of its seed; `None` if it does not pass.
fn drawn(seed: u64, text: String) -> Option<Vec<String>> {
    let request = request("set.rhai", text);
    rodwright::examine(&request).worked?;
    let looks = looks();
    let look = &looks[seed as usize % looks.len()];
    let choices = Choices {
        paper: Some(look.paper),
        unit: Some(look.unit),
        profile: Some(look.profile),
        ..Choices::default()
    };
    let (problems, sources) = look_over(&request, &choices);
    let said = |p: &Problem| amiss(p).map(|why| format!("ATTACK_SEED={seed} {why}: {}", render(p, &sources)));
    Some(problems.iter().filter_map(said).collect())
}

mod slow_tests {
    use super::*;

    #[test]
    fn what_passes_is_drawn_and_all_that_is_said_of_it_has_a_cure() {
        let scripts = Scripts::new();
        let (first, count) = (asked("ATTACK_SEED", 0), asked("ATTACK_SETS", 12));
        let (mut sets, mut all) = (0, Vec::new());
        for seed in (first..).take_while(|seed| *seed < first + 10 * count) {
            let (done, wait) = channel();
            let text = scripts.of(seed);
            let kept = text.clone();
            thread::spawn(move || done.send(drawn(seed, text)));
            let found = wait.recv_timeout(PATIENCE).unwrap_or_else(|error| {
                Some(vec![format!("ATTACK_SEED={seed} panics or hangs ({error}):\n{kept}")])
            });
            let Some(found) = found else { continue };
            all.extend(found);
            sets += 1;
            if sets == count {
                break;
            }
        }
        println!("{sets} sets drawn");
        assert!(all.is_empty(), "{} amiss:\n{}", all.len(), all.join("\n"));
        assert_eq!(sets, count, "too few pass");
    }
}
