//! The lists and layouts of the shop as files for a spreadsheet and for programs.

pub(super) mod buying;
pub(super) mod csv;
pub(super) mod cutting_list;
pub(super) mod job;
pub(super) mod layouts;
pub(super) mod order;
pub(super) mod settings;
pub(super) mod workbook;
mod xlsx;

/// The version of what the JSON files hold: it rises when a reader of them would have to
/// change. `schema.json` says what that is, and what each version before meant.
const VERSION: u32 = 2;

/// What the JSON files hold, as JSON Schema (draft 2020-12).
pub const SCHEMA: &str = include_str!("schema.json");
