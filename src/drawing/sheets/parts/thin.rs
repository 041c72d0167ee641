//! Lines that would run into one another when printed.

use kurbo::{Line, Point};

use crate::geometry::tolerance::NOISE;
use crate::paper::{LEAST_GAP as LEAST, run_together};
use crate::solid::ViewLine;

/// Lines that run together for less touch in passing, as where two meet end to end, mm.
const PASSING: f64 = 0.9;

/// How a line is drawn; rising in order of drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Way {
    /// Hidden.
    Hidden,
    /// Made only after a glue-up, so not there when the loose part is made.
    Later,
    /// Seen.
    Seen,
}

/// A line of a view and how it is drawn.
pub(super) type WayLine = (ViewLine, Way);

/// A straight line of a view on the sheet.
pub(super) type Straight = (Point, Point, Way);

/// The straight lines of a view without what lies so close along a longer one
/// that both would print as one: a thin part or a narrow groove becomes a
/// single line, as drafters draw it, and a hidden line gives way to any other.
/// The sizes still say what is there.
pub(super) fn thinned(lines: &[Straight]) -> Vec<Straight> {
    let mut order: Vec<usize> = (0..lines.len()).collect();
    let rank = |way: Way| match way {
        Way::Seen => 0,
        Way::Later => 1,
        Way::Hidden => 2,
    };
    let length = |i: usize| lines[i].0.distance(lines[i].1);
    order.sort_by(|a, b| {
        rank(lines[*a].2).cmp(&rank(lines[*b].2)).then(length(*b).total_cmp(&length(*a))).then(a.cmp(b))
    });
    let mut kept: Vec<Straight> = Vec::new();
    for i in order {
        let left = if lines[i].2 == Way::Later { vec![lines[i]] } else { clear(lines[i], &kept) };
        kept.extend(left);
    }
    kept
}

/// The stretches of `line` that no kept line runs close along.
fn clear(line: Straight, kept: &[Straight]) -> Vec<Straight> {
    let (a, b, way) = line;
    let run = b - a;
    let long = run.hypot();
    if long < NOISE {
        return Vec::new();
    }
    let dir = run / long;
    let mut free: Vec<(f64, f64)> = vec![(0.0, long)];
    for (p, q, _) in kept.iter().filter(|k| k.2 != Way::Later) {
        let Some(near) = run_together(Line::new(a, b), Line::new(*p, *q)) else { continue };
        if near.to - near.from < PASSING {
            continue;
        }
        free = free
            .into_iter()
            .flat_map(|(f, t)| [(f, t.min(near.from)), (f.max(near.to), t)])
            .filter(|(f, t)| t - f > NOISE)
            .collect();
    }
    // What is left over by a hair is the same line, not another.
    let whole = free.len() == 1 && free.first().is_some_and(|(f, t)| t - f > long - NOISE);
    free.into_iter()
        .filter(|(f, t)| whole || t - f > LEAST)
        .map(|(f, t)| (a + dir * f, a + dir * t, way))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(y: f64, from: f64, to: f64, way: Way) -> Straight {
        (Point::new(from, y), Point::new(to, y), way)
    }

    #[test]
    fn close_lines_become_one_and_others_stay() {
        let (seen, hidden) = (Way::Seen, Way::Hidden);
        // Glass 2 thick at 1:5 is one line.
        let glass = [line(0.0, 0.0, 50.0, seen), line(0.4, 0.0, 50.0, seen)];
        assert_eq!(thinned(&glass), [glass[0]]);
        let board = [line(0.0, 0.0, 50.0, seen), line(0.8, 0.0, 50.0, seen)];
        assert_eq!(thinned(&board), board);
        // Only the stretch that is close goes.
        let step = [line(0.0, 0.0, 50.0, seen), line(0.5, 30.0, 70.0, seen)];
        assert_eq!(thinned(&step), [step[0], line(0.5, 50.0, 70.0, seen)]);
        // What is hidden gives way though it is longer.
        let behind = [line(0.0, 0.0, 50.0, hidden), line(0.3, 10.0, 20.0, seen)];
        let left = [behind[1], line(0.0, 0.0, 10.0, hidden), line(0.0, 20.0, 50.0, hidden)];
        assert_eq!(thinned(&behind), left);
        // End to end is not along.
        let ends = [line(0.0, 0.0, 50.0, seen), line(0.0, 50.0, 90.0, seen)];
        assert_eq!(thinned(&ends), ends);
    }
}
