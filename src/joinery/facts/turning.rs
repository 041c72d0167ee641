//! Facts: spigots and inlays.

/// Spigots and inlays.
#[derive(Clone, Debug, PartialEq)]
pub enum TurnedJoint {}
