//! Texts that words take: as long as sheets and lists have room for, of letters that can
//! be seen.

use super::values::{Read, fault_help, wrong_type};
use crate::problem::is_unseen;
use crate::script::value::Value;

/// Most letters of a name or of a field of the title block: far more than stand on a line.
const NAME: usize = 200;

/// Most letters of what is told in sentences: about a page.
const TOLD: usize = 2_000;

/// Arguments and options that tell something in sentences.
const SENTENCES: [&str; 6] = ["text", "says", "departs", "remark", "why", "help"];

/// The text given for the argument or option `key`.
pub(in crate::script) fn text(value: &Value, key: &str) -> Read<String> {
    let Some(text) = value.text() else { return wrong_type("a text", value) };
    let (most, cure) = if SENTENCES.contains(&key) {
        (TOLD, "tell it shorter, or in several notes")
    } else {
        (NAME, "give it a short name and tell the rest in a `note`")
    };
    // Letters are counted only where there may be too many: a letter has at least a byte.
    let letters = if text.len() > most { text.chars().count() } else { 0 };
    if letters > most {
        return fault_help(
            "text-too-long",
            format!("has {letters} letters; it can have {most}"),
            cure.into(),
        );
    }
    if let Some((at, c)) = text.chars().enumerate().find(|(_, c)| is_unseen(*c)) {
        return fault_help(
            "unseen-letter",
            format!("holds a character that cannot be seen, U+{:04X}, after {at} others", u32::from(c)),
            "write it anew without it: such characters come along with text that is pasted".into(),
        );
    }
    Ok(text.to_owned())
}
