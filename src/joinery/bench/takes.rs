//! What words take: arguments before their option map, the range of a plain length,
//! and options that hang on one another.

use crate::model::{Arg, OptionKind, Takes};

/// Two parts.
pub(in crate::joinery) static PAIR: &[Arg] =
    &[Arg { name: "part", takes: Takes::Part }, Arg { name: "to", takes: Takes::Part }];

/// One or more parts let into a member.
pub(in crate::joinery) static PARTS_AND_MEMBER: &[Arg] =
    &[Arg { name: "parts", takes: Takes::Parts }, Arg { name: "member", takes: Takes::Part }];

/// Any length of joinery.
pub(in crate::joinery) const LENGTH: OptionKind = OptionKind::Length { min: 0.0, max: 500.0 };

/// One part.
pub(in crate::joinery) static PART: &[Arg] = &[Arg { name: "part", takes: Takes::Part }];

/// One part and the side of it to work on.
pub(in crate::joinery) static ON_SIDE: &[Arg] =
    &[Arg { name: "part", takes: Takes::Part }, Arg { name: "side", takes: Takes::Value(OptionKind::Side) }];

/// How two options of a word hang together: one that says nothing without another, or
/// two that say the same thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::joinery) enum Tie {
    /// The first is of no use without one of the others.
    Needs(&'static str, &'static [&'static str]),
    /// Both say the same: one is left out.
    Either(&'static str, &'static str),
    /// The first is of use only where the second is this.
    Only(&'static str, &'static str, &'static str),
}
