//! Sides of a piece and faces of a part.

use crate::geometry::DVec3;

/// A side of the piece as one stands before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// Towards -x.
    Left,
    /// Towards +x.
    Right,
    /// Towards -y.
    Front,
    /// Towards +y.
    Back,
    /// Towards -z.
    Bottom,
    /// Towards +z.
    Top,
}

/// Cosine over which a direction is that of a side: half a degree.
const SAME_WAY: f64 = 0.999_96;

impl Side {
    /// All sides.
    pub const ALL: [Self; 6] = [Self::Left, Self::Right, Self::Front, Self::Back, Self::Bottom, Self::Top];

    /// The word for it in scripts and lists.
    pub fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Front => "front",
            Self::Back => "back",
            Self::Bottom => "bottom",
            Self::Top => "top",
        }
    }

    /// The side a script names.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.name() == name)
    }

    /// Unit vector out of the piece on this side.
    pub fn normal(self) -> DVec3 {
        match self {
            Self::Left => DVec3::NEG_X,
            Self::Right => DVec3::X,
            Self::Front => DVec3::NEG_Y,
            Self::Back => DVec3::Y,
            Self::Bottom => DVec3::NEG_Z,
            Self::Top => DVec3::Z,
        }
    }
}

/// A face of a part's blank, in part coordinates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Face {
    /// The marked face, z = 0.
    Marked,
    /// The face behind it, z = thickness.
    Back,
    /// The marked edge, y = 0.
    Edge,
    /// The edge opposite, y = width.
    FarEdge,
    /// The end sizes are taken from, x = 0.
    NearEnd,
    /// The other end, x = length.
    FarEnd,
}

impl Face {
    /// All faces.
    pub const ALL: [Self; 6] =
        [Self::Marked, Self::Back, Self::Edge, Self::FarEdge, Self::NearEnd, Self::FarEnd];

    /// Unit vector out of the part on this face, part coordinates.
    pub fn normal(self) -> DVec3 {
        match self {
            Self::Marked => DVec3::NEG_Z,
            Self::Back => DVec3::Z,
            Self::Edge => DVec3::NEG_Y,
            Self::FarEdge => DVec3::Y,
            Self::NearEnd => DVec3::NEG_X,
            Self::FarEnd => DVec3::X,
        }
    }

    /// The face whose outward normal is nearest `normal` (part coordinates),
    /// if it is within about half a degree of it.
    pub fn facing(normal: DVec3) -> Option<Self> {
        Self::ALL.into_iter().find(|f| f.normal().dot(normal) > SAME_WAY)
    }

    /// Words for it on drawings and in messages.
    pub fn name(self) -> &'static str {
        match self {
            Self::Marked => "face side",
            Self::Back => "back side",
            Self::Edge => "face edge",
            Self::FarEdge => "far edge",
            Self::NearEnd => "near end",
            Self::FarEnd => "far end",
        }
    }
}
