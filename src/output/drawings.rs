//! All sheets of a set in one PDF.

use super::file::File;
use super::info::Info;
use super::pdf;
use super::writer::{Finished, Writer};

/// Writes `.pdf`.
pub(super) struct Drawings;

impl Writer for Drawings {
    fn code(&self) -> &'static str {
        "pdf"
    }

    fn makes(&self) -> &'static str {
        "the PDF"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let bytes = pdf::write(set.sheets, &Info::of(set.head))?;
        Ok(vec![File { name: ".pdf".into(), bytes }])
    }
}
