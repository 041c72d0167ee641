//! Roles by name and by layer.

use super::Role;

impl Role {
    /// All roles, in the order of their names' definition.
    pub const ALL: [Self; 21] = [
        Self::Frame,
        Self::Table,
        Self::Outline,
        Self::CutOutline,
        Self::Hidden,
        Self::Centre,
        Self::Phantom,
        Self::Pictorial,
        Self::Dimension,
        Self::Extension,
        Self::Arrow,
        Self::Leader,
        Self::DimensionText,
        Self::Hatch,
        Self::SectionMark,
        Self::DetailMark,
        Self::Symbol,
        Self::ItemNumber,
        Self::Title,
        Self::Note,
        Self::Mask,
    ];

    /// Its name: the class of its groups in an SVG.
    pub fn name(self) -> &'static str {
        match self {
            Self::Frame => "frame",
            Self::Table => "table",
            Self::Outline => "outline",
            Self::CutOutline => "cut-outline",
            Self::Hidden => "hidden",
            Self::Centre => "centre",
            Self::Phantom => "phantom",
            Self::Pictorial => "pictorial",
            Self::Dimension => "dimension",
            Self::Extension => "extension",
            Self::Arrow => "arrow",
            Self::Leader => "leader",
            Self::DimensionText => "dimension-text",
            Self::Hatch => "hatch",
            Self::SectionMark => "section-mark",
            Self::DetailMark => "detail-mark",
            Self::Symbol => "symbol",
            Self::ItemNumber => "item-number",
            Self::Title => "title",
            Self::Note => "note",
            Self::Mask => "mask",
        }
    }

    /// The layer it lies on; `None` for masks, which go with what they clear
    /// the ground for.
    pub fn layer(self) -> Option<Layer> {
        Some(match self {
            Self::Frame | Self::Table => Layer::Frame,
            Self::Outline | Self::CutOutline | Self::Pictorial => Layer::Outlines,
            Self::Hidden => Layer::Hidden,
            Self::Centre => Layer::Centre,
            Self::Phantom => Layer::Phantom,
            Self::Dimension | Self::Extension | Self::Arrow | Self::Leader | Self::DimensionText => {
                Layer::Dimensions
            }
            Self::Hatch => Layer::Hatching,
            Self::SectionMark | Self::DetailMark => Layer::Sections,
            Self::Symbol | Self::ItemNumber => Layer::Marks,
            Self::Title | Self::Note => Layer::Text,
            Self::Mask => return None,
        })
    }

    /// Whether it outlines wood: what dimensions and text must keep clear of.
    pub fn is_outline(self) -> bool {
        matches!(self, Self::Outline | Self::CutOutline | Self::Hidden | Self::Pictorial)
    }
}

/// What a reader of the PDF can show and hide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Frame, title block, tables.
    Frame,
    /// Visible edges.
    Outlines,
    /// Hidden edges.
    Hidden,
    /// Centre lines.
    Centre,
    /// Neighbours and open positions.
    Phantom,
    /// Hatching.
    Hatching,
    /// Dimensions with everything that belongs to them.
    Dimensions,
    /// Cutting planes and detail circles.
    Sections,
    /// Workshop marks and part numbers.
    Marks,
    /// Titles and notes.
    Text,
}

impl Layer {
    /// All layers from the ground up.
    pub const ALL: [Self; 10] = [
        Self::Frame,
        Self::Outlines,
        Self::Hidden,
        Self::Centre,
        Self::Phantom,
        Self::Hatching,
        Self::Dimensions,
        Self::Sections,
        Self::Marks,
        Self::Text,
    ];

    /// As a reader of the PDF sees it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Frame => "Frame and tables",
            Self::Outlines => "Outlines",
            Self::Hidden => "Hidden edges",
            Self::Centre => "Centre lines",
            Self::Phantom => "Neighbours and open positions",
            Self::Hatching => "Hatching",
            Self::Dimensions => "Dimensions",
            Self::Sections => "Section marks",
            Self::Marks => "Workshop marks and part numbers",
            Self::Text => "Titles and notes",
        }
    }
}
