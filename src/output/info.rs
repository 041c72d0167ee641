//! The document information of a PDF.

use crate::model::JobHead;

/// The document information of a PDF.
#[derive(Clone, Debug, Default)]
pub struct Info {
    /// Title of the job.
    pub title: String,
    /// The shop.
    pub author: String,
    /// What the set is: `Drawing set SRR-01`.
    pub subject: String,
}

impl Info {
    /// Of the drawing set of a job.
    #[must_use]
    pub fn of(head: &JobHead) -> Self {
        Self {
            title: head.title.clone(),
            author: head.owner.clone().unwrap_or_default(),
            subject: head.number.as_ref().map(|n| format!("Drawing set {n}")).unwrap_or_default(),
        }
    }
}
