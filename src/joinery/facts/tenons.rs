//! Facts: tenons and bridles.

/// Tenons and bridles.
#[derive(Clone, Debug, PartialEq)]
pub enum Tenoned {}
