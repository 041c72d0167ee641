//! Facts: how deep a cut goes into one of the parts of a joint.

/// A depth in one part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deep {
    /// The part: index in the worked job.
    pub part: usize,
    /// How deep the cut in it is, mm.
    pub deep: f64,
}
