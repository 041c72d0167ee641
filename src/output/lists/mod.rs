//! The lists and layouts of the shop as files for a spreadsheet and for programs.

pub(super) mod buying;
pub(super) mod csv;
pub(super) mod cutting_list;
pub(super) mod layouts;
pub(super) mod settings;
pub(super) mod workbook;
mod xlsx;
