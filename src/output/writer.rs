//! What a writer is: something finished goes in, files come out.

use super::file::File;
use crate::cutting::ShopLists;
use crate::exchange::Exchange;
use crate::model::JobHead;
use crate::paper::Sheet;
use crate::revision::SavedJob;
use crate::wording::Words;
use crate::wording::assembly::StepRow;

/// A set as far as writers know it.
pub struct Finished<'a> {
    /// Title, owner and number of the job.
    pub head: &'a JobHead,
    /// The sheets of the set.
    pub sheets: &'a [Sheet],
    /// Draws the sheets of labels, which no other writer has to wait for.
    pub labels: &'a (dyn Fn() -> Vec<Sheet> + Sync),
    /// The lists and layouts of the shop.
    pub lists: &'a ShopLists,
    /// The steps of all orders of assembly.
    pub order: &'a [StepRow<'a>],
    /// Shapes for other programs, as far as they are asked for.
    pub exchange: &'a Exchange,
    /// What it was made from; `None` where that is kept by nobody.
    pub saved: Option<&'a SavedJob>,
    /// How lists word lengths and sentences.
    pub words: Words,
}

/// Writes one kind of file.
pub(super) trait Writer: Sync {
    /// The code of the problem if it fails.
    fn code(&self) -> &'static str;

    /// What it makes, as that problem calls it: `the PDF`.
    fn makes(&self) -> &'static str;

    /// The files of a set; empty if there is nothing for them to hold.
    ///
    /// # Errors
    /// The reason why they could not be made; that is a fault of this program.
    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String>;
}
