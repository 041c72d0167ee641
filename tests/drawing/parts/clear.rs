//! Whether figures stand clear of everything else on a sheet.

use kurbo::{Line, ParamCurve, PathSeg, Point, Rect, Shape};
use rodwright::paper::{Ink, Mark, Role};

/// What stands on what: one line for each fault.
pub(super) fn faults(marks: &[Mark]) -> Vec<String> {
    let mut faults = Vec::new();
    let texts: Vec<(usize, Rect, String)> = marks
        .iter()
        .enumerate()
        .filter_map(|(i, m)| match &m.ink {
            Ink::Text(t) => Some((i, m.bounds().inflate(-0.15, -0.15), t.reading())),
            Ink::Stroke { .. } | Ink::Fill { .. } => None,
        })
        .collect();
    for (n, (_, a, words)) in texts.iter().enumerate() {
        for (_, b, other) in &texts[n + 1..] {
            if a.overlaps(*b) {
                faults.push(format!("`{words}` stands on `{other}`"));
            }
        }
    }
    for mark in marks {
        let struck: Vec<&str> = match &mark.ink {
            Ink::Text(_) => continue,
            Ink::Fill { path, .. } => {
                let b = path.bounding_box();
                texts.iter().filter(|(_, t, _)| t.overlaps(b)).map(|t| t.2.as_str()).collect()
            }
            // The circle round a part number is its own.
            Ink::Stroke { .. } if mark.role == Role::ItemNumber => continue,
            Ink::Stroke { path, .. } => {
                let lines: Vec<PathSeg> = path.segments().collect();
                texts
                    .iter()
                    .filter(|(_, t, _)| lines.iter().any(|l| strikes(*l, *t)))
                    .map(|t| t.2.as_str())
                    .collect()
            }
        };
        faults.extend(
            struck.iter().map(|w| format!("{:?} strikes `{w}` at {:?}", mark.role, mark.bounds().center())),
        );
    }
    faults.extend(crossings(marks));
    faults
}

/// Whether a path segment enters a box.
fn strikes(segment: PathSeg, text: Rect) -> bool {
    (0..=64).any(|i| text.contains(segment.eval(f64::from(i) / 64.0)))
        || sides(text).iter().any(|s| !segment.intersect_line(*s).is_empty())
}

/// The sides of a box.
fn sides(r: Rect) -> [Line; 4] {
    let p = [Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)];
    [Line::new(p[0], p[1]), Line::new(p[1], p[2]), Line::new(p[2], p[3]), Line::new(p[3], p[0])]
}

/// Dimension lines that cross one another.
fn crossings(marks: &[Mark]) -> Vec<String> {
    let lines: Vec<Line> = marks
        .iter()
        .filter(|m| m.role == Role::Dimension)
        .filter_map(|m| match &m.ink {
            Ink::Stroke { path, .. } => path.segments().next().map(|s| Line::new(s.start(), s.end())),
            Ink::Fill { .. } | Ink::Text(_) => None,
        })
        .collect();
    let mut faults = Vec::new();
    for (i, a) in lines.iter().enumerate() {
        for b in &lines[i + 1..] {
            if !PathSeg::Line(*a).intersect_line(*b).is_empty() {
                faults.push(format!("dimension lines cross: {a:?} and {b:?}"));
            }
        }
    }
    faults
}
