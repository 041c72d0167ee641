//! Facts: loose tenons, dowels, biscuits, screws, connectors, pins.

/// Loose tenons, dowels, biscuits, screws, connectors, pins.
#[derive(Clone, Debug, PartialEq)]
pub enum Inserted {}
