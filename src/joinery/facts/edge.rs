//! Facts: edge joints and lippings.

/// Edge joints and lippings.
#[derive(Clone, Debug, PartialEq)]
pub enum EdgeJoint {}
