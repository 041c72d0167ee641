//! Part sheets: every part by itself, sized so that it can be made from its
//! drawing alone.

pub(in crate::drawing) mod breaks;
pub(in crate::drawing) mod cell;
mod cells;
pub(in crate::drawing) mod centres;
pub(in crate::drawing) mod chosen;
pub(in crate::drawing) mod end_letters;
pub(in crate::drawing) mod frame;
pub(in crate::drawing) mod full_size;
pub(in crate::drawing) mod ground;
pub(in crate::drawing) mod heading;
mod holes;
pub(in crate::drawing) mod notes;
pub(in crate::drawing) mod pack;
mod room;
pub(in crate::drawing) mod side_words;
pub(in crate::drawing) mod sizes;
pub(in crate::drawing) mod stretches;
pub(in crate::drawing) mod strips;
pub(in crate::drawing) mod subject;
pub(in crate::drawing) mod symbols;
pub(in crate::drawing) mod thin;
pub(in crate::drawing) mod turned;
pub(in crate::drawing) mod view;

pub(in crate::drawing) use cells::drawn_parts;
pub(crate) use cells::finished_part;
pub use cells::{part_sheets, sounding};
