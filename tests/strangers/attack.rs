//! Scripts made by lot: sound ones with a size, a choice or a stretch of their text
//! changed. Whatever comes out, nothing panics, all that is wrong is told with a place and
//! a cure, and no word of the engine's inside is said.
//!
//! `ATTACK=20000` tries that many; `ATTACK_SEED=7` begins at another place. A fault names
//! its seed, and `ATTACK_SEED=… ATTACK=1` does that one alone.

use std::fs;

use rodwright::model::OptionKind;
use rodwright::problem::{Severity, render};

use crate::support::scripts::{request, scripts_in};

/// Whole numbers by lot; the same on every machine (Steele, Lea and Flood 2014, splitmix64).
struct Lot(u64);

impl Lot {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let a = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let b = (a ^ (a >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        b ^ (b >> 31)
    }

    fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % most.max(1) as u64).unwrap()
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }
}

/// The pieces a script is read in: names, numbers, texts, signs, white.
fn pieces(text: &str) -> Vec<String> {
    let kind = |c: char| match c {
        c if c.is_alphanumeric() || c == '_' || c == '.' => 0,
        c if c.is_whitespace() => 1,
        _ => 2,
    };
    let mut all: Vec<String> = Vec::new();
    let mut last = 3;
    for c in text.chars() {
        match all.last_mut() {
            Some(piece) if kind(c) == last && last < 2 => piece.push(c),
            _ => all.push(c.to_string()),
        }
        last = kind(c);
    }
    all
}

/// A value an option of some word may have, or all but: its bounds and just past them.
fn value(lot: &mut Lot) -> String {
    let word = lot.of(rodwright::words());
    if word.options.is_empty() {
        return word.name.into();
    }
    let option = lot.of(word.options);
    let value = match option.kind {
        OptionKind::Length { min, max } | OptionKind::Angle { min, max } | OptionKind::Ratio { min, max } => {
            format!("{}", lot.of(&[min, max, min - 0.1, max + 0.1, f64::midpoint(min, max)]))
        }
        OptionKind::Count { min, max } => format!("{}", lot.of(&[min, max, max.saturating_add(1), 2])),
        OptionKind::Choice(among) => format!("{:?}", lot.of(among)),
        OptionKind::YesNo => "true".into(),
        OptionKind::Lengths | OptionKind::Span => "[10, 20]".into(),
        OptionKind::Side | OptionKind::Sides => "\"left\"".into(),
        _ => "\"A text\"".into(),
    };
    format!("{}: {value}", option.key)
}

/// A script with some of its pieces changed; how much by the lot.
fn changed(lot: &mut Lot, text: &str) -> String {
    let mut all = pieces(text);
    let gentle = lot.below(3) > 0;
    if gentle {
        // A size a little larger or smaller, as a maker tries them.
        let sizes: Vec<usize> = (0..all.len())
            .filter(|i| all[*i].parse::<f64>().is_ok_and(|n| n >= 30.0) && !all[*i].contains('e'))
            .collect();
        if !sizes.is_empty() {
            let at = *lot.of(&sizes);
            let by = *lot.of(&[-1.0, -0.5, 0.25, 0.5, 1.0, 2.0]);
            all[at] = format!("{}", all[at].parse::<f64>().unwrap() + by);
        }
        return all.concat();
    }
    for _ in 0..=lot.below(3) {
        let at = lot.below(all.len());
        let other = lot.below(all.len());
        match lot.below(6) {
            0 => all[at].clear(),
            1 => all.swap(at, other),
            2 => all[at] = all.get(other).cloned().unwrap_or_default(),
            3 => all[at] = value(lot),
            4 => {
                let signs = [
                    "(", ")", "[", "]", "{", "}", "#{", "\"", "'", "`", "///", "-1", "0", "1e9", "()", ".x",
                    "; let", "this", "\u{202e}",
                ];
                all[at] = (*lot.of(&signs)).into();
            }
            _ => all.insert(at, format!("{}, ", rodwright::words()[other % rodwright::words().len()].name)),
        }
    }
    all.concat()
}

/// Words of the engine's inside that say nothing to a maker.
const INSIDE: [&str; 14] = [
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
    "doc-comment",
    "open string",
];

/// What is amiss with how the script of a seed is answered.
fn amiss(seed: u64, sound: &[String]) -> (bool, Vec<String>) {
    let mut lot = Lot(seed);
    let text = changed(&mut lot, lot_of(seed, sound));
    let done = rodwright::examine(&request("attack.rhai", text));
    let passes = done.worked.is_some();
    let mut amiss = Vec::new();
    for problem in &done.problems {
        let told = render(problem, &done.sources);
        let said = format!("{} {}", problem.message, problem.help.as_deref().unwrap_or(""));
        let bare =
            problem.severity == Severity::Error && (problem.help.is_none() || problem.places.is_empty());
        let inside = INSIDE.iter().any(|word| said.contains(word));
        if bare || inside {
            amiss.push(format!("ATTACK_SEED={seed} ATTACK=1: {told}"));
        }
    }
    (passes, amiss)
}

fn lot_of(seed: u64, sound: &[String]) -> &str {
    &sound[usize::try_from(seed).unwrap() % sound.len()]
}

fn asked(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

mod slow_tests {
    use super::*;

    #[test]
    fn whatever_is_written_is_answered_with_a_place_and_a_cure() {
        let sound: Vec<String> = scripts_in("tests/drawing/families")
            .iter()
            .map(|path| fs::read_to_string(path).unwrap())
            .collect();
        let (first, count) = (asked("ATTACK_SEED", 0), asked("ATTACK", 120));
        let (mut pass, mut all) = (0, Vec::new());
        for seed in first..first + count {
            let (passes, amiss) = amiss(seed, &sound);
            pass += u64::from(passes);
            all.extend(amiss);
        }
        assert!(all.is_empty(), "{} amiss:\n{}", all.len(), all.join("\n"));
        assert!(count < 100 || pass * 10 >= count * 4, "{pass} of {count} pass");
    }
}
