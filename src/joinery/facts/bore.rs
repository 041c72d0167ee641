//! Facts: a hole with a bottom.

/// A round hole, bored to a depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bore {
    /// Its diameter, mm.
    pub wide: f64,
    /// Its depth, mm.
    pub deep: f64,
}
