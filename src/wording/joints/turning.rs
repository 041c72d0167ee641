//! In words: spigots and inlays.

use super::Named;
use crate::joinery::facts::turning::TurnedJoint;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &TurnedJoint) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &TurnedJoint, _named: Named<'_>) -> String {
    match *facts {}
}
