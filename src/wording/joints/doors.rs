//! In words: hinges, runners, handles, stops and catches.

use super::Named;
use crate::joinery::facts::doors::DoorFitting;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &DoorFitting) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &DoorFitting, _named: Named<'_>) -> String {
    match *facts {}
}
