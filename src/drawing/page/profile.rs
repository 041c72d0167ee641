//! Drawing practices: the figures in which they differ.

/// Wide line, mm: ISO 128-2 group 0.5, which is for A4 to A2, and ASME Y14.2.
const WIDE_ISO: f64 = 0.5;
const WIDE_ASME: f64 = 0.6;
/// Gap between an outline and its extension lines, mm: 1/16 in by ASME Y14.5, a small
/// one in British wood practice; none in ISO teaching.
const GAP_ASME: f64 = 1.5;
const GAP_UK: f64 = 1.0;
/// How far extension lines run past the dimension line, mm.
const OVER_ISO: f64 = 2.0;
const OVER_ASME: f64 = 3.0;

/// The practice a set follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Profile {
    /// ISO 128, 129-1, 5455, 5456, 7200: first angle, text along the line.
    Iso,
    /// ASME Y14.1, Y14.2, Y14.5: third angle, text horizontal.
    Asme,
    /// ISO with the small gaps and finished-size arrows of British joinery.
    Uk,
}

/// How views lie round the front view (ISO 5456-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Projection {
    /// What is seen from above lies below; what is seen from the left lies on
    /// the right.
    First,
    /// What is seen from above lies above; what is seen from the right lies on
    /// the right.
    Third,
}

impl Profile {
    /// All profiles.
    pub const ALL: [Self; 3] = [Self::Iso, Self::Asme, Self::Uk];

    /// Its name on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Iso => "iso",
            Self::Asme => "asme",
            Self::Uk => "uk",
        }
    }

    /// The profile a command line names.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.name().eq_ignore_ascii_case(name))
    }

    /// How its views lie.
    pub fn projection(self) -> Projection {
        match self {
            Self::Iso | Self::Uk => Projection::First,
            Self::Asme => Projection::Third,
        }
    }

    /// Width of the wide line, mm: 0.5 (ISO 128-2 group 0.5, for A4 to A2) or
    /// 0.6 (ASME Y14.2).
    pub fn wide(self) -> f64 {
        match self {
            Self::Iso | Self::Uk => WIDE_ISO,
            Self::Asme => WIDE_ASME,
        }
    }

    /// Width of the narrow line, half the wide one.
    pub fn narrow(self) -> f64 {
        self.wide() / 2.0
    }

    /// Gap between an outline and its extension lines, mm: none in ISO
    /// teaching, 1/16 in by ASME Y14.5, a small gap in British wood practice.
    pub fn extension_gap(self) -> f64 {
        match self {
            Self::Iso => 0.0,
            Self::Asme => GAP_ASME,
            Self::Uk => GAP_UK,
        }
    }

    /// How far extension lines run past the dimension line, mm.
    pub fn extension_over(self) -> f64 {
        match self {
            Self::Iso | Self::Uk => OVER_ISO,
            Self::Asme => OVER_ASME,
        }
    }

    /// Outline to first dimension line, mm, in every profile (ISO teaching and
    /// ASME Y14.5).
    pub const FIRST_BAND: f64 = 10.0;

    /// Dimension line to the next, mm, in every profile: 7 by ISO teaching;
    /// ASME Y14.5 asks for 6 at least.
    pub const NEXT_BAND: f64 = 7.0;

    /// Whether dimension figures all read from the bottom (ASME Y14.5) rather
    /// than along their line.
    pub fn text_horizontal(self) -> bool {
        self == Self::Asme
    }
}
