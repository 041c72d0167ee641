//! What can be drawn on a sheet.

use kurbo::{BezPath, Point};

use super::fixes::Fixes;

/// One mark on the sheet: what is drawn, in which role, and what it shows.
#[derive(Clone, Debug)]
pub struct Mark {
    /// What is drawn.
    pub ink: Ink,
    /// Why: decides layer and how the lint judges it.
    pub role: Role,
    /// What in the model it shows.
    pub shows: Shows,
}

/// What is drawn. Pictures never.
#[derive(Clone, Debug)]
pub enum Ink {
    /// A line along a path.
    Stroke {
        /// The line, mm on the sheet.
        path: BezPath,
        /// Width and dash.
        pen: Pen,
    },
    /// A filled area (non-zero winding).
    Fill {
        /// Its boundary; every ring closed.
        path: BezPath,
        /// 0 black to 1 white.
        grey: f32,
    },
    /// A line of text.
    Text(Text),
}

/// A pen: width and dash pattern, mm. Black, round joins and caps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Line width, mm.
    pub width: f64,
    /// Dash, gap, dash, gap ... in mm; empty for a continuous line.
    pub dash: &'static [f64],
}

/// Dash patterns for the narrow line of group 0.5 (0.25 mm wide), from
/// ISO 128-2 (dash 12 d, gap 3 d, long dash 24 d); dots drawn 0.6 mm long with
/// round caps, since 0.5 d vanishes on screens.
pub mod dash {
    /// Continuous.
    pub const SOLID: &[f64] = &[];
    /// 02.1 dashed narrow: hidden edges.
    pub const HIDDEN: &[f64] = &[3.0, 0.75];
    /// 04.1 long dash dot narrow: centre lines.
    pub const CENTRE: &[f64] = &[6.0, 0.75, 0.6, 0.75];
    /// 05.1 long dash double dot narrow: neighbours, open positions.
    pub const PHANTOM: &[f64] = &[6.0, 0.75, 0.6, 0.75, 0.6, 0.75];
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The base line point that `anchor` refers to.
    pub at: Point,
    /// The text, in reading order.
    pub runs: Vec<Run>,
    /// Cap height, mm (ISO 3098 nominal height).
    pub height: f64,
    /// Which end of the text `at` is.
    pub anchor: Anchor,
    /// Counter-clockwise turn as seen on the sheet, degrees: 0 reads from the
    /// bottom, 90 reads from the right.
    pub turn: f64,
    /// Regular or semi-bold.
    pub weight: Weight,
}

/// A stretch of text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Run {
    /// Plain characters.
    Plain(String),
    /// A stacked fraction, read aloud as `num/den`.
    Fraction {
        /// Above the bar.
        num: u32,
        /// Below the bar.
        den: u32,
    },
}

/// Which point of a text its position is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The left end of the base line.
    Start,
    /// The middle of the base line.
    Middle,
    /// The right end of the base line.
    End,
}

/// Weight of the lettering.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Everything but titles.
    Regular,
    /// Titles and part numbers.
    SemiBold,
}

/// Why a mark is on the sheet. Layers of the PDF and classes of the SVG.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Frame, grid strip, centring and trim marks.
    Frame,
    /// Title block lines and table rules.
    Table,
    /// Visible edges and outlines.
    Outline,
    /// Outlines of what a section cuts.
    CutOutline,
    /// Hidden edges.
    Hidden,
    /// Centre lines and axes.
    Centre,
    /// Neighbours, open doors, blanks.
    Phantom,
    /// Edges of a pictorial view.
    Pictorial,
    /// Dimension lines.
    Dimension,
    /// Extension lines.
    Extension,
    /// Arrow heads and dots.
    Arrow,
    /// Leader lines.
    Leader,
    /// Figures and notes of dimensions.
    DimensionText,
    /// Hatching and solid fill of cut material.
    Hatch,
    /// Section planes with arrows and letters.
    SectionMark,
    /// Circles round what a detail shows, with its letter.
    DetailMark,
    /// Face mark, edge mark, triangle, grain arrow, projection symbol.
    Symbol,
    /// Part numbers on views.
    ItemNumber,
    /// Titles of views and sheets.
    Title,
    /// Any other text.
    Note,
    /// A white patch that clears what lies below it.
    Mask,
}

/// What in the model a mark shows, so that the lint can judge it and an SVG
/// can be clicked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shows {
    /// View on this sheet, counted from 1; 0 for none.
    pub view: u16,
    /// Part number as printed, such as `4 L`; empty for none.
    pub part: String,
    /// Dimension on this sheet, counted from 1; 0 for none. Line, extension
    /// lines, arrows and text of one dimension share it.
    pub dimension: u32,
    /// For the text of a dimension: the exact model value in mm or degrees.
    pub value: Option<f64>,
    /// What exactly a dimension fixes.
    pub fixes: Fixes,
}
