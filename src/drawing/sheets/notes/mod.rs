//! General notes, cautions, tolerances, fittings, finishing, revisions.

pub(in crate::drawing) mod cautions;
pub(in crate::drawing) mod finishing;
pub(in crate::drawing) mod pages;
