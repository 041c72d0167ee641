//! Scripts made by lot: sound ones with a size, a choice or a stretch of their text
//! changed. Whatever comes out, nothing panics or hangs, all that is found is told with a
//! place and a cure, and no word of the engine's inside is said.
//!
//! `ATTACK=20000` tries that many; `ATTACK_SEED=7` begins at another place. A fault names
//! its seed, and `ATTACK_SEED=… ATTACK=1` does that one alone.

use std::fs;
use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

use rodwright::problem::{Problem, render};

use super::changed::changed;
use super::lot::Lot;
use crate::script::words::{examples, frames};
use crate::support::scripts::{request, scripts_in};

/// Words of the engine's inside that say nothing to a maker.
const INSIDE: [&str; 21] = [
    "getter",
    "setter",
    "indexer",
    "i64",
    "f64",
    "property",
    "Dynamic",
    "rhai",
    "expecting",
    "expression",
    "identifier",
    "ImmutableString",
    "doc comment",
    "open string",
    "variable scope",
    "char",
    "str",
    "FnPtr",
    "Range",
    "undefined",
    "modulo",
];

/// What has no cure and no place, since nothing is wrong.
const FINE: [&str; 1] = ["printed"];

/// Longer than any case takes on a slow machine with other work, unoptimised.
const PATIENCE: Duration = Duration::from_secs(120);

/// The scripts that are changed: those of the project, of the joint families, and the
/// example of each word in its frame.
fn sound() -> Vec<String> {
    let scripts = scripts_in("scripts").into_iter().chain(scripts_in("tests/drawing/families"));
    let mut all: Vec<String> = scripts.map(|path| fs::read_to_string(path).unwrap()).collect();
    let frames = frames();
    for (name, example) in examples() {
        let frame = frames.get(&name).unwrap_or(&frames["*"]);
        all.push(frame.replace("EXAMPLE", &example));
    }
    all
}

/// What is wrong with how a problem is told.
fn ill_told(problem: &Problem) -> Option<&'static str> {
    // Script text in backticks is the maker's own.
    let said = format!("{} {}", problem.message, problem.help.as_deref().unwrap_or(""));
    let ours = said.split('`').step_by(2).collect::<Vec<_>>().join(" ");
    let ours: String = ours.split(|c: char| !c.is_alphanumeric()).flat_map(|word| [word, " "]).collect();
    if INSIDE.iter().any(|word| format!(" {ours}").contains(&format!(" {word} "))) {
        return Some("speaks of the engine");
    }
    if FINE.contains(&problem.code) {
        return None;
    }
    if problem.help.is_none() {
        return Some("has no cure");
    }
    problem.places.is_empty().then_some("has no place")
}

/// Whether a script passes, and what is amiss with how it is answered.
fn answered(text: String) -> (bool, Vec<String>) {
    let done = rodwright::examine(&request("attack.rhai", text));
    let ill = |p: &Problem| ill_told(p).map(|why| format!("{why}: {}", render(p, &done.sources)));
    (done.worked.is_some(), done.problems.iter().filter_map(ill).collect())
}

/// The same on a thread of its own, so that a case that panics or hangs is known by its
/// seed.
fn watched(seed: u64, text: String) -> (bool, Vec<String>) {
    let (done, wait) = channel();
    let kept = text.clone();
    thread::spawn(move || done.send(answered(text)));
    let (passes, amiss) = wait
        .recv_timeout(PATIENCE)
        .unwrap_or_else(|error| (false, vec![format!("panics or hangs ({error}):\n{kept}")]));
    (passes, amiss.into_iter().map(|fault| format!("ATTACK_SEED={seed} ATTACK=1 {fault}")).collect())
}

fn asked(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

mod slow_tests {
    use super::*;

    #[test]
    fn whatever_is_written_is_answered_with_a_place_and_a_cure() {
        let sound = sound();
        let (first, count) = (asked("ATTACK_SEED", 0), asked("ATTACK", 200));
        let (mut pass, mut all) = (0, Vec::new());
        for seed in first..first + count {
            let mut lot = Lot(seed);
            let script = lot.of(&sound).clone();
            let (passes, amiss) = watched(seed, changed(&mut lot, &script));
            pass += u64::from(passes);
            all.extend(amiss);
        }
        assert!(all.is_empty(), "{} amiss:\n{}", all.len(), all.join("\n"));
        assert!(count < 100 || pass * 10 >= count * 4, "{pass} of {count} pass");
    }
}
