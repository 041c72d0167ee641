//! Everything on the cutting list laid out: sheet goods, then boards.

use super::bought_boards::cut_boards;
use super::grain_runs::broken_runs;
use super::laid::Layouts;
use super::sheet_jobs::cut_sheets;
use super::sheet_stock::Whole;
use crate::cutting::CuttingList;
use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::problem::Problem;

/// Lays out everything on `list`. Problems are about what has no place and
/// what cannot be laid out.
pub fn layouts(job: &Job, worked: &WorkedJob, list: &CuttingList) -> (Layouts, Vec<Problem>) {
    let whole = Whole { job, worked, list };
    let (mut problems, mut of_boards) = (Vec::new(), Vec::new());
    let (sheets, boards) =
        rayon::join(|| cut_sheets(whole, &mut problems), || cut_boards(whole, &mut of_boards));
    problems.append(&mut of_boards);
    problems.append(&mut broken_runs(whole));
    (Layouts { sheets, boards }, problems)
}
