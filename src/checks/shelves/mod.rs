//! Shelves: whether they bend too far under what stands on them, and whether loose ones go in.

pub(super) mod loose;
pub(super) mod sags;
