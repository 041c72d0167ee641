//! Options that hang on one another: one that says nothing without another, and
//! two that say the same thing.

/// How two options of a word hang together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::joinery) enum Tie {
    /// The first is of no use without one of the others.
    Needs(&'static str, &'static [&'static str]),
    /// Both say the same: one is left out.
    Either(&'static str, &'static str),
    /// The first is of use only where the second is this.
    Only(&'static str, &'static str, &'static str),
}
