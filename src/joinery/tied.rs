//! Whether the options a work is given hang together.

use super::bench::made::Joinery;
use super::bench::takes::Tie;
use crate::model::{OptionValue, Word, Work};
use crate::problem::Problem;

/// Ties of every word that takes both options.
const EVERYWHERE: [Tie; 2] = [Tie::Needs("toward", &["offset"]), Tie::Either("count", "spacing")];

/// An error where options are given that contradict one another or say nothing.
pub(super) fn check(joinery: &dyn Joinery, work: &Work) -> Result<(), Problem> {
    let usual = EVERYWHERE.iter().filter(|tie| takes(work.word, tie));
    for tie in usual.chain(joinery.ties()) {
        broken(work, *tie)?;
    }
    Ok(())
}

/// Whether a word takes the options of a tie.
fn takes(word: &Word, tie: &Tie) -> bool {
    let has = |key: &str| word.options.iter().any(|option| option.key == key);
    match tie {
        Tie::Needs(a, others) => has(a) && others.iter().all(|b| has(b)),
        Tie::Either(a, b) | Tie::Only(a, b, _) => has(a) && has(b),
    }
}

/// Whether an option is given, and not with a plain no.
fn given(work: &Work, key: &str) -> bool {
    work.options.0.get(key).is_some_and(|value| *value != OptionValue::YesNo(false))
}

/// The error of one tie, where it does not hold.
fn broken(work: &Work, tie: Tie) -> Result<(), Problem> {
    let word = work.word.name;
    let (code, message, help) = match tie {
        Tie::Needs(a, others) if given(work, a) && !others.iter().any(|b| given(work, b)) => {
            let among: Vec<String> = others.iter().map(|b| format!("`{b}`")).collect();
            let among = among.join(" or ");
            (
                "missing-option",
                format!("`{a}` of `{word}` is given, but no {among}"),
                format!("add {among}, or leave `{a}` out"),
            )
        }
        Tie::Either(a, b) if given(work, a) && given(work, b) => (
            "contradiction",
            format!("`{a}` and `{b}` of `{word}` both settle the same thing"),
            format!("leave `{a}` or `{b}` out"),
        ),
        Tie::Only(a, b, what) if given(work, a) && work.options.text(b).is_some_and(|t| t != what) => (
            "contradiction",
            format!("`{a}` of `{word}` is given, but `{b}` is not \"{what}\""),
            format!("leave `{a}` out, or write `{b}: \"{what}\"`"),
        ),
        _ => return Ok(()),
    };
    Err(Problem::error(code, message).at(work.origin).help(help))
}
