//! Scripts by lot: by turns a sound one with a size, a choice or a stretch of its text
//! changed, and one made anew. Whatever comes out, nothing panics or hangs or takes all
//! memory, all that is found is told with a place and a cure, and no word of the engine's
//! inside is said.
//!
//! `ATTACK=20000` tries that many; `ATTACK_SEED=7` begins at another place, and
//! `ATTACK_SECONDS=2` makes a fault of each that takes longer. A fault names its seed, and
//! `ATTACK_SEED=… ATTACK=1` does that one alone; `ATTACK_SHOW=1` prints each script.

use std::fs;
use std::sync::mpsc::channel;
use std::thread;
use std::time::{Duration, Instant};

use rodwright::problem::{Problem, render};

use super::scripts::{Scripts, asked};
use crate::support::scripts::request;

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

/// What is wrong with how a problem is told.
pub(super) fn ill_told(problem: &Problem) -> Option<&'static str> {
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

/// Most memory that a case may take, MB, and that the program takes without one.
const MEMORY: u64 = 500;

/// The most memory held since this was asked last, MB; `None` where a system does not say.
/// It is that of the whole process, so it means something only in a test that runs alone.
fn most_held() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kilobytes: u64 = line.trim().strip_suffix(" kB")?.parse().ok()?;
    fs::write("/proc/self/clear_refs", "5").ok()?;
    Some(kilobytes / 1024)
}

mod slow_tests {
    use super::*;

    #[test]
    fn whatever_is_written_is_answered_with_a_place_and_a_cure() {
        let scripts = Scripts::new();
        let (first, count) = (asked("ATTACK_SEED", 0), asked("ATTACK", 200));
        let alone = std::env::var_os("ATTACK").is_some();
        let (mut passed, mut all) = ([0; 2], Vec::new());
        for seed in first..first + count {
            let made = Scripts::is_made(seed);
            if asked("ATTACK_SHOW", 0) > 0 {
                println!("{}", scripts.of(seed));
            }
            let start = Instant::now();
            let (passes, amiss) = watched(seed, scripts.of(seed));
            passed[usize::from(made)] += u64::from(passes);
            all.extend(amiss);
            let named = format!("ATTACK_SEED={seed} ATTACK=1");
            let took = start.elapsed().as_secs();
            if took > asked("ATTACK_SECONDS", u64::MAX) {
                all.push(format!("{named} takes {took} s"));
            }
            if let Some(held) = most_held().filter(|held| alone && *held > MEMORY) {
                all.push(format!("{named} takes {held} MB"));
            }
        }
        let [changed, made] = passed;
        println!(
            "{count} scripts; {changed} of {} changed and {made} of {} made pass",
            count.div_ceil(2),
            count / 2
        );
        assert!(all.is_empty(), "{} amiss:\n{}", all.len(), all.join("\n"));
        assert!(count < 100 || changed.min(made) * 10 >= count * 2, "too few pass to reach what comes after");
    }
}
