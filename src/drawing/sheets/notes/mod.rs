//! General notes, cautions, tolerances, fittings, revisions.

pub(in crate::drawing) mod cautions;
pub(in crate::drawing) mod pages;
