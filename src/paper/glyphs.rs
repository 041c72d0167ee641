//! Signs the font lacks: what stands for them on the sheet.

use kurbo::BezPath;

/// What is shown for a character.
pub(super) enum Substitute {
    /// A character of the font; nearly always the same one.
    Char(char),
    /// Nothing: controls and marks that never print.
    Nothing,
    /// Lines of our own, from [`sign`].
    Sign,
    /// A box, because nothing else can show it.
    Box,
}

/// What is shown for `c` in a face that has the characters `has` accepts.
pub(super) fn substitute(c: char, has: impl Fn(char) -> bool) -> Substitute {
    match c {
        '\t' | '\n' | '\r' | '\u{2028}' | '\u{2029}' => Substitute::Char(' '),
        _ if c.is_control() || never_prints(c) => Substitute::Nothing,
        // The diameter sign of drawings is a different character from the
        // letter Ø but is read and shaped alike.
        '⌀' | '∅' => Substitute::Char('Ø'),
        _ if has(c) => Substitute::Char(c),
        _ if sign(c).is_some() => Substitute::Sign,
        _ => Substitute::Box,
    }
}

/// Joiners, direction marks and variation selectors: they steer other text
/// and show nothing themselves. Direction overrides could also be used to make
/// a size read backwards, so they are dropped rather than passed on.
fn never_prints(c: char) -> bool {
    matches!(c,
        '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
        | '\u{e0000}'..='\u{e0fff}')
}

/// A line of a sign through points in cap heights, y up from the base line.
type Line = [(f64, f64)];

/// Square.
const SQUARE: &Line = &[(0.12, 0.0), (0.92, 0.0), (0.92, 0.8), (0.12, 0.8)];
/// Triangle.
const TRIANGLE: &Line = &[(0.1, 0.0), (1.02, 0.0), (0.56, 0.8)];
/// Angle.
const ANGLE: &Line = &[(0.85, 0.8), (0.1, 0.0), (1.0, 0.0)];
/// Depth: the face, the way down and its head.
const DEPTH: &[&Line] =
    &[&[(0.15, 0.95), (0.85, 0.95)], &[(0.5, 0.95), (0.5, 0.02)], &[(0.28, 0.34), (0.5, 0.02), (0.72, 0.34)]];
/// The box that stands for what nothing can show.
const BOX: &Line = &[(0.1, 0.0), (0.7, 0.0), (0.7, 1.0), (0.1, 1.0)];
/// What crosses it out, so that it is not taken for the square sign.
const CROSSED: &[&Line] = &[&[(0.1, 0.0), (0.7, 1.0)], &[(0.1, 1.0), (0.7, 0.0)]];
/// Advances of square, triangle, angle, depth and box.
const ADVANCES: [f64; 5] = [1.04, 1.12, 1.1, 1.0, 0.8];

/// Lines of a sign in cap heights, y up from the base line, with its advance.
pub(super) fn sign(c: char) -> Option<(BezPath, f64)> {
    let [square, triangle, angle, depth, _] = ADVANCES;
    match c {
        '□' => Some((polyline(SQUARE, true), square)),
        '△' => Some((polyline(TRIANGLE, true), triangle)),
        '∠' => Some((polyline(ANGLE, false), angle)),
        '↧' => Some((DEPTH.iter().flat_map(|line| polyline(line, false)).collect(), depth)),
        _ => None,
    }
}

/// The box that stands for a character nothing can show.
pub(super) fn missing_box() -> (BezPath, f64) {
    let [.., advance] = ADVANCES;
    let mut path = polyline(BOX, true);
    for line in CROSSED {
        path.extend(polyline(line, false));
    }
    (path, advance)
}

/// A path through points.
fn polyline(points: &Line, closed: bool) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    if closed {
        path.close_path();
    }
    path
}
