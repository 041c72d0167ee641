//! The change sheet: both pictures and what changes in words for the client, the new
//! drawings with a triangle at every changed size, and tables for the shop.

mod marks;
mod page;
mod tables;

pub use marks::mark_changes;
pub use page::{ChangeSheet, change_sheets};
pub use tables::change_tables;
