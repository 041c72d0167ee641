//! In words: edge joints and lippings.

use super::Named;
use crate::joinery::facts::edge::EdgeJoint;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(_words: Words, facts: &EdgeJoint) -> String {
    match *facts {}
}

/// How it is set.
pub(super) fn setting(_words: Words, facts: &EdgeJoint, _named: Named<'_>) -> String {
    match *facts {}
}
