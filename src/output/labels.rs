//! The labels of the parts as a PDF of their own, for label paper.

use super::file::File;
use super::info::Info;
use super::pdf;
use super::writer::{Finished, Writer};

/// Writes `-labels.pdf`.
pub(super) struct Labels;

impl Writer for Labels {
    fn code(&self) -> &'static str {
        "pdf"
    }

    fn makes(&self) -> &'static str {
        "the PDF"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let labels = (set.labels)();
        if labels.is_empty() {
            return Ok(Vec::new());
        }
        let info = Info::of(set.head);
        let info = Info { title: format!("{}: labels", info.title), ..info };
        let bytes = pdf::write(&labels, &info)?;
        Ok(vec![File { name: "-labels.pdf".into(), bytes }])
    }
}
