//! Figures slid along their lines: out of the way of what passes, and aside of
//! those in the rows beside.

use super::banded::Banded;
use super::row::{self, Set, Stand};
use super::{Form, Manner};

/// White between a figure and the rows beside its own, mm.
const BESIDE: f64 = 1.5;
/// Figures whose middles are nearer than this share of the narrower stand over one
/// another: a little more than half, so that what is just clear does not move.
const OVER: f64 = 0.55;
/// In what steps a figure slides, mm, and how often.
const STEP: f64 = 0.25;
const STEPS: std::ops::Range<u8> = 1..200;

/// Where extension lines pass a band on their way to others farther out.
fn passing(banded: &[Banded<'_>], band: usize) -> Vec<f64> {
    let outer = banded.iter().filter(|b| b.band > band);
    outer.flat_map(|b| b.sizes.stops.iter().map(|s| s.at)).collect()
}

/// How far the other rows in the band of row `at` reach along it.
fn beside(banded: &[Banded<'_>], at: usize) -> Vec<(f64, f64)> {
    let band = banded.get(at).map(|row| row.band);
    let others = banded.iter().enumerate().filter(|(i, row)| *i != at && Some(row.band) == band);
    others.map(|(_, row)| row.laid.reach).collect()
}

/// Whether a figure `extent` wide at `middle` keeps off the rows beside its own.
fn free(beside: &[(f64, f64)], middle: f64, extent: f64) -> bool {
    let half = extent / 2.0 + BESIDE;
    beside.iter().all(|(low, high)| middle + half < *low || middle - half > *high)
}

/// A broken line follows its figures.
fn follow(row: &mut Banded<'_>, manner: &Manner) {
    if manner.horizontal && row.sizes.form == Form::Chain {
        row::rebreak(row.sizes, manner, &mut row.laid);
    }
}

/// Slides figures out of the way of extension lines that pass to outer bands.
pub(super) fn clear(banded: &mut [Banded<'_>], manner: &Manner) {
    let passing: Vec<Vec<f64>> = banded.iter().map(|row| passing(banded, row.band)).collect();
    for (at, lines) in passing.iter().enumerate() {
        let beside = beside(banded, at);
        let Some(row) = banded.get_mut(at) else { continue };
        // Lifted figures stand on storeys of their own.
        let on = |t: &Set| (t.stand == Stand::On).then_some((t.along, t.extent));
        let mut stand: Vec<Option<(f64, f64)>> = row.laid.texts.iter().map(on).collect();
        for (index, text) in row.laid.texts.iter_mut().enumerate() {
            // Neither on a line that passes nor on another figure of the row.
            let clear = |c: f64| {
                let parted = |(i, other): (usize, &Option<(f64, f64)>)| {
                    let apart = |(along, extent): &(f64, f64)| {
                        (along - c).abs() > (extent + text.extent) / 2.0 + Manner::CLEAR
                    };
                    i == index || text.stand != Stand::On || other.as_ref().is_none_or(apart)
                };
                lines.iter().all(|l| (l - c).abs() > text.extent / 2.0 + Manner::CLEAR)
                    && stand.iter().enumerate().all(parted)
            };
            let (low, high) = text.slide;
            if low >= high || clear(text.along) {
                continue;
            }
            let from = text.along;
            let steps = STEPS.map(|i| f64::from(i) * STEP);
            let found =
                steps.flat_map(|d| [from + d, from - d]).find(|c| *c >= low && *c <= high && clear(*c));
            // Else beside the row, where it ends with this figure.
            let ends = row.sizes.stops.first().zip(row.sizes.stops.last());
            let aside = text.extent / 2.0 + 2.0 * manner.arrow + 1.0;
            let out = ends.and_then(|(first, last)| {
                let links = row.sizes.stops.len().saturating_sub(2);
                let up = (text.figure == Some(links)).then_some(last.at + aside);
                let down = (text.figure == Some(0)).then_some(first.at - aside);
                [up, down].into_iter().flatten().find(|c| clear(*c) && free(&beside, *c, text.extent))
            });
            text.along = found.or(out.filter(|_| manner.horizontal)).unwrap_or(from);
            if let Some(Some(place)) = stand.get_mut(index) {
                place.0 = text.along;
            }
            let (low, high) = row.laid.reach;
            let half = text.extent / 2.0;
            row.laid.reach = (low.min(text.along - half), high.max(text.along + half));
        }
        follow(row, manner);
    }
}

/// Slides a figure aside that stands between figures of the rows on both sides
/// of it, where there is room (ASME Y14.5: figures of parallel sizes are
/// staggered).
pub(super) fn stagger(banded: &mut [Banded<'_>], manner: &Manner) {
    for at in 0..banded.len() {
        let Some(row) = banded.get(at) else { continue };
        let side = |band: Option<usize>| -> Vec<(f64, f64)> {
            let beside = banded.iter().filter(|b| Some(b.band) == band);
            beside.flat_map(|b| b.laid.texts.iter().map(|t| (t.along, t.extent))).collect()
        };
        let (inner, outer) = (side(row.band.checked_sub(1)), side(Some(row.band + 1)));
        let lines = passing(banded, row.band);
        let aside: Vec<Option<f64>> =
            row.laid.texts.iter().map(|text| clear_of_both(text, &inner, &outer, &lines)).collect();
        let Some(row) = banded.get_mut(at) else { continue };
        for (text, to) in row.laid.texts.iter_mut().zip(&aside) {
            text.along = to.unwrap_or(text.along);
        }
        if aside.iter().any(Option::is_some) {
            follow(row, manner);
        }
    }
}

/// The nearest place for a figure that does not stand between one of the inner
/// and one of the outer figures; none where it stands well or has no room.
fn clear_of_both(text: &Set, inner: &[(f64, f64)], outer: &[(f64, f64)], lines: &[f64]) -> Option<f64> {
    let over = |c: f64, others: &[(f64, f64)]| {
        others.iter().any(|(along, extent)| (along - c).abs() < text.extent.min(*extent) * OVER)
    };
    let between = |c: f64| over(c, inner) && over(c, outer);
    let (low, high) = text.slide;
    if text.stand != Stand::On || low >= high || !between(text.along) {
        return None;
    }
    let free = |c: &f64| {
        let passes = lines.iter().any(|l| (l - c).abs() <= text.extent / 2.0 + Manner::CLEAR);
        *c >= low && *c <= high && !passes && !between(*c)
    };
    let steps = STEPS.map(|i| f64::from(i) * STEP);
    steps.flat_map(|d| [text.along + d, text.along - d]).find(free)
}
