//! Arguments and options as words state them.

use super::read::values::FARTHEST;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Usual};

/// An argument that is a value.
pub(in crate::script) const fn value(name: &'static str, kind: OptionKind) -> Arg {
    Arg { name, takes: Takes::Value(kind) }
}

/// An option that may be left out.
pub(in crate::script) const fn option(
    key: &'static str,
    kind: OptionKind,
    default: &'static [Usual],
    message: &'static str,
) -> OptionSpec {
    OptionSpec { key, kind, default, says: message }
}

/// Default of the space of a part: it is left out only of one that runs along a line.
pub(in crate::script) const UNLESS_IT_RUNS: &[Usual] =
    &[Usual::Words("needed unless it `runs` along a line")];

/// Any length from `min` mm up.
pub(in crate::script) const fn length_from(min: f64) -> OptionKind {
    OptionKind::Length { min, max: FARTHEST }
}

/// A plain amount: a price, a density.
pub(in crate::script) const AMOUNT: OptionKind = OptionKind::Ratio { min: 0.0, max: 1.0e6 };

/// A length from nothing to `max` mm.
pub(in crate::script) const fn length_to(max: f64) -> OptionKind {
    OptionKind::Length { min: 0.0, max }
}
