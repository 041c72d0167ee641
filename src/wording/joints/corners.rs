//! In words: mitres, fingers, dovetails.

use super::Named;
use crate::joinery::facts::corners::CornerJoint;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &CornerJoint) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &CornerJoint, _named: Named<'_>) -> String {
    match *facts {}
}
