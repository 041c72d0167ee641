//! The gaps round doors and drawer fronts, which a maker planes them to.

use super::sizes::SAME;
use crate::drawing::kit::opening::Opens;
use crate::drawing::kit::project::bounds;
use crate::drawing::kit::words::length_text;
use crate::drawing::page::look::Look;
use crate::joinery::WorkedPart;

/// Wider than this what is left beside a front is no gap but an opening, mm.
const WIDEST: f64 = 15.0;
/// A part stands beside a front where they overlap both other ways by more than this, mm.
const BESIDE: f64 = 1.0;
/// The sides of a front in the order they are said: axis, whether away from the datum, word.
const SIDES: [(usize, bool, &str); 4] =
    [(0, false, "left"), (0, true, "right"), (2, true, "top"), (2, false, "bottom")];

/// The least gap at each side of a front, mm; `None` where nothing stands near that side.
fn widths<'p>(front: &Opens, parts: impl Iterator<Item = &'p WorkedPart>) -> [Option<f64>; 4] {
    let (low, high) = front.shut_between();
    let mut least = [None; 4];
    for (a, b) in parts.filter(|part| !front.moves(part)).filter_map(|part| bounds(std::iter::once(part))) {
        let shared = b.min(high) - a.max(low);
        for ((axis, far, _), least) in SIDES.iter().zip(&mut least) {
            let beside = [1, 2 - axis].iter().all(|other| shared[*other] > BESIDE);
            let gap = if *far { a[*axis] - high[*axis] } else { low[*axis] - b[*axis] };
            if beside && gap > SAME && gap < WIDEST {
                *least = Some(least.map_or(gap, |known: f64| known.min(gap)));
            }
        }
    }
    least
}

/// The gaps of a front in lines: one line where it is the same all round.
pub(super) fn gaps<'p>(
    front: &Opens,
    parts: impl Iterator<Item = &'p WorkedPart>,
    look: &Look,
) -> Vec<String> {
    let mut known: Vec<(String, Vec<&str>)> = Vec::new();
    for ((.., side), gap) in SIDES.iter().zip(widths(front, parts)) {
        let Some(shown) = gap.map(|gap| length_text(look, gap)) else { continue };
        match known.iter_mut().find(|(width, _)| *width == shown) {
            Some((_, sides)) => sides.push(side),
            None => known.push((shown, vec![side])),
        }
    }
    let line = |(width, sides): (String, Vec<&str>)| {
        let whole = sides.len() == SIDES.len();
        format!("gap {width} {}", if whole { "all round".to_owned() } else { sides.join(", ") })
    };
    known.into_iter().map(line).collect()
}
