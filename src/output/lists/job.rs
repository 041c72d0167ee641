//! The job file: what the set was made from, for `compare` and for later sets.

use crate::output::file::File;
use crate::output::writer::{Finished, Writer};

/// Writes `-job.json`.
pub(in crate::output) struct JobFile;

impl Writer for JobFile {
    fn code(&self) -> &'static str {
        "job"
    }

    fn makes(&self) -> &'static str {
        "the job file"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        set.saved.map(|saved| Ok(File::text("-job.json", saved.text()?))).into_iter().collect()
    }
}
