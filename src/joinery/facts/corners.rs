//! Facts: mitres, fingers, dovetails.

/// Mitres, fingers, dovetails.
#[derive(Clone, Debug, PartialEq)]
pub enum CornerJoint {}
