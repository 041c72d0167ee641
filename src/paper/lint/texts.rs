//! Rules for text.

use kurbo::{Point, Rect, Shape};

use super::finding::{Add, LACKS, LEAST_LABEL, LEAST_TEXT};
use super::scene::{Scene, Words, describe};
use crate::geometry::tolerance::{HAIR, NOISE};
use crate::paper::{Ink, Role, Run, lettering};

/// How finely the length of a text is looked at.
const EIGHTHS: u8 = 8;
/// A whole turn, and from where on text falling to the right is read without turning
/// the sheet, degrees.
const TURN: f64 = 360.0;
const FALLING: f64 = 300.0;

/// Boxes that only graze one another by this much are apart, mm.
const GRAZE: f64 = 0.05;

/// D04: two texts over one another.
pub(super) fn over_one_another(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut order: Vec<&Words<'_>> = scene.words.iter().collect();
    order.sort_by(|a, b| a.bounds.x0.total_cmp(&b.bounds.x0).then(a.mark.cmp(&b.mark)));
    for (i, a) in order.iter().enumerate() {
        for b in order[i + 1..].iter().take_while(|b| b.bounds.x0 < a.bounds.x1) {
            if overlap(a, b) && !cleared(scene, a, b) {
                let message =
                    format!("`{}` and `{}` stand on one another", a.text.reading(), b.text.reading());
                add("D04", a.bounds.center(), message);
            }
        }
    }
}

/// Whether the later of two texts has a mask below it that covers the earlier.
fn cleared(scene: &Scene<'_>, a: &Words<'_>, b: &Words<'_>) -> bool {
    let (first, last) = if a.mark < b.mark { (a, b) } else { (b, a) };
    let shared = first.bounds.intersect(last.bounds);
    scene.masks.iter().any(|(i, area)| first.mark < *i && *i < last.mark && contains(*area, shared))
}

/// Whether two boxes overlap: no side of either parts them.
fn overlap(a: &Words<'_>, b: &Words<'_>) -> bool {
    let parted = |p: &[Point; 4], q: &[Point; 4]| {
        (0..2).any(|i| {
            let side = (p[i + 1] - p[i]).normalize();
            let reach = |c: &[Point; 4]| {
                c.iter()
                    .map(|k| side.dot(k.to_vec2()))
                    .fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)))
            };
            let ((pl, ph), (ql, qh)) = (reach(p), reach(q));
            ph <= ql + GRAZE || qh <= pl + GRAZE
        })
    };
    !parted(&a.corners, &b.corners) && !parted(&b.corners, &a.corners)
}

/// D04: a text over a line.
pub(super) fn over_lines(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut near = Vec::new();
    for words in &scene.words {
        scene.near(words.bounds, &mut near);
        for &n in &near {
            let piece = scene.pieces[n as usize];
            if !crosses(words, piece.a, piece.b) {
                continue;
            }
            let hidden = scene
                .masks
                .iter()
                .any(|(i, area)| piece.mark < *i && *i < words.mark && contains(*area, words.bounds));
            if !hidden {
                let line = describe(scene.mark(piece.mark));
                add("D04", words.bounds.center(), format!("`{}` stands on {line}", words.text.reading()));
                break;
            }
        }
    }
}

/// D04: a text over a filled section (thin parts are cut solid).
pub(super) fn over_fills(scene: &Scene<'_>, add: &mut Add<'_>) {
    let fills = || {
        scene.sheet.marks.iter().enumerate().filter_map(|(i, mark)| match &mark.ink {
            Ink::Fill { path, grey } if mark.role == Role::Hatch && *grey < 0.5 && mark.is_finite() => {
                Some((i, path, path.bounding_box()))
            }
            Ink::Fill { .. } | Ink::Stroke { .. } | Ink::Text(_) => None,
        })
    };
    for words in &scene.words {
        let inner = words.bounds.inset(-GRAZE);
        let at = |(x, y): (f64, f64)| Point::new(inner.x0 + x * inner.width(), inner.y0 + y * inner.height());
        let grid = || {
            (0..=EIGHTHS)
                .flat_map(|i| (0..=2).map(move |j| (f64::from(i) / f64::from(EIGHTHS), f64::from(j) / 2.0)))
        };
        let on = fills().any(|(i, path, area)| {
            let apart = area.x1 < inner.x0 || area.x0 > inner.x1 || area.y1 < inner.y0 || area.y0 > inner.y1;
            let cleared = scene
                .masks
                .iter()
                .any(|(mask, clear)| i < *mask && *mask < words.mark && contains(*clear, words.bounds));
            !apart && !cleared && grid().any(|p| path.contains(at(p)))
        });
        if on {
            let message = format!("`{}` stands on a filled section", words.text.reading());
            add("D04", words.bounds.center(), message);
        }
    }
}

fn contains(outer: Rect, inner: Rect) -> bool {
    outer.x0 <= inner.x0 + GRAZE
        && outer.y0 <= inner.y0 + GRAZE
        && outer.x1 >= inner.x1 - GRAZE
        && outer.y1 >= inner.y1 - GRAZE
}

/// Whether a straight piece enters the text's box.
fn crosses(words: &Words<'_>, a: Point, b: Point) -> bool {
    // In the box's own coordinates, clip the piece to it.
    let c = &words.corners;
    let (along, up) = (c[1] - c[0], c[3] - c[0]);
    let (width, height) = (along.hypot(), up.hypot());
    if !(width > 2.0 * GRAZE && height > 2.0 * GRAZE) {
        return false;
    }
    let local = |p: Point| {
        let v = p - c[0];
        (v.dot(along) / width, v.dot(up) / height)
    };
    let (p, q) = (local(a), local(b));
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, end, size) in [(p.0, q.0, width), (p.1, q.1, height)] {
        let (low, high) = (GRAZE, size - GRAZE);
        let step = end - start;
        if step.abs() < NOISE {
            if start < low || start > high {
                return false;
            }
            continue;
        }
        let (t0, t1) = ((low - start) / step, (high - start) / step);
        from = from.max(t0.min(t1));
        to = to.min(t0.max(t1));
    }
    from < to
}

/// D10: figures of dimensions in more than one height.
pub(super) fn one_height(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut figures = scene.words.iter().filter(|w| scene.mark(w.mark).role == Role::DimensionText);
    let Some(first) = figures.next() else { return };
    if let Some(other) = figures.find(|w| (w.text.height - first.text.height).abs() > HAIR) {
        let message = format!(
            "`{}` is {} mm high, `{}` is {} mm",
            other.text.reading(),
            other.text.height,
            first.text.reading(),
            first.text.height
        );
        add("D10", other.bounds.center(), message);
    }
}

/// Characters that the lettering can only show as a crossed box.
pub(super) fn shown_as_a_box(scene: &Scene<'_>, add: &mut Add<'_>) {
    for words in &scene.words {
        let plain = words.text.runs.iter().filter_map(|run| match run {
            Run::Plain(s) => Some(s.as_str()),
            Run::Fraction { .. } => None,
        });
        let lacking: Vec<char> = plain.flat_map(|s| lettering::missing(s, words.text.weight)).collect();
        if !lacking.is_empty() {
            let list: Vec<String> = lacking.iter().map(|c| format!("U+{:04X}", u32::from(*c))).collect();
            let message = format!(
                "`{}` holds characters the lettering lacks, shown as a crossed box: {}",
                words.text.reading(),
                list.join(", ")
            );
            add(LACKS, words.bounds.center(), message);
        }
    }
}

/// D09: text that cannot be read from the bottom or the right; and text too
/// small to read.
pub(super) fn direction_and_height(scene: &Scene<'_>, add: &mut Add<'_>) {
    for words in &scene.words {
        let turn = words.text.turn.rem_euclid(TURN);
        let readable = turn <= crate::paper::Text::UPRIGHT + HAIR || turn >= FALLING - HAIR;
        if !readable {
            add(
                "D09",
                words.bounds.center(),
                format!("`{}` reads from the left or upside down", words.text.reading()),
            );
        }
        let least = match scene.mark(words.mark).role {
            Role::Frame => 0.0,
            Role::Table => LEAST_LABEL,
            _ => LEAST_TEXT,
        };
        if words.text.height < least - HAIR {
            let message = format!(
                "`{}` is {:.2} mm high, the least is {least}",
                words.text.reading(),
                words.text.height
            );
            add("height", words.bounds.center(), message);
        }
    }
}
