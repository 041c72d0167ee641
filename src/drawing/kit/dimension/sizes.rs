//! Rows of sizes beside a view, and the manner they are drawn in.

use kurbo::Rect;

use super::figure::Figure;
use crate::drawing::page::look::Look;
use crate::drawing::page::profile::Profile;
use crate::measure::Unit;
use crate::paper::{Run, Text};

/// Sides of a view on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::drawing) enum Beside {
    /// Over it: lines run across the sheet.
    Above,
    /// Under it: lines run across the sheet.
    Below,
    /// Left of it: lines run up the sheet.
    Left,
    /// Right of it: lines run up the sheet.
    Right,
}

impl Beside {
    /// All four, in the order they are drawn.
    pub(in crate::drawing) const ALL: [Self; 4] = [Self::Left, Self::Right, Self::Above, Self::Below];

    /// Whether its dimension lines run across the sheet.
    pub(in crate::drawing) fn across(self) -> bool {
        matches!(self, Self::Above | Self::Below)
    }

    /// The other side of the view.
    pub(in crate::drawing) fn opposite(self) -> Self {
        match self {
            Self::Above => Self::Below,
            Self::Below => Self::Above,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// +1 where going away from the view raises the sheet coordinate.
    pub(super) fn outward(self) -> f64 {
        match self {
            Self::Above | Self::Left => -1.0,
            Self::Below | Self::Right => 1.0,
        }
    }

    /// Sheet coordinate of the border of `view` on this side.
    pub(in crate::drawing) fn border(self, view: Rect) -> f64 {
        match self {
            Self::Above => view.y0,
            Self::Below => view.y1,
            Self::Left => view.x0,
            Self::Right => view.x1,
        }
    }
}

/// A place a dimension line reaches to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::drawing) struct Stop {
    /// Sheet coordinate along the dimension line, mm.
    pub(in crate::drawing) at: f64,
    /// Sheet coordinate across it, mm: where the extension line begins.
    pub(in crate::drawing) foot: f64,
}

/// How a row of sizes is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::drawing) enum Form {
    /// Each size between its two stops, one after another on one line.
    Chain,
    /// Every size from the first stop, on one line that starts with a small
    /// circle (running dimensions of ISO 129-1).
    Running,
}

/// A row of sizes on one dimension line.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Sizes {
    /// Where it goes.
    pub(in crate::drawing) side: Beside,
    /// Where it reaches; rising in [`Form::Chain`], first the origin in
    /// [`Form::Running`].
    pub(in crate::drawing) stops: Vec<Stop>,
    /// The figure of each stretch between neighbouring stops (chain) or of each
    /// stop after the first (running); `None` leaves a stretch open.
    pub(in crate::drawing) figures: Vec<Option<Figure>>,
    /// How it is drawn.
    pub(in crate::drawing) form: Form,
    /// Whether it goes outside everything else on its side.
    pub(in crate::drawing) outermost: bool,
}

/// Distances that depend on paper and practice, mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct Manner {
    /// Nominal text height.
    pub(in crate::drawing) text: f64,
    /// Ink of a figure above its base line: more than the text height where
    /// fractions are stacked.
    pub(in crate::drawing) above: f64,
    /// Ink of a figure below its base line.
    pub(in crate::drawing) below: f64,
    /// Arrow length: the text height (ISO teaching), 3 (ASME).
    pub(in crate::drawing) arrow: f64,
    /// Arrow half width: 15 degrees in all, or a third of the length in all.
    pub(in crate::drawing) half: f64,
    /// Narrow line width.
    pub(in crate::drawing) narrow: f64,
    /// Extension line gap.
    pub(in crate::drawing) gap: f64,
    /// Extension line overshoot.
    pub(in crate::drawing) over: f64,
    /// Figures all read from the bottom and break their line.
    pub(in crate::drawing) horizontal: bool,
}

impl Manner {
    /// Under this length arrows stand outside (ISO teaching).
    pub(in crate::drawing) const SHORT: f64 = 10.0;
    /// Figure to dimension line (ISO teaching: 1 mm above).
    pub(in crate::drawing) const LIFT: f64 = 1.0;
    /// White space kept round any figure.
    pub(in crate::drawing) const CLEAR: f64 = 0.8;

    /// Longest head by ASME Y14.2, and how often half its width goes into its length: 3
    /// to 1.
    const ASME_ARROW: f64 = 3.0;
    const ASME_HALF: f64 = 6.0;
    /// Half the width of an ISO 129-1 head for its length: tan of half of 15 degrees.
    const ISO_HALF: f64 = 0.131_652_5;

    /// Ink of a figure from top to bottom.
    pub(in crate::drawing) fn tall(&self) -> f64 {
        self.above + self.below
    }

    /// From the middle of a figure's ink down to its base line.
    pub(in crate::drawing) fn drop(&self) -> f64 {
        (self.above - self.below) / 2.0
    }

    /// The same for words with a stacked fraction in them, such as the length of a screw
    /// that is sold by the inch.
    pub(in crate::drawing) fn with_fractions(&self) -> Self {
        let (above, below) = ink(self.text, true);
        Self { above: self.above.max(above), below: self.below.max(below), ..*self }
    }

    /// The manner of a set, figures as high as its notes.
    pub(in crate::drawing) fn of(look: &Look) -> Self {
        Self::with_text(look, look.text())
    }

    /// The manner of a set, figures `text` mm high.
    pub(in crate::drawing) fn with_text(look: &Look, text: f64) -> Self {
        let horizontal = look.profile.text_horizontal();
        let asme = look.profile == Profile::Asme;
        // No longer than figures are high, or a small sheet is all heads.
        let arrow = if asme { Self::ASME_ARROW.min(text) } else { text };
        let half = if asme { arrow / Self::ASME_HALF } else { arrow * Self::ISO_HALF };
        // Any size in inches may have a fraction.
        let (above, below) = ink(text, look.unit == Unit::Inch);
        Self {
            text,
            above,
            below,
            arrow,
            half,
            narrow: look.narrow(),
            gap: look.profile.extension_gap(),
            over: look.profile.extension_over(),
            horizontal,
        }
    }
}

/// How far figures go above and below their base line; a stacked fraction stands higher
/// than its figure.
fn ink(text: f64, fractions: bool) -> (f64, f64) {
    let mut sample = vec![Run::Plain("0".into())];
    if fractions {
        sample.push(Run::Fraction { num: 1, den: 2 });
    }
    let laid = Text::new(kurbo::Point::ZERO, sample, text).line();
    (laid.top.max(text), (-laid.bottom).max(0.0))
}
