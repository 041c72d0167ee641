//! The cutting list; later sheet and stick layouts, buying, settings, labels.
//!
//! Comes in: a job and its worked parts. Goes out: rows that the drawn list,
//! the CSV and the JSON share, so that they cannot disagree. Knows nothing of
//! paper.

mod blanks;
mod board_jobs;
mod buying;
mod ends;
mod fills;
mod folded;
mod layouts;
mod list;
mod needs;
mod proof;
mod rough;
mod sheet_jobs;
pub mod sheets;
mod stick_jobs;
pub mod sticks;
mod surfaces;

pub use buying::{
    BETWEEN_COATS, BOARD_FOOT, Boards, BuyLine, BuyingList, DISC_AREA, GLUE_SPREAD, GRITS, Group, SHEET_AREA,
    Ware,
};
pub use ends::{EndCuts, end_cuts};
pub use fills::Inlaid;
pub use folded::{FoldLine, FoldedPanel};
pub use layouts::{Alike, Layouts, SheetCutting, SheetRow, StickCutting, StickMember, StickRow, layouts};
pub use list::{CutRow, CuttingList, Lipped, cutting_list, staved};
pub use needs::{Need, needs};
pub use proof::Proof;

use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::problem::Problem;

/// Every list of the shop, all read from one cutting list.
#[derive(Clone, Debug, Default)]
pub struct ShopLists {
    /// The cutting list.
    pub list: CuttingList,
    /// Sheet and stick layouts.
    pub layouts: Layouts,
    /// What to buy.
    pub buying: BuyingList,
}

/// The lists of a job; problems are about what has no place on any layout.
pub fn shop_lists(job: &Job, worked: &WorkedJob) -> (ShopLists, Vec<Problem>) {
    let list = cutting_list(job, worked);
    let (layouts, mut problems) = layouts(job, worked, &list);
    problems.extend(blanks::too_small(job, worked, &list));
    let buying = buying::buying_list(job, worked, &list, &layouts);
    (ShopLists { list, layouts, buying }, problems)
}
