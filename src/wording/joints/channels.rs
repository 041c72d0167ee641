//! In words: boards and panels let into channels.

use super::Named;
use crate::joinery::facts::channels::{Channel, Housed};
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &Channel) -> String {
    match facts {
        Channel::Housed(housed) => housed_summary(words, housed),
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &Channel, _named: Named<'_>) -> String {
    match facts {
        Channel::Housed(housed) => housed_setting(words, housed),
    }
}

/// `housed 6 deep, stopped 12 mm, shouldered 6 mm`.
fn housed_summary(words: Words, facts: &Housed) -> String {
    let mut text = match facts.stopped {
        Some(stop) => {
            format!("housed {} deep, stopped {}", words.figure(facts.depth), words.length(stop.asked))
        }
        None => format!("housed {} deep", words.length(facts.depth)),
    };
    if let Some(by) = facts.shoulder {
        text = format!("{text}, shouldered {}", words.length(by));
    }
    text
}

/// `channel 18 wide, 6 mm deep, 12 mm from the front edge`.
fn housed_setting(words: Words, facts: &Housed) -> String {
    let text = format!("channel {} wide, {} deep", words.figure(facts.width), words.length(facts.depth));
    match facts.stopped {
        Some(stop) => {
            format!("{text}, {} from the {} edge", words.length(stop.from_edge), stop.edge.name())
        }
        None => text,
    }
}
