//! Facts: cleats, brackets, clips, points, feet and buttons.

/// Cleats, brackets, clips, points, feet and buttons.
#[derive(Clone, Debug, PartialEq)]
pub enum Hanging {}
