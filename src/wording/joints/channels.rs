//! In words: boards and panels let into channels.

use super::{Named, alike};
use crate::joinery::facts::channels::{Beaded, Channel, CrossedAt, Grooved, Halved, Housed};
use crate::problem::wording::count;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &Channel, named: Named<'_>) -> String {
    match facts {
        Channel::Housed(housed) => housed_summary(words, housed),
        Channel::Grooved(groove) => grooved_summary(words, groove),
        Channel::Rebated(rebate) => {
            format!("rebate {} × {}", words.figure(rebate.width), words.length(rebate.depth))
        }
        Channel::Beaded(bead) => beaded_summary(words, bead),
        Channel::Halved(halved) => {
            format!("{} halving, {}", crossed(halved.at), halved_setting(words, halved, named))
        }
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &Channel, named: Named<'_>) -> String {
    match facts {
        Channel::Housed(housed) => housed_setting(words, housed),
        Channel::Grooved(groove) => format!(
            "groove {} wide, {} deep, {} from the {} edge",
            words.figure(groove.width),
            words.figure(groove.depth),
            words.length(groove.from_edge),
            groove.edge.name()
        ),
        Channel::Rebated(rebate) => format!(
            "rebate {} wide, {} deep from the {}",
            words.figure(rebate.width),
            words.length(rebate.depth),
            rebate.open.name()
        ),
        Channel::Beaded(bead) if bead.pins > 1 => {
            format!("pins {} apart, through the middle of the bead's thickness", words.length(bead.apart))
        }
        Channel::Beaded(_) => "pin through the middle of the bead's thickness".to_owned(),
        Channel::Halved(halved) => halved_setting(words, halved, named),
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

/// `groove 6 × 8, 1 mm of slack`.
fn grooved_summary(words: Words, facts: &Grooved) -> String {
    let room = words.length(facts.room);
    let room = if facts.moves { format!("panel free, gap {room}") } else { format!("{room} of slack") };
    format!("groove {} × {}, {room}", words.figure(facts.width), words.figure(facts.depth))
}

/// `bead 8 × 10, mitred, 4 pins 1.2 × 20, no glue`.
fn beaded_summary(words: Words, facts: &Beaded) -> String {
    let ends = match facts.mitres {
        0 => "",
        1 => ", mitred at one end",
        _ => ", mitred",
    };
    let round = facts.round.map_or_else(String::new, |by| format!(", arris rounded {}", words.figure(by)));
    format!(
        "bead {} × {}{ends}{round}, {} {}, no glue",
        words.figure(facts.width),
        words.length(facts.thick),
        count(facts.pins, "pin", "pins"),
        words.pin(facts.pin)
    )
}

/// `9 mm deep in both`, `9 deep in Rail, 13 in Stile`.
fn halved_setting(words: Words, facts: &Halved, named: Named<'_>) -> String {
    let [a, b] = facts.depths;
    if alike(a.deep, b.deep) {
        return format!("{} deep in both", words.length(a.deep));
    }
    let [first, second] = [a, b].map(|deep| (words.figure(deep.deep), named(deep.part)));
    format!("{} deep in {}, {} in {}", first.0, first.1, second.0, second.1)
}

/// `corner`.
fn crossed(at: CrossedAt) -> &'static str {
    match at {
        CrossedAt::Corner => "corner",
        CrossedAt::Tee => "tee",
        CrossedAt::Cross => "cross",
    }
}
