//! The cutting list, layouts of sheets and boards, what to buy, settings.
//!
//! Comes in: a job and its worked parts. Goes out: rows that the drawn list,
//! the CSV and the JSON share, so that they cannot disagree. Knows nothing of
//! paper.

mod blanks;
pub mod boards;
mod buy_boards;
mod buy_line;
mod buying;
mod fills;
mod folded;
mod grain;
mod inlaid;
mod layouts;
mod list;
mod needs;
mod price_list;
mod pricing;
mod proof;
mod rows;
mod settings;
pub mod sheets;
mod shop_lists;
pub mod sticks;
mod surfaces;
mod tolerance;
mod units;

pub use crate::machining::ends::{EndCuts, end_cuts};
pub use buy_boards::{BOARD_FOOT, surface_measure};
pub use buy_line::{Boards, Bought, BuyLine, BuyingList, Group, Measure, Nearby, Note, Pack, Saved};
pub use buying::{BETWEEN_COATS, GRITS, disc_area, glue_spread, sheet_area};
pub use inlaid::{Inlaid, InlayKind};
pub use layouts::{Alike, Grid, Layouts, SheetCutting, SheetRow, layouts};
pub use list::cutting_list;
pub use needs::{Need, needs};
pub use price_list::price_list;
pub use proof::Proof;
pub use rows::{CompoundEnd, CutRow, CuttingList, FoldLine, FoldedPanel, LaterCut, Lipped, Scribed};
pub use settings::{Settings, Worked};
pub use shop_lists::{ShopLists, shop_lists};
pub use surfaces::{Coated, coats};
