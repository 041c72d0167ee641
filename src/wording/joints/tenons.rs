//! In words: tenons and bridles.

use super::Named;
use crate::joinery::facts::tenons::Tenoned;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &Tenoned) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &Tenoned, _named: Named<'_>) -> String {
    match *facts {}
}
