//! The general arrangement of a piece.

pub(in crate::drawing) mod arrangement;
pub(in crate::drawing) mod fronts;
mod gaps;
pub(in crate::drawing) mod heights;
mod inside;
mod layout;
pub(in crate::drawing) mod sizes;
mod slopes;
pub(in crate::drawing) mod too_small;
pub(in crate::drawing) mod zones;
