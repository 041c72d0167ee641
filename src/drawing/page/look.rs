//! How a drawing set is to look: paper, unit, profile, date.

use kurbo::Rect;

use super::block;
use super::profile::Profile;
use crate::measure::{INCH, LengthStyle, Unit};
use crate::wording::Words;

/// Trimmed width and height of the papers, mm: ISO 216, A4 upright and the others
/// lying,
const A4: (f64, f64) = (210.0, 297.0);
const A3: (f64, f64) = (420.0, 297.0);
const A2: (f64, f64) = (594.0, 420.0);
const A1: (f64, f64) = (841.0, 594.0);
const A0: (f64, f64) = (1189.0, 841.0);
/// and ASME Y14.1, all lying: 8.5 × 11, 11 × 17, 17 × 22, 22 × 34 and 34 × 44 in.
const LETTER: (f64, f64) = (279.4, 215.9);
const TABLOID: (f64, f64) = (431.8, 279.4);
const C: (f64, f64) = (558.8, 431.8);
const D: (f64, f64) = (863.6, 558.8);
const E: (f64, f64) = (1117.6, 863.6);

/// The two smallest heights of the ISO 3098 series that are read at arm's length, mm.
pub(super) const SMALL: f64 = 2.5;
pub(super) const MIDDLE: f64 = 3.5;
/// The wide line of line group 0.7, mm (ISO 128-2).
const WIDE_LARGE: f64 = 0.7;

/// Margins of ISO 5457, mm: on the left for filing, and on the other sides.
const FILING: f64 = 20.0;
const MARGIN: f64 = 10.0;
/// Margins of ASME Y14.1 (from memory) at the sides, then above and below, in.
const LETTER_MARGINS: (f64, f64) = (0.25, 0.38);
const TABLOID_MARGINS: (f64, f64) = (0.62, 0.38);
const C_MARGINS: (f64, f64) = (0.5, 0.75);
const D_MARGINS: (f64, f64) = (1.0, 0.5);
const E_MARGINS: (f64, f64) = (0.5, 1.0);

/// What the caller chooses about the look of a set.
#[derive(Clone, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each asks for something by itself")]
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
    /// Finest inch fraction shown: one of [`Look::FINEST`].
    pub finest: u32,
    /// Overall sizes in feet and inches from one foot up.
    pub feet: bool,
    /// Whether a blank sheet to measure the room by is in the set.
    pub survey: bool,
    /// Whether a sheet for the client comes first.
    pub client: bool,
    /// Whether the sheet in hand opens the set and carries the whole title block.
    pub opens: bool,
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
    /// ISO 216 A1, lying.
    A1,
    /// ISO 216 A0, lying.
    A0,
    /// ASME Y14.1 A, lying.
    Letter,
    /// ASME Y14.1 B, lying.
    Tabloid,
    /// ASME Y14.1 C, lying.
    C,
    /// ASME Y14.1 D, lying.
    D,
    /// ASME Y14.1 E, lying.
    E,
}

/// What a series of papers has in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperSeries {
    /// ISO 216 sizes with the frame and grid of ISO 5457.
    Iso,
    /// ASME Y14.1 inch sizes.
    Asme,
}

impl Paper {
    /// All papers, small to large within their series.
    pub const ALL: [Self; 10] = [
        Self::A4,
        Self::A3,
        Self::A2,
        Self::A1,
        Self::A0,
        Self::Letter,
        Self::Tabloid,
        Self::C,
        Self::D,
        Self::E,
    ];

    /// Its name in title blocks and on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::A2 => "A2",
            Self::A1 => "A1",
            Self::A0 => "A0",
            Self::Letter => "letter",
            Self::Tabloid => "tabloid",
            Self::C => "C",
            Self::D => "D",
            Self::E => "E",
        }
    }

    /// The paper a command line names, in any case.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.name().eq_ignore_ascii_case(name))
    }

    /// The series it belongs to.
    pub fn series(self) -> PaperSeries {
        match self {
            Self::A4 | Self::A3 | Self::A2 | Self::A1 | Self::A0 => PaperSeries::Iso,
            Self::Letter | Self::Tabloid | Self::C | Self::D | Self::E => PaperSeries::Asme,
        }
    }

    /// Trimmed width and height, mm, all lying but A4.
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => A4,
            Self::A3 => A3,
            Self::A2 => A2,
            Self::A1 => A1,
            Self::A0 => A0,
            Self::Letter => LETTER,
            Self::Tabloid => TABLOID,
            Self::C => C,
            Self::D => D,
            Self::E => E,
        }
    }

    /// The drawing space inside the frame.
    pub fn space(self) -> Rect {
        let (w, h) = self.size();
        let (across, up) = match self {
            Self::A4 | Self::A3 | Self::A2 | Self::A1 | Self::A0 => {
                return Rect::new(FILING, MARGIN, w - MARGIN, h - MARGIN);
            }
            Self::Letter => LETTER_MARGINS,
            Self::Tabloid => TABLOID_MARGINS,
            Self::C => C_MARGINS,
            Self::D => D_MARGINS,
            Self::E => E_MARGINS,
        };
        let (dx, dy) = (across * INCH, up * INCH);
        Rect::new(dx, dy, w - dx, h - dy)
    }

    /// Whether it takes the heavier lines and larger letters of ISO 128-2 line
    /// group 0.7, which is for A1 and A0 and the inch papers of that size.
    pub fn is_large(self) -> bool {
        matches!(self, Self::A1 | Self::A0 | Self::D | Self::E)
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
    /// The inch rules a set can be rounded to: the denominators of their finest
    /// marks.
    pub const FINEST: [u32; 5] = [4, 8, 16, 32, 64];

    /// A set in `unit` on `paper` by `profile`, undated.
    pub fn new(paper: Paper, unit: Unit, profile: Profile) -> Self {
        Self {
            paper,
            unit,
            profile,
            date: None,
            finest: 32,
            feet: false,
            client: false,
            survey: false,
            opens: false,
        }
    }

    /// How lengths read on this set.
    pub fn style(&self) -> LengthStyle {
        LengthStyle { unit: self.unit, finest: self.finest, decimals: 1, feet: false }
    }

    /// How sentences of this set word lengths.
    pub fn words(&self) -> Words {
        Words { lengths: self.style() }
    }

    /// How overall sizes read: in feet and inches where that is asked for.
    pub fn overall_style(&self) -> LengthStyle {
        LengthStyle { feet: self.feet, ..self.style() }
    }

    /// The same for the sheet that opens the set.
    pub(in crate::drawing) fn opening(&self) -> Self {
        Self { opens: true, ..self.clone() }
    }

    /// Where sheets may be drawn on.
    pub fn room(&self) -> Room {
        let space = self.paper.space();
        if !self.opens {
            let rows = if space.width() < block::ONE_ROW { 2.0 } else { 1.0 };
            let top = space.y1 - rows * block::FOOT_ROW;
            return Room { space, block: Rect::new(space.x0, top, space.x1, space.y1) };
        }
        let width = if self.paper == Paper::Letter { block::WIDTH_ON_LETTER } else { block::WIDTH };
        let height = block::HEIGHT + block::STRIP;
        Room { space, block: Rect::new(space.x1 - width, space.y1 - height, space.x1, space.y1) }
    }

    /// Nominal height of dimension figures and notes, mm: 2.5 on A4 and
    /// letter, 3.5 on larger paper (ISO 3098 series; least 2.5 on A4 to A1 and
    /// 3.5 on A0 as given in public tables).
    pub fn text(&self) -> f64 {
        match self.paper {
            Paper::A4 | Paper::Letter => SMALL,
            _ => MIDDLE,
        }
    }

    /// Height of small text, mm: tables, captions, title block values.
    pub fn small(&self) -> f64 {
        match self.paper {
            Paper::A0 | Paper::E => MIDDLE,
            _ => SMALL,
        }
    }

    /// Width of the wide line, mm: the profile's, on A1 and A0 that of line
    /// group 0.7 (ISO 128-2).
    pub fn wide(&self) -> f64 {
        if self.paper.is_large() && self.profile != Profile::Asme { WIDE_LARGE } else { self.profile.wide() }
    }

    /// Width of the narrow line, half the wide one.
    pub fn narrow(&self) -> f64 {
        self.wide() / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 216: a sheet halved is the next, and the sides are as 1 to the root
    /// of 2, in whole mm.
    #[test]
    fn a_papers_halve() {
        let sides = |p: Paper| {
            let (w, h) = p.size();
            (w.min(h), w.max(h))
        };
        for pair in [Paper::A0, Paper::A1, Paper::A2, Paper::A3, Paper::A4].windows(2) {
            let ((short, long), (less, more)) = (sides(pair[0]), sides(pair[1]));
            assert!((more - short).abs() < 1e-9 && (less - (long / 2.0).floor()).abs() < 1e-9);
            assert!((long / short - 2.0_f64.sqrt()).abs() < 0.003);
        }
    }

    /// ISO 5457, drawing spaces as given in public tables; ASME Y14.1, sizes as
    /// given in public tables and margins from memory, in inches.
    #[test]
    fn drawing_spaces_are_those_of_the_standards() {
        for (paper, short, long) in [
            (Paper::A0, 821.0, 1159.0),
            (Paper::A1, 574.0, 811.0),
            (Paper::A2, 400.0, 564.0),
            (Paper::A3, 277.0, 390.0),
            (Paper::A4, 180.0, 277.0),
        ] {
            let space = paper.space();
            let (w, h) = (space.width(), space.height());
            assert!((w.min(h) - short).abs() < 1e-9 && (w.max(h) - long).abs() < 1e-9, "{paper:?}");
            assert!((space.x0 - 20.0).abs() < 1e-9, "20 mm for filing on {paper:?}");
        }
        for (paper, width, height, side, top) in [
            (Paper::Letter, 11.0, 8.5, 0.25, 0.38),
            (Paper::Tabloid, 17.0, 11.0, 0.62, 0.38),
            (Paper::C, 22.0, 17.0, 0.5, 0.75),
            (Paper::D, 34.0, 22.0, 1.0, 0.5),
            (Paper::E, 44.0, 34.0, 0.5, 1.0),
        ] {
            let ((w, h), space) = (paper.size(), paper.space());
            for (mm, inches) in [(w, width), (h, height), (space.x0, side), (space.y0, top)] {
                assert!((mm - inches * 25.4).abs() < 1e-9, "{paper:?}");
            }
        }
    }
}
