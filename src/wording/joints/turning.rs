//! In words: spigots.

use super::Named;
use crate::joinery::facts::turning::TurnedJoint;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &TurnedJoint) -> String {
    let through = if facts.deep.is_none() { "through " } else { "" };
    format!("{through}spigot ⌀ {}, {} long", words.figure(facts.diameter), words.length(facts.long))
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &TurnedJoint, _named: Named<'_>) -> String {
    let (diameter, from) = (words.figure(facts.diameter), facts.from.name());
    match facts.deep {
        Some(deep) => format!("bore ⌀ {diameter}, {} deep, from the {from}", words.length(deep)),
        None => format!("bore ⌀ {diameter}, through, from the {from}"),
    }
}
