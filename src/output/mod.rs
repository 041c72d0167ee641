//! Sheets of ink to SVG and PDF, lists to CSV and JSON.
//!
//! Comes in: finished sheets and rows. Goes out: text or bytes, the same for
//! the same input on every machine. Knows nothing of solids, scripts or files.

mod drawings;
mod dxf;
mod file;
mod finish;
mod glb;
mod info;
mod labels;
mod lists;
mod number;
mod page_pictures;
pub mod pdf;
mod points;
mod subset;
pub mod svg;
mod webfont;
mod writer;
mod writers;

pub use file::File;
pub use info::Info;
pub use lists::SCHEMA;
pub use writer::Finished;
pub use writers::{files, list_files};

/// Rows as comma-separated values, heads first.
pub fn csv_text(rows: &[Vec<String>]) -> String {
    lists::csv::write(rows)
}
