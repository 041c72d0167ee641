//! Views, dimensions, tables; one file per kind of sheet.
//!
//! Comes in: a job, its worked parts and assembly orders, and a [`Look`]. Goes
//! out: finished sheets of ink. Knows nothing of files and formats.

mod choices;
mod kit;
mod letters;
mod page;
mod set;
mod sheets;

pub use choices::{Also, Choices};
pub use letters::lacking_letters;
pub use page::look::{Look, Paper, PaperSeries, Room};
pub use page::profile::{Profile, Projection};
pub use page::scale::{Scale, series};
pub use page::sheet_body::{SheetBody, SheetKind};
pub use set::{draw, draw_kinds};
pub use sheets::change::{ChangeSheet, change_sheets, change_tables, mark_changes};
pub use sheets::detail::joint_details;
pub use sheets::exploded::{Apart, Flow, taken_apart};
pub use sheets::labels::grid::LabelGrid;
pub use sheets::labels::pages::labels;
pub(crate) use sheets::parts::finished_part;
pub use sheets::parts::{part_sheets, sounding};
pub use sheets::quote::{Offered, QuoteSheet, Reckoned, Sum, inside_sheets, quote_sheets};
