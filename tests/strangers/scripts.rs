//! The scripts of the attack, one a seed: by turns a sound one that is changed and one that
//! is made anew.

use std::fs;

use super::changed::changed;
use super::lot::Lot;
use super::made::Making;
use crate::script::words::{examples, frames};
use crate::support::scripts::scripts_in;

/// What scripts by lot are made of.
pub(crate) struct Scripts {
    sound: Vec<String>,
    making: Making,
}

impl Scripts {
    pub(crate) fn new() -> Self {
        Self { sound: sound(), making: Making::new() }
    }

    /// Whether the script of a seed is made anew.
    pub(super) fn is_made(seed: u64) -> bool {
        seed % 2 == 1
    }

    /// The script of a seed.
    pub(crate) fn of(&self, seed: u64) -> String {
        let mut lot = Lot(seed);
        if Self::is_made(seed) {
            return self.making.script(&mut lot);
        }
        let script = lot.of(&self.sound).clone();
        changed(&mut lot, &script)
    }
}

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

/// What a variable of the surroundings asks for, or what is usual.
pub(crate) fn asked(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}
