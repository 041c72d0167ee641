//! Dashes fitted to the line they are drawn on.
//!
//! Dashed and chain lines begin and end on a dash (drafting practice; ISO 128-2
//! as given in public tables), so the pattern is stretched a little to the
//! line's length. Pens have round caps, which lengthen every dash by the width
//! of the pen; that is taken off here, so what is seen has the pen's lengths.

use kurbo::{BezPath, ParamCurveArclen, PathEl, PathSeg};

use super::Pen;

/// Accuracy of curve lengths, mm: far below what can be seen in a dash.
const ACCURACY: f64 = 0.01;
/// A dash is never drawn shorter than this, mm; with round caps it is a dot.
const LEAST: f64 = 0.001;

/// The connected pieces of a path.
pub fn pieces(path: &BezPath) -> Vec<BezPath> {
    let mut all: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        if matches!(element, PathEl::MoveTo(_)) || all.is_empty() {
            all.push(BezPath::new());
        }
        if let Some(last) = all.last_mut() {
            last.push(*element);
        }
    }
    all.retain(|piece| piece.elements().len() > 1);
    all
}

/// Dash and gap lengths, mm, to draw one connected `piece` with `pen`; empty
/// for a continuous line, also where the line is too short for a gap.
pub fn fitted(pen: &Pen, piece: &BezPath) -> Vec<f64> {
    let Some(first) = pen.dash.first() else { return Vec::new() };
    let heavy = heavier(pen.width);
    let period: f64 = heavy * pen.dash.iter().sum::<f64>();
    if !pen.dash.len().is_multiple_of(2) || period.is_nan() || period <= 0.0 {
        return Vec::new();
    }
    let length: f64 = piece.segments().map(|s: PathSeg| s.arclen(ACCURACY)).sum();
    let closed = is_closed(piece);
    if closed && pen.dash.len() == 2 && length < RING_OF_LONG * period {
        return ring(pen, length);
    }
    // An open line holds whole periods and one dash more.
    let spare = if closed { 0.0 } else { heavy * first };
    let count = ((length - spare) / period).round();
    if count < 1.0 && pen.dash.len() == 2 {
        return short(pen, length);
    }
    if count < 1.0 || !length.is_finite() {
        return Vec::new();
    }
    let stretch = heavy * length / (count * period + spare);
    let on = |dash: f64| (dash * stretch - pen.width).max(LEAST);
    let off = |gap: f64| gap * stretch + pen.width;
    pen.dash.iter().enumerate().map(|(i, d)| if i % 2 == 0 { on(*d) } else { off(*d) }).collect()
}

/// Gap in a dashed line shorter than its pattern, mm: less is not seen.
const SHORT_GAP: f64 = 0.5;
/// About a dash and gap of such a line, mm.
const SHORT_PERIOD: f64 = 1.6;
/// A dashed line shorter than this has no room for a gap between two dashes, mm.
const SHORTEST: f64 = 1.5;

/// Dash and gap of an open line that is shorter than the usual ones: drawn continuous, the end
/// of a hidden rod or rail would read as one that is seen.
fn short(pen: &Pen, length: f64) -> Vec<f64> {
    if length.is_nan() || length < SHORTEST {
        return Vec::new();
    }
    let dashes = (length / SHORT_PERIOD).floor().max(2.0);
    let on = (length - (dashes - 1.0) * SHORT_GAP) / dashes - pen.width;
    vec![on.max(LEAST), SHORT_GAP + pen.width]
}

/// A ring of fewer whole periods than this is drawn with shorter dashes: with two or three
/// of the usual length it reads as two arcs.
const RING_OF_LONG: f64 = 4.0;
/// Dashes of a small ring, seen with the gap after them, mm: shorter ones run together.
const RING_PERIOD: f64 = 0.9;
/// Share of that which is dash.
const RING_DASH: f64 = 0.6;
/// Fewest and most dashes of a small ring.
const RING_DASHES: (f64, f64) = (3.0, 8.0);

/// Dash and gap of a small ring: whole periods, so that it closes; empty where it is too
/// small for gaps.
fn ring(pen: &Pen, length: f64) -> Vec<f64> {
    let count = (length / RING_PERIOD).floor().min(RING_DASHES.1);
    if count < RING_DASHES.0 {
        return Vec::new();
    }
    let period = length / count;
    let on = (RING_DASH * period - pen.width).max(LEAST);
    vec![on, period - on]
}

/// Ends of a path nearer than this are one, mm.
const CLOSED: f64 = 1e-3;

/// Whether a connected piece ends where it began.
fn is_closed(piece: &BezPath) -> bool {
    let (Some(PathEl::MoveTo(first)), Some(last)) = (piece.elements().first(), piece.elements().last())
    else {
        return false;
    };
    match last {
        PathEl::ClosePath => true,
        _ => piece.elements().len() > 2 && last.end_point().is_some_and(|end| end.distance(*first) < CLOSED),
    }
}

/// The width that the patterns are set for, and the widest that still takes them as
/// they are, mm.
const USUAL: f64 = 0.25;
const NARROW: f64 = 0.31;

/// How much longer dashes are drawn with a pen of `width` mm. The patterns are
/// set for the narrow lines of 0.25 and 0.3 mm; ISO 128-2 gives them in line
/// widths, so that the 0.35 mm line of group 0.7 has longer ones.
fn heavier(width: f64) -> f64 {
    if width > NARROW { width / USUAL } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::super::dash;
    use super::*;

    fn line(length: f64) -> BezPath {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((length, 0.0));
        path
    }

    #[test]
    fn a_dashed_line_ends_on_a_dash() {
        let pen = Pen { width: 0.25, dash: dash::HIDDEN };
        for length in [8.0, 10.3, 57.9, 200.0] {
            let fit = fitted(&pen, &line(length));
            let (on, off) = (fit[0], fit[1]);
            // Visible dash and gap, caps counted.
            let (dash, gap) = (on + 0.25, off - 0.25);
            let periods = (length - dash) / (dash + gap);
            assert!((periods - periods.round()).abs() < 1e-9, "{length}: {periods}");
            assert!((dash / gap - 4.0).abs() < 1e-9, "dash 12 d, gap 3 d by ISO 128-2");
            assert!(dash > 2.2 && dash < 4.2, "{length}: {dash}");
        }
    }

    fn circle(diameter: f64) -> BezPath {
        // As views draw it: a turn by arcs that ends where it began, without a closing line.
        let arc =
            kurbo::Arc::new((0.0, 0.0), (diameter / 2.0, diameter / 2.0), 0.0, std::f64::consts::TAU, 0.0);
        let mut path = BezPath::new();
        path.move_to((diameter / 2.0, 0.0));
        arc.to_cubic_beziers(1e-4, |a, b, c| path.curve_to(a, b, c));
        path
    }

    /// Rings close: whole periods go round, so that the last gap ends at the first dash;
    /// and dash and gap are both seen however small the ring is.
    #[test]
    fn a_dashed_ring_closes() {
        let pen = Pen { width: 0.25, dash: dash::HIDDEN };
        for diameter in [0.9, 1.5, 2.0, 3.5, 4.9, 8.0, 40.0] {
            let fit = fitted(&pen, &circle(diameter));
            let (on, off) = (fit[0], fit[1]);
            let around = std::f64::consts::PI * diameter;
            let periods = around / (on + off);
            assert!((periods - periods.round()).abs() < 0.02, "{diameter}: {periods}");
            assert!(periods > 2.5, "{diameter}: {periods} dashes are no ring");
            let (dash, gap) = (on + 0.25, off - 0.25);
            assert!(dash > 0.3 && gap > 0.3, "{diameter}: {dash} and {gap}");
        }
        assert!(fitted(&pen, &circle(0.5)).is_empty());
    }

    /// A hidden end of 20 mm at 1:5 is 4 mm on paper: it is seen to be hidden.
    #[test]
    fn a_short_hidden_line_is_broken_all_the_same() {
        for width in [0.25, 0.35] {
            let pen = Pen { width, dash: dash::HIDDEN };
            for length in [1.5, 2.0, 3.0, 4.0, 4.8] {
                let fit = fitted(&pen, &line(length));
                let (dash, gap) = (fit[0] + width, fit[1] - width);
                let dashes = (length + gap) / (dash + gap);
                assert!((dashes - dashes.round()).abs() < 1e-9 && dashes > 1.5, "{length}: {dashes}");
                assert!(gap > 0.45 && dash > 0.45, "{length}: {dash} and {gap}");
            }
            assert!(fitted(&pen, &line(1.0)).is_empty());
        }
    }

    #[test]
    fn a_line_too_short_for_a_gap_is_continuous() {
        let pen = Pen { width: 0.25, dash: dash::CENTRE };
        assert!(fitted(&pen, &line(4.0)).is_empty());
        assert!(fitted(&Pen { width: 0.25, dash: dash::SOLID }, &line(100.0)).is_empty());
        assert!(fitted(&pen, &line(f64::NAN)).is_empty());
    }

    #[test]
    fn pieces_are_split_at_moves() {
        let mut path = line(3.0);
        path.move_to((0.0, 9.0));
        path.line_to((1.0, 9.0));
        path.close_path();
        path.move_to((5.0, 5.0));
        assert_eq!(pieces(&path).len(), 2, "a lone move draws nothing");
    }
}
