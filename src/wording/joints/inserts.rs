//! In words: loose tenons, dowels, biscuits, screws, connectors, pins.

use super::Named;
use crate::joinery::facts::inserts::Inserted;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &Inserted) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &Inserted, _named: Named<'_>) -> String {
    match *facts {}
}
