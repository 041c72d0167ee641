//! The general arrangement of a piece.

pub(in crate::drawing) mod arrangement;
pub(in crate::drawing) mod fronts;
pub(in crate::drawing) mod sizes;
pub(in crate::drawing) mod zones;
