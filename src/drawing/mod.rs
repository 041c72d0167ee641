//! Views, dimensions, tables; one file per kind of sheet.
//!
//! Comes in: a job, its worked parts and assembly orders, and a [`Look`]. Goes
//! out: finished sheets of ink. Knows nothing of files and formats.

mod assembly_sheet;
mod buying_sheet;
mod cutting_list;
mod detail;
mod dimension;
mod exploded;
mod frame;
mod general;
mod general_fronts;
mod general_sizes;
mod general_zones;
mod hatch;
mod index;
mod label_grid;
mod labels;
mod layout_sheet;
mod layout_sheet_cuts;
mod layout_sheet_label;
mod layout_sheet_picture;
mod layout_sheet_sticks;
mod look;
mod notes;
mod notes_cautions;
mod opening;
mod part_sheet;
mod plate;
mod profile;
mod project;
mod scale;
mod section;
mod set;
mod settings;
mod settings_against;
mod settings_sheet;
mod settings_stops;
mod site_sheet;
mod table;
mod template;
mod template_label;
mod template_sheet;
mod template_tile;
mod template_turned;
mod title_block;
mod words;
mod zones;

pub use detail::joint_details;
pub use exploded::{Apart, Flow, taken_apart};
pub use label_grid::LabelGrid;
pub use labels::labels;
pub use look::{Look, Paper, PaperSeries, Room};
pub use part_sheet::part_sheets;
pub use profile::{Profile, Projection};
pub use scale::{Scale, series};
pub use set::draw;

use kurbo::{Point, Rect};

use crate::paper::Mark;

/// What one kind of sheet fills in; frame, title block and numbers come after.
#[derive(Clone, Debug)]
pub struct SheetBody {
    /// Which part of the set it belongs to.
    pub kind: SheetKind,
    /// What it shows: `Periodicals cabinet: general arrangement`.
    pub title: String,
    /// Main scale as printed in the title block; `None` where nothing is to
    /// scale. Other scales stand at their views.
    pub scale: Option<Scale>,
    /// The ink, in sheet mm, inside [`Room::above`] or [`Room::beside`].
    pub marks: Vec<Mark>,
    /// Bookmarks under the sheet: text and place.
    pub bookmarks: Vec<(String, Point)>,
    /// A place kept free for the sheet index, if this may be the first sheet.
    pub free: Option<Rect>,
    /// Whether something on it is to be measured with a ruler.
    pub full_size: bool,
    /// Whether the job's notes stand on it.
    pub noted: bool,
}

/// Parts of a set, in the order of the sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetKind {
    /// Front, side, plan, pictorial.
    GeneralArrangement,
    /// General notes, cautions, tolerances, fittings, revisions.
    Notes,
    /// Sections.
    Section,
    /// Joint details.
    Detail,
    /// Parts drawn apart.
    Exploded,
    /// Parts, each by itself.
    Part,
    /// Cutting list, lippings, fittings, finishing.
    CuttingList,
    /// Sheet and stick layouts.
    Layout,
    /// What to buy.
    Buying,
    /// Machine settings.
    Settings,
    /// Steps of assembly.
    Assembly,
    /// The wall with the pieces on it.
    Site,
    /// Full-size templates.
    Template,
}

impl SheetKind {
    /// The document type of the title block (ISO 7200).
    pub fn document_type(self) -> &'static str {
        match self {
            Self::GeneralArrangement => "general arrangement",
            Self::Notes => "notes",
            Self::Section => "section",
            Self::Detail => "joint details",
            Self::Exploded => "exploded view",
            Self::Part => "part drawing",
            Self::CuttingList => "cutting list",
            Self::Layout => "layout",
            Self::Settings => "machine settings",
            Self::Buying => "buying list",
            Self::Assembly => "assembly order",
            Self::Site => "site and installation",
            Self::Template => "template",
        }
    }
}

impl SheetBody {
    /// An empty body.
    pub fn new(kind: SheetKind, title: impl Into<String>) -> Self {
        Self {
            kind,
            title: title.into(),
            scale: None,
            marks: Vec::new(),
            bookmarks: Vec::new(),
            free: None,
            full_size: false,
            noted: false,
        }
    }
}
