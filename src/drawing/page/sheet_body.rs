//! What every kind of sheet hands on, and which kinds there are.

use kurbo::{Point, Vec2};

use super::scale::Scale;
use crate::paper::Mark;

/// What one kind of sheet fills in; frame, title block and numbers come after.
#[derive(Clone, Debug)]
#[allow(clippy::struct_excessive_bools, reason = "each is a fact of its own about the sheet")]
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
    /// The same set narrower, widest first, where it may be.
    pub narrower: Vec<SheetBody>,
    /// Whether it goes on from one of the same title before it.
    pub runs_on: bool,
    /// Whether it opens the set, and so carries the whole title block.
    pub opens: bool,
    /// Whether the ends of parts are named on it by letters.
    pub ends: bool,
    /// Whether something on it is to be measured with a ruler.
    pub full_size: bool,
    /// Whether the job's notes stand on it.
    pub noted: bool,
}

/// Parts of a set, in the order of the sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetKind {
    /// The piece in perspective, and what it is in words.
    Client,
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
    /// Sheet and board layouts.
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
    /// What becomes of parts when a job changes.
    Change,
}

impl SheetKind {
    /// The document type of the title block (ISO 7200).
    pub fn document_type(self) -> &'static str {
        match self {
            Self::Client => "for the client",
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
            Self::Change => "change, for the shop",
        }
    }
}

impl SheetKind {
    /// Whether it is laid out over a whole sheet and stays where it is.
    pub(super) fn stays(self) -> bool {
        matches!(self, Self::Part | Self::Template | Self::Client)
    }

    /// Whether its views stand apart, with white between them that others may use.
    pub(super) fn is_spread(self) -> bool {
        matches!(self, Self::GeneralArrangement | Self::Site)
    }

    /// Whether it is read and not measured: tables, and layouts with their cuts.
    pub(super) fn is_list(self) -> bool {
        matches!(self, Self::Notes | Self::CuttingList | Self::Buying | Self::Settings | Self::Layout)
    }

    /// Whether the scale of what it shows stands beside it.
    pub(super) fn prints_scales(self) -> bool {
        matches!(self, Self::Section | Self::Detail | Self::Layout | Self::Part)
    }
}

impl SheetBody {
    /// The piece that its title names.
    fn piece(&self) -> Option<&str> {
        self.title.split_once(": ").map(|(piece, _)| piece)
    }

    /// Whether `other` may stand on a sheet with it.
    pub(super) fn takes(&self, other: &Self) -> bool {
        use SheetKind::{
            Assembly, Buying, Change, Client, CuttingList, Detail, Estimate, Exploded, GeneralArrangement,
            Layout, Notes, Part, Section, Settings, Site, Template,
        };
        match self.kind {
            GeneralArrangement if self.opens => other.kind == Notes,
            // Sections and details beside the arrangement of the piece they belong to.
            GeneralArrangement => match other.kind {
                Section | Detail => other.piece() == self.piece(),
                kind => kind == GeneralArrangement,
            },
            // What is constructed how is read beside the section, and what is bought for it.
            Section | Detail => matches!(other.kind, Section | Detail | Notes | Buying),
            // A guest itself, on whatever sheet takes notes.
            Notes | Buying if matches!(other.kind, Section | Detail) => true,
            Notes | CuttingList | Buying | Settings | Layout => {
                matches!(other.kind, Notes | CuttingList | Buying | Settings | Layout)
            }
            Exploded | Assembly | Site => matches!(other.kind, Exploded | Assembly | Site),
            // What the shop keeps for itself.
            Estimate | Change => other.kind == self.kind,
            Part | Template | Client => false,
        }
    }
}

impl SheetBody {
    /// Whether `other` may stand in the white left on its sheet where a sheet is saved by it:
    /// lists, which are looked up wherever they are, beside parts, steps and the wall.
    pub(super) fn spares(&self, other: &Self) -> bool {
        use SheetKind::{Assembly, Detail, Exploded, Part, Section, Settings, Site};
        self.takes(other)
            || match self.kind {
                Part | Exploded | Assembly | Site => other.kind.is_list(),
                // What a joint is cut with is read beside it too.
                Section | Detail => other.kind == Settings,
                // A guest itself, wherever lists are.
                kind if kind.is_list() => other.kind.is_list(),
                _ => false,
            }
    }
}

/// Numbers of sizes that a view has to itself.
const OF_A_VIEW: u32 = 100;

impl SheetBody {
    /// Moves all that is on it.
    pub(super) fn moved(&mut self, by: Vec2) {
        self.marks.iter_mut().for_each(|mark| mark.shift(by));
        self.bookmarks.iter_mut().for_each(|(_, at)| *at += by);
    }

    /// Takes on what stands on another body; sizes and views are counted on, so that no
    /// two share a number.
    pub(super) fn join(&mut self, other: Self) {
        let most = |of: fn(&Mark) -> u32| self.marks.iter().map(of).max().unwrap_or(0);
        let dimensions = most(|mark| mark.shows.dimension);
        let views = self.marks.iter().map(|mark| mark.shows.view).max().unwrap_or(0);
        // Sizes of view n are numbered from 100 n on, so both are counted on together.
        let before =
            if dimensions > 0 { u16::try_from(dimensions / OF_A_VIEW + 1).unwrap_or(u16::MAX) } else { 0 };
        let views = views.max(before);
        let counted = other.marks.into_iter().map(|mut mark| {
            if mark.shows.dimension > 0 {
                mark.shows.dimension += OF_A_VIEW * u32::from(views);
            }
            if mark.shows.view > 0 {
                mark.shows.view = mark.shows.view.saturating_add(views);
            }
            mark
        });
        self.marks.extend(counted);
        self.bookmarks.extend(other.bookmarks);
        self.full_size |= other.full_size;
        self.ends |= other.ends;
        self.scale = self.scale.or(other.scale);
    }

    /// An empty body.
    pub fn new(kind: SheetKind, title: impl Into<String>) -> Self {
        Self {
            kind,
            title: title.into(),
            scale: None,
            marks: Vec::new(),
            bookmarks: Vec::new(),
            narrower: Vec::new(),
            runs_on: false,
            opens: false,
            ends: matches!(kind, SheetKind::Part | SheetKind::Settings),
            full_size: false,
            noted: false,
        }
    }
}
