//! Breaks in the views of long, slender parts: where nothing changes along the
//! length a stretch is left out, so that the rest is drawn at a larger scale
//! (ISO 128-3: broken views, limited by freehand lines).

use kurbo::{BezPath, Point};

use super::frame::Frame;
use super::stretches::{Break, Breaks, GAP};
use super::subject::Prepared;
use super::thin::Way;
use super::{centres, thin, turned};
use crate::geometry::tolerance::HAIR;
use crate::geometry::trig;

/// Length kept beside what is cut into the part, mm on paper.
const KEPT: f64 = 11.0;
/// Least length on paper that is worth leaving out, mm.
const WORTH: f64 = 25.0;
/// How many times longer than wide a part is that may be broken.
const SLENDER: f64 = 7.0;
/// How far the freehand line wanders, mm.
const WANDER: f64 = 0.6;
/// Its two waves, which never quite repeat: radians for each mm, and their shares.
const WAVES: ((f64, f64), (f64, f64)) = ((0.71, 0.65), (1.57, 0.35));
/// Length of its straight bits, mm.
const BIT: f64 = 0.7;
/// How far the freehand line runs on past the part, mm.
const PAST: f64 = 1.2;
/// The breaks that `prepared` can have at `factor`; none where it is not
/// slender, or is turned: its profile is given by stations along the whole length.
pub(super) fn breaks(prepared: &Prepared<'_>, factor: f64) -> Breaks {
    let part = prepared.subject.part;
    let wide = part.size.y.max(part.size.z);
    if part.size.x < SLENDER * wide || turned::turning(part).is_some() {
        return Breaks::default();
    }
    let mut found: Vec<Break> = plain(prepared)
        .into_iter()
        .map(|(a, b)| Break { from: a + KEPT / factor, to: b - KEPT / factor })
        .filter(|one| (one.to - one.from) * factor - GAP >= WORTH)
        .collect();
    found.sort_by(|a, b| (b.to - b.from).total_cmp(&(a.to - a.from)));
    found.truncate(3);
    found.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut of = [None; 3];
    for (place, one) in of.iter_mut().zip(found) {
        *place = Some(one);
    }
    Breaks { of }
}

/// The stretches of the length along which nothing changes and to which no size
/// is given.
fn plain(prepared: &Prepared<'_>) -> Vec<(f64, f64)> {
    let part = prepared.subject.part;
    let mut places = vec![0.0, part.size.x];
    let mut sloping: Vec<(f64, f64)> = Vec::new();
    for (sizes, lines) in prepared.chosen.iter().zip(&prepared.lines) {
        let frame = Frame::new(sizes.face, part.size, 1.0);
        for row in sizes.rows.iter().filter(|row| row.axis == 0) {
            places.extend(row.stops.iter().map(|stop| stop.at));
        }
        if frame.right.0 != 0 {
            continue;
        }
        // From behind, the drawing's x runs against the length.
        let (way, far) = if frame.right.1 { (-1.0, part.size.x) } else { (1.0, 0.0) };
        for (line, _) in lines {
            let (a, b) = (way * line.a.x, way * line.b.x);
            places.extend([a, b]);
            if (line.a.y - line.b.y).abs() > HAIR && (a - b).abs() > HAIR {
                sloping.push((a.min(b), a.max(b)));
            }
        }
        let crosses = prepared.features.iter().filter_map(|feature| centres::cross(feature, &frame));
        places.extend(crosses.map(|(centre, _)| far + way * centre.x));
    }
    places.sort_by(f64::total_cmp);
    let stretches = places.windows(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?)));
    stretches.filter(|(a, b)| !sloping.iter().any(|(from, to)| a < to && from < b)).collect()
}

/// The freehand line's way aside at a height on the sheet, mm.
fn wave(y: f64) -> f64 {
    let ((long, share), (short, rest)) = WAVES;
    WANDER * (share * trig::sin_cos(y * long).0 + rest * trig::sin_cos(y * short).0)
}

/// The lines of a view without what runs through its breaks.
pub(super) fn clipped(lines: &[thin::Straight], frame: &Frame) -> Vec<thin::Straight> {
    let mut kept = lines.to_vec();
    for (low, high) in sides(&frame.breaks, frame) {
        let through = |(a, b, _): &thin::Straight| a.x.min(b.x) < low && a.x.max(b.x) > high;
        let (cut, mut whole): (Vec<_>, Vec<_>) = kept.into_iter().partition(through);
        for (a, b, way) in cut {
            // What runs through runs along the length.
            let (a, b) = if a.x < b.x { (a, b) } else { (b, a) };
            let aside = wave(a.y);
            whole.push((a, Point::new(low + aside, a.y), way));
            whole.push((Point::new(high + aside, b.y), b, way));
        }
        kept = whole;
    }
    kept
}

/// The freehand lines at the breaks of a view whose `lines` are given, each from
/// the lowest to the highest line it parts.
pub(super) fn edges(lines: &[thin::Straight], frame: &Frame) -> BezPath {
    let mut path = BezPath::new();
    for (low, high) in sides(&frame.breaks, frame) {
        let seen = lines.iter().filter(|(a, b, way)| {
            *way != Way::Hidden && a.x.min(b.x) < low && a.x.max(b.x) > high && (a.y - b.y).abs() < HAIR
        });
        let (top, bottom) =
            seen.fold((f64::MAX, f64::MIN), |(t, b), line| (t.min(line.0.y), b.max(line.0.y)));
        if bottom < top {
            continue;
        }
        for x in [low, high] {
            let (from, to) = (top - PAST, bottom + PAST);
            let bits = ((to - from) / BIT).ceil().max(2.0);
            path.move_to(Point::new(x + wave(from), from));
            let mut bit = 1.0;
            while bit <= bits {
                let y = from + (to - from) * bit / bits;
                path.line_to(Point::new(x + wave(y), y));
                bit += 1.0;
            }
        }
    }
    path
}

/// Both sides of each break on the paper of a view, the left one first.
fn sides(breaks: &Breaks, frame: &Frame) -> Vec<(f64, f64)> {
    let at = |x: f64| frame.along(0, x);
    let side = |one: &Break| {
        let (from, to) = (at(one.from), at(one.to));
        (from.min(to), from.max(to))
    };
    breaks.of.iter().flatten().map(side).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_past_a_break_move_up_and_places_in_it_keep_beside() {
        let one = Break { from: 100.0, to: 900.0 };
        let breaks = Breaks { of: [Some(one), None, None] };
        assert!(!breaks.is_empty());
        assert!((breaks.placed(100.0, 0.5) - 50.0).abs() < 1e-12);
        assert!((breaks.placed(900.0, 0.5) - (50.0 + GAP)).abs() < 1e-12);
        assert!((breaks.placed(1000.0, 0.5) - (100.0 + GAP)).abs() < 1e-12);
        assert!((breaks.placed(200.0, 0.5) - 48.0).abs() < 1e-12);
        assert!((breaks.placed(800.0, 0.5) - (52.0 + GAP)).abs() < 1e-12);
        assert!((Breaks::default().placed(800.0, 0.5) - 400.0).abs() < 1e-12);
    }
}
