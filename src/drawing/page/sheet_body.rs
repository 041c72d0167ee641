//! What every kind of sheet hands on, and which kinds there are.

use kurbo::{Point, Rect};

use super::scale::Scale;
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
    /// The ink, in sheet mm, inside [`Room::above`](super::look::Room::above) or [`Room::beside`](super::look::Room::beside).
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
    /// What the job costs the shop.
    Estimate,
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
            Self::Estimate => "estimate, not for the client",
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
