//! Facts: hinges, runners, handles, stops and catches.

/// Hinges, runners, handles, stops and catches.
#[derive(Clone, Debug, PartialEq)]
pub enum DoorFitting {}
