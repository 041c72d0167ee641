//! How a drawing set is to look: paper, unit, profile, date.

use kurbo::Rect;

use super::profile::Profile;
use crate::measure::{LengthStyle, Unit};

/// What the caller chooses about the look of a set.
#[derive(Clone, Debug)]
pub struct Look {
    /// The paper of every sheet.
    pub paper: Paper,
    /// The unit of every figure.
    pub unit: Unit,
    /// The drawing practice followed.
    pub profile: Profile,
    /// Date of issue, `YYYY-MM-DD`; left empty in the title block when absent,
    /// so that the same job gives the same bytes on any day.
    pub date: Option<String>,
    /// Finest inch fraction shown: 16, 32 or 64.
    pub finest: u32,
    /// Feet and inches from one foot up.
    pub feet: bool,
}

/// Papers a set can be drawn on, in the orientation they are used in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// ISO 216 A4, upright.
    A4,
    /// ISO 216 A3, lying.
    A3,
    /// ISO 216 A2, lying.
    A2,
    /// ASME Y14.1 A, lying.
    Letter,
    /// ASME Y14.1 B, lying.
    Tabloid,
}

impl Paper {
    /// All papers, small to large within their series.
    pub const ALL: [Self; 5] = [Self::A4, Self::A3, Self::A2, Self::Letter, Self::Tabloid];

    /// Its name in title blocks.
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::A2 => "A2",
            Self::Letter => "letter",
            Self::Tabloid => "tabloid",
        }
    }

    /// The paper a command line names, in any case.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.name().eq_ignore_ascii_case(name))
    }

    /// Trimmed width and height, mm (ISO 216; ASME Y14.1: 8.5 × 11 in and
    /// 11 × 17 in, both lying).
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::A3 => (420.0, 297.0),
            Self::A2 => (594.0, 420.0),
            Self::Letter => (279.4, 215.9),
            Self::Tabloid => (431.8, 279.4),
        }
    }

    /// The drawing space inside the frame. ISO 5457: 20 mm on the left for
    /// filing, 10 mm on the other sides. ASME Y14.1 (from memory): 0.38 in
    /// above and below and 0.25 in at the sides on size A, 0.38 and 0.62 in on
    /// size B.
    pub fn space(self) -> Rect {
        let (w, h) = self.size();
        match self {
            Self::A4 | Self::A3 | Self::A2 => Rect::new(20.0, 10.0, w - 10.0, h - 10.0),
            Self::Letter => Rect::new(6.35, 9.652, w - 6.35, h - 9.652),
            Self::Tabloid => Rect::new(15.748, 9.652, w - 15.748, h - 9.652),
        }
    }
}

/// Where a sheet may be drawn on: the drawing space less the title block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// The whole drawing space inside the frame.
    pub space: Rect,
    /// The title block with its note strip, in the lower right corner; on A4
    /// over the whole width.
    pub block: Rect,
}

impl Room {
    /// White space kept between the frame or title block and anything drawn, mm.
    pub const MARGIN: f64 = 5.0;

    /// The full width above the title block.
    pub fn above(&self) -> Rect {
        let m = Self::MARGIN;
        let s = self.space;
        Rect::new(s.x0 + m, s.y0 + m, s.x1 - m, self.block.y0 - m)
    }

    /// The full height to the left of the title block; less than 40 mm wide
    /// where the block takes (nearly) the whole width.
    pub fn beside(&self) -> Rect {
        let m = Self::MARGIN;
        let s = self.space;
        Rect::new(s.x0 + m, s.y0 + m, (self.block.x0 - m).max(s.x0 + m), s.y1 - m)
    }
}

impl Look {
    /// A set in `unit` on `paper` by `profile`, undated.
    pub fn new(paper: Paper, unit: Unit, profile: Profile) -> Self {
        Self { paper, unit, profile, date: None, finest: 32, feet: false }
    }

    /// How lengths read on this set.
    pub fn style(&self) -> LengthStyle {
        LengthStyle { unit: self.unit, finest: self.finest, decimals: 1, feet: self.feet }
    }

    /// Where sheets may be drawn on.
    pub fn room(&self) -> Room {
        let space = self.paper.space();
        let (width, height) = super::title_block::size(self);
        Room { space, block: Rect::new(space.x1 - width, space.y1 - height, space.x1, space.y1) }
    }

    /// Nominal height of dimension figures and notes, mm: 2.5 on A4 and
    /// letter, 3.5 on larger paper (ISO 3098 series; least 2.5 on A1 to A4 as
    /// given in public tables).
    pub fn text(&self) -> f64 {
        match self.paper {
            Paper::A4 | Paper::Letter => 2.5,
            Paper::A3 | Paper::A2 | Paper::Tabloid => 3.5,
        }
    }
}
