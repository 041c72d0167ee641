//! The words of the language, chapter by chapter.

use super::call::Does;
use super::saying::Saying;
use super::{job, language, library, order, parts, size, sold, stock};
use crate::model::Word;

/// A chapter: its title, its words with what they do, and what is bound in
/// another way.
pub(in crate::script) type Chapter = (&'static str, &'static [(&'static Word, Does)], &'static [Saying]);

/// The chapter that joints and shapings follow.
pub(in crate::script) const PARTS: &str = "Parts and their places";

/// The language in reading order.
pub(in crate::script) fn chapters() -> [Chapter; 9] {
    [
        ("Job and pieces", job::WORDS, &[]),
        ("Sizes that can be changed", size::WORDS, &[]),
        ("Stock", stock::WORDS, &[]),
        ("Buying", sold::WORDS, &[]),
        (PARTS, parts::WORDS, parts::PLACES),
        ("Order of work", order::WORDS, order::AFTER),
        ("Furniture types", library::WORDS, library::TYPES),
        ("Numbers", &[], language::NUMBERS),
        ("The language", &[], language::LANGUAGE),
    ]
}

/// Words of the language with what they do.
pub(in crate::script) fn own() -> impl Iterator<Item = (&'static Word, Does)> {
    chapters().into_iter().flat_map(|(_, words, _)| words).copied()
}

/// The words of the language itself, beside those joinery offers.
pub fn own_words() -> Vec<&'static Word> {
    own().map(|(word, _)| word).collect()
}
