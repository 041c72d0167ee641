//! The page: look, practice, scale, frame, title block, index.

pub(in crate::drawing) mod block;
pub(in crate::drawing) mod cells;
pub(in crate::drawing) mod frame;
pub(in crate::drawing) mod gather;
pub(in crate::drawing) mod index;
pub(in crate::drawing) mod look;
mod placing;
pub(in crate::drawing) mod plate;
pub(in crate::drawing) mod profile;
pub(in crate::drawing) mod scale;
pub(in crate::drawing) mod sheet_body;
pub(in crate::drawing) mod strip;
pub(in crate::drawing) mod title_block;
