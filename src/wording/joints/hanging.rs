//! In words: cleats, brackets, clips, points, feet and buttons.

use super::Named;
use crate::joinery::facts::hanging::Hanging;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &Hanging) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &Hanging, _named: Named<'_>) -> String {
    match *facts {}
}
