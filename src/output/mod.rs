//! Sheets of ink to SVG and PDF, lists to CSV and JSON.
//!
//! Comes in: finished sheets and rows. Goes out: text or bytes, the same for
//! the same input on every machine. Knows nothing of solids, scripts or files.

mod buying;
mod csv;
mod finish;
mod layouts;
pub mod lists;
mod number;
pub mod pdf;
mod subset;
pub mod svg;
mod webfont;
mod xlsx;
