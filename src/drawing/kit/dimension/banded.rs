//! A row of sizes that has been given its band.

use super::Sizes;
use super::row::Laid;

/// A row with its band.
pub(super) struct Banded<'a> {
    /// The sizes.
    pub(super) sizes: &'a Sizes,
    /// Laid along the line.
    pub(super) laid: Laid,
    /// Band from the view, 0 innermost.
    pub(super) band: usize,
    /// Dimension number of its first figure.
    pub(super) number: u32,
}
