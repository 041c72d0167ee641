//! A sheet in the making: short ways of putting ink down.

use kurbo::{BezPath, Point, Rect};

use super::look::{self, Look};
use crate::drawing::kit::words::stacked;
use crate::paper::{Anchor, Ink, Mark, Pen, Role, Run, Shows, Text, Weight, dash};

/// Least share of the cap height between base lines of running text: ISO 3098
/// asks for at least 1.4; 1.6 reads better in tables.
const LINE_PITCH: f64 = 1.6;

/// The same where the lower line holds a stacked fraction, which reaches higher.
const FRACTION_PITCH: f64 = 2.0;

/// Base lines of some lines of text below that of the first, in cap heights.
pub(in crate::drawing) fn base_lines(lines: &[Vec<Run>]) -> Vec<f64> {
    let mut y = 0.0;
    let below = |(i, line): (usize, &Vec<Run>)| {
        if i > 0 {
            y += if has_fraction(line) { FRACTION_PITCH } else { LINE_PITCH };
        }
        y
    };
    lines.iter().enumerate().map(below).collect()
}

/// Whether a line holds a stacked fraction.
pub(in crate::drawing) fn has_fraction(line: &[Run]) -> bool {
    line.iter().any(|run| matches!(run, Run::Fraction { .. }))
}

/// Ink put down so far, in sheet mm.
#[derive(Debug)]
pub(in crate::drawing) struct Plate {
    /// The marks in drawing order.
    pub(in crate::drawing) marks: Vec<Mark>,
    /// Narrow line of the profile, mm.
    pub(in crate::drawing) narrow: f64,
    /// Wide line of the profile, mm.
    pub(in crate::drawing) wide: f64,
}

/// How a line of text is set.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct Lettering {
    /// Cap height, mm.
    pub(in crate::drawing) height: f64,
    /// Which point of the text its place is.
    pub(in crate::drawing) anchor: Anchor,
    /// Weight.
    pub(in crate::drawing) weight: Weight,
    /// Role of the mark.
    pub(in crate::drawing) role: Role,
}

impl Lettering {
    /// The cap heights of ISO 3098, mm: what is read at the bench,
    pub(in crate::drawing) const SMALL: f64 = look::SMALL;
    /// what stands out from it,
    pub(in crate::drawing) const MIDDLE: f64 = look::MIDDLE;
    /// titles and letters of sections,
    pub(in crate::drawing) const LARGE: f64 = 5.0;
    /// and the title of the job where there is room for it.
    pub(in crate::drawing) const GREAT: f64 = 7.0;

    /// Regular text `height` mm high, from its left end.
    pub(in crate::drawing) fn note(height: f64) -> Self {
        Self { height, anchor: Anchor::Start, weight: Weight::Regular, role: Role::Note }
    }

    /// Semi-bold title text `height` mm high, from its left end.
    pub(in crate::drawing) fn title(height: f64) -> Self {
        Self { height, anchor: Anchor::Start, weight: Weight::SemiBold, role: Role::Title }
    }

    /// The same, placed by another point.
    pub(in crate::drawing) fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// The same in another role.
    pub(in crate::drawing) fn role(self, role: Role) -> Self {
        Self { role, ..self }
    }
}

impl Plate {
    /// Share of the narrow line that hatching and flow lines take: they are many and
    /// close, and at full width a cut looks grey.
    pub(in crate::drawing) const FINE: f64 = 0.72;
    /// Share of the narrow line that signs such as the face mark take: they must be
    /// found among outlines.
    pub(in crate::drawing) const BOLD: f64 = 1.4;
    /// Share of the wide line that pictures and rules of tables take, which are not
    /// measured from.
    pub(in crate::drawing) const LIGHT: f64 = 0.7;
    /// Share of the wide line round what is cut, so that the cut stands out from what
    /// lies beyond it.
    pub(in crate::drawing) const CUT: f64 = 1.2;

    /// An empty plate with the pens of `look`.
    pub(in crate::drawing) fn new(look: &Look) -> Self {
        Self { marks: Vec::new(), narrow: look.narrow(), wide: look.wide() }
    }

    /// A straight line.
    pub(in crate::drawing) fn line(
        &mut self,
        from: impl Into<Point>,
        to: impl Into<Point>,
        width: f64,
        role: Role,
    ) {
        let mut path = BezPath::with_capacity(2);
        path.move_to(from.into());
        path.line_to(to.into());
        self.stroke(path, Pen { width, dash: dash::SOLID }, role);
    }

    /// A rectangle's outline.
    pub(in crate::drawing) fn rect(&mut self, rect: Rect, width: f64, role: Role) {
        self.stroke(ring(rect), Pen { width, dash: dash::SOLID }, role);
    }

    /// A line along a path.
    pub(in crate::drawing) fn stroke(&mut self, path: BezPath, pen: Pen, role: Role) {
        self.marks.push(Mark { ink: Ink::Stroke { path, pen }, role, shows: Shows::default() });
    }

    /// A line along a path that shows something of the model.
    pub(in crate::drawing) fn stroke_of(&mut self, path: BezPath, pen: Pen, role: Role, shows: Shows) {
        self.marks.push(Mark { ink: Ink::Stroke { path, pen }, role, shows });
    }

    /// A filled area.
    pub(in crate::drawing) fn fill(&mut self, path: BezPath, grey: f32, role: Role) {
        self.marks.push(Mark { ink: Ink::Fill { path, grey }, role, shows: Shows::default() });
    }

    /// A line of plain text.
    pub(in crate::drawing) fn text(&mut self, at: impl Into<Point>, text: impl Into<String>, how: Lettering) {
        self.runs(at, stacked(&text.into()), how);
    }

    /// A line of text with fractions.
    pub(in crate::drawing) fn runs(&mut self, at: impl Into<Point>, runs: Vec<Run>, how: Lettering) {
        self.runs_of(at, runs, how, Shows::default());
    }

    /// A line of text that shows something of the model. Nothing is put down
    /// for an empty text.
    pub(in crate::drawing) fn runs_of(
        &mut self,
        at: impl Into<Point>,
        runs: Vec<Run>,
        how: Lettering,
        shows: Shows,
    ) {
        let empty = runs.iter().all(|run| matches!(run, Run::Plain(text) if text.trim().is_empty()));
        if empty {
            return;
        }
        let Lettering { height, anchor, weight, role } = how;
        let text = Text { at: at.into(), runs, height, anchor, turn: 0.0, weight };
        self.marks.push(Mark { ink: Ink::Text(text), role, shows });
    }
}

/// The closed path round `rect`.
pub(in crate::drawing) fn ring(rect: Rect) -> BezPath {
    let mut path = BezPath::with_capacity(5);
    path.move_to((rect.x0, rect.y0));
    path.line_to((rect.x1, rect.y0));
    path.line_to((rect.x1, rect.y1));
    path.line_to((rect.x0, rect.y1));
    path.close_path();
    path
}
