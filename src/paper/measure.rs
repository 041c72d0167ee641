//! Making marks and measuring them: how much of the sheet each covers.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use super::lettering::{self, SetLine};
use super::{Anchor, Ink, Mark, Pen, Role, Run, Shows, Text, Weight};
use crate::geometry::trig;

/// Turns of text that need no trigonometry, degrees.
const TURN: f64 = 360.0;
const QUARTER: f64 = 90.0;
const HALF: f64 = 180.0;
const THREE_QUARTERS: f64 = 270.0;

impl Text {
    /// A line of runs, regular, reading from the bottom, starting at `at`.
    pub fn new(at: Point, runs: Vec<Run>, height: f64) -> Self {
        Self { at, runs, height, anchor: Anchor::Start, turn: 0.0, weight: Weight::Regular }
    }

    /// A line of plain characters.
    pub fn plain(at: Point, text: impl Into<String>, height: f64) -> Self {
        Self::new(at, vec![Run::Plain(text.into())], height)
    }

    /// With its position at another end.
    pub fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// The turn of text that is read from the right, degrees.
    pub const UPRIGHT: f64 = QUARTER;

    /// Turned counter-clockwise as seen, degrees.
    pub fn turned(self, turn: f64) -> Self {
        Self { turn, ..self }
    }

    /// In semi-bold.
    pub fn bold(self) -> Self {
        Self { weight: Weight::SemiBold, ..self }
    }

    /// The line set: pieces, width, ink above and below.
    pub fn line(&self) -> SetLine {
        lettering::set_line(self)
    }

    /// Width along the base line, mm.
    pub fn width(&self) -> f64 {
        self.line().width
    }

    /// Unit vectors on the sheet (y down): along the reading direction, and
    /// upwards from the base line. Quarter turns are exact.
    pub fn axes(&self) -> (Vec2, Vec2) {
        let turn = self.turn.rem_euclid(TURN);
        let (sin, cos) = match turn {
            0.0 => (0.0, 1.0),
            QUARTER => (1.0, 0.0),
            HALF => (0.0, -1.0),
            THREE_QUARTERS => (-1.0, 0.0),
            _ => trig::sin_cos(turn.to_radians()),
        };
        (Vec2::new(cos, -sin), Vec2::new(-sin, -cos))
    }

    /// The left end of the base line on the sheet, for a line `width` wide.
    pub fn start(&self, width: f64) -> Point {
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        self.at - self.axes().0 * back
    }

    /// Corners of the text's ink box on the sheet: lower left, lower right,
    /// upper right, upper left as read.
    pub fn corners(&self) -> [Point; 4] {
        let laid = self.line();
        let (along, up) = self.axes();
        let left = self.start(laid.width);
        let right = left + along * laid.width;
        [left + up * laid.bottom, right + up * laid.bottom, right + up * laid.top, left + up * laid.top]
    }

    /// The upright box round the text on the sheet.
    pub fn bounds(&self) -> Rect {
        around(&self.corners())
    }

    /// The text in reading order, fractions as `num/den` with a space between
    /// a whole number and its fraction.
    pub fn reading(&self) -> String {
        let mut out = String::new();
        for run in &self.runs {
            match run {
                Run::Plain(s) => out.push_str(s),
                Run::Fraction { num, den } => {
                    if out.ends_with(|c: char| c.is_ascii_digit()) {
                        out.push(' ');
                    }
                    out.push_str(&[num.to_string(), den.to_string()].join("/"));
                }
            }
        }
        out
    }
}

/// The upright box round some points.
pub(super) fn around(points: &[Point]) -> Rect {
    let first = points.first().copied().unwrap_or_default();
    points.iter().fold(Rect::from_points(first, first), |all, p| all.union_pt(*p))
}

impl Mark {
    /// How near the curves drawn for a circle come to it, mm: far below what is seen
    /// in print.
    pub const ROUND: f64 = 0.01;

    /// A mark that shows nothing in particular.
    pub fn new(ink: Ink, role: Role) -> Self {
        Self { ink, role, shows: Shows::default() }
    }

    /// A line along a path.
    pub fn stroke(path: BezPath, pen: Pen, role: Role) -> Self {
        Self::new(Ink::Stroke { path, pen }, role)
    }

    /// A straight line.
    pub fn line(from: Point, to: Point, pen: Pen, role: Role) -> Self {
        // No more than it takes: a large set has a million of them.
        let mut path = BezPath::with_capacity(2);
        path.move_to(from);
        path.line_to(to);
        Self::stroke(path, pen, role)
    }

    /// A filled area, `grey` from 0 black to 1 white.
    pub fn fill(path: BezPath, grey: f32, role: Role) -> Self {
        Self::new(Ink::Fill { path, grey }, role)
    }

    /// A white patch over what has been drawn so far.
    pub fn mask(area: Rect) -> Self {
        Self::fill(area.to_path(Self::ROUND), 1.0, Role::Mask)
    }

    /// A line of text.
    pub fn text(text: Text, role: Role) -> Self {
        Self::new(Ink::Text(text), role)
    }

    /// With what it shows.
    pub fn showing(self, shows: Shows) -> Self {
        Self { shows, ..self }
    }

    /// Moves it on the sheet.
    pub fn shift(&mut self, by: Vec2) {
        match &mut self.ink {
            Ink::Stroke { path, .. } | Ink::Fill { path, .. } => path.apply_affine(Affine::translate(by)),
            Ink::Text(text) => text.at += by,
        }
    }

    /// Whether it has a real place and size: no infinite or undefined number.
    pub fn is_finite(&self) -> bool {
        match &self.ink {
            Ink::Stroke { path, pen } => path.is_finite() && pen.width.is_finite(),
            Ink::Fill { path, grey } => path.is_finite() && grey.is_finite(),
            Ink::Text(text) => text.at.is_finite() && text.height.is_finite() && text.turn.is_finite(),
        }
    }

    /// The upright box round the ink on the sheet, line widths included.
    pub fn bounds(&self) -> Rect {
        match &self.ink {
            Ink::Stroke { path, pen } => path.bounding_box().inflate(pen.width / 2.0, pen.width / 2.0),
            Ink::Fill { path, .. } => path.bounding_box(),
            Ink::Text(text) => text.bounds(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn text_stands_on_its_base_line_to_the_right_of_its_start() {
        let text = Text::plain(Point::new(10.0, 20.0), "HH", 3.5);
        let b = text.bounds();
        assert!(near(b.x0, 10.0) && near(b.x1, 10.0 + text.width()));
        assert!(near(b.y1, 20.0) && near(b.y0, 16.5));
    }

    #[test]
    fn text_turned_a_quarter_reads_from_the_right() {
        // Reading from the right of the sheet: letters climb, their tops point left.
        let text = Text::plain(Point::new(10.0, 20.0), "HH", 3.5).turned(90.0);
        let b = text.bounds();
        assert!(near(b.x1, 10.0) && near(b.x0, 6.5));
        assert!(near(b.y1, 20.0) && near(b.y0, 20.0 - text.width()));
    }

    #[test]
    fn text_in_the_middle_is_centred() {
        let text = Text::plain(Point::new(10.0, 20.0), "HH", 2.5).anchored(Anchor::Middle);
        let b = text.bounds();
        assert!(near(b.center().x, 10.0));
        let text = text.anchored(Anchor::End).turned(30.0);
        let end = text.corners()[1];
        assert!((end - text.at).hypot() < 1e-9);
    }

    #[test]
    fn a_mixed_number_reads_with_a_space() {
        let runs = vec![Run::Plain("23".into()), Run::Fraction { num: 5, den: 8 }, Run::Plain("″".into())];
        assert_eq!(Text::new(Point::ZERO, runs, 2.5).reading(), "23 5/8″");
    }

    #[test]
    fn a_stroke_is_as_wide_as_its_pen() {
        let pen = Pen { width: 0.5, dash: &[] };
        let mark = Mark::line(Point::new(0.0, 5.0), Point::new(10.0, 5.0), pen, Role::Outline);
        assert_eq!(mark.bounds(), Rect::new(-0.25, 4.75, 10.25, 5.25));
    }
}
