//! One file or folder a kind of sheet.

pub(in crate::drawing) mod assembly;
pub(in crate::drawing) mod change;
pub(in crate::drawing) mod client;
pub(in crate::drawing) mod detail;
pub(in crate::drawing) mod exploded;
pub(in crate::drawing) mod general;
pub(in crate::drawing) mod labels;
pub(in crate::drawing) mod layout;
pub(in crate::drawing) mod lists;
pub(in crate::drawing) mod notes;
pub(in crate::drawing) mod parts;
pub(in crate::drawing) mod quote;
pub(in crate::drawing) mod section;
mod section_shelves;
mod section_sizes;
pub(in crate::drawing) mod settings;
pub(in crate::drawing) mod site;
pub(in crate::drawing) mod template;
