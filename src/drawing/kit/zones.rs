//! A crowded piece in stretches: where one picture cannot carry all part
//! numbers, the piece is drawn in several, cut where fewest joints cross.

use std::collections::BTreeSet;

use super::project::bounds;
use super::words::length_text;
use crate::drawing::page::look::Look;
use crate::joinery::{PartSource, WorkedJob, WorkedPart};

/// A side is longer than another by more than this, mm.
const LONGER: f64 = 0.05;

/// The most that one picture shows before it is split.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct Most {
    /// Parts drawn.
    pub(in crate::drawing) parts: usize,
    /// Different part numbers.
    pub(in crate::drawing) marks: usize,
}

/// Share of the piece's length from which a part runs through its stretches.
const LONG: f64 = 0.6;

/// A stretch of a piece.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::drawing) struct Zone {
    /// Indices into [`WorkedJob::parts`], rising.
    pub(in crate::drawing) parts: Vec<usize>,
    /// The axis that the piece is cut along: 0 x, 1 y, 2 z.
    axis: usize,
    /// Where its parts begin and end along the axis, mm from the piece's end; those
    /// that run through left out where there are others.
    reach: (f64, f64),
    /// Whether parts run through it besides.
    through: bool,
}

impl Zone {
    /// Where it lies: `0 to 1230 from the left`.
    pub(in crate::drawing) fn message(&self, look: &Look) -> String {
        let side = ["left", "front", "bottom"].get(self.axis).copied().unwrap_or("left");
        let (from, to) = (length_text(look, self.reach.0), length_text(look, self.reach.1));
        let besides = if self.through { ", with what runs through" } else { "" };
        format!("{from} to {to} from the {side}{besides}")
    }
}

/// How many different numbers some parts have.
pub(in crate::drawing) fn marks(worked: &WorkedJob, parts: &[usize]) -> usize {
    let all: BTreeSet<String> =
        parts.iter().filter_map(|p| worked.parts.get(*p)).map(WorkedPart::mark).collect();
    all.len()
}

/// The parts `among` of a piece in as few stretches along its longest side as
/// keep each within `most`: a single one where nothing is crowded.
pub(in crate::drawing) fn zones(worked: &WorkedJob, among: &[usize], most: Most) -> Vec<Zone> {
    let Some((low, high)) = bounds(among.iter().filter_map(|p| worked.parts.get(*p))) else {
        return Vec::new();
    };
    let size = high - low;
    // Of equal sides the first, so that a square piece is cut from left to right.
    let axis = (0..3).fold(0, |best, axis| if size[axis] > size[best] + LONGER { axis } else { best });
    let sorted = sorted(worked, among, axis);
    let crossing = crossing(worked, &sorted);
    let fits = |cut: &[&[usize]]| {
        cut.iter().all(|parts| {
            parts.len() == 1 || (parts.len() <= most.parts && marks(worked, parts) <= most.marks)
        })
    };
    // As few as will do: each further picture tears joints apart.
    let mut count = 1;
    let cut = loop {
        let cut = cut(&sorted, &crossing, count);
        if fits(&cut) || count >= sorted.len() {
            break cut;
        }
        count += 1;
    };
    let zone = |parts: &[usize]| {
        let of = |parts: &[usize]| bounds(parts.iter().filter_map(|p| worked.parts.get(*p)));
        let short = |part: &usize| of(&[*part]).is_some_and(|(a, b)| b[axis] - a[axis] <= LONG * size[axis]);
        let own: Vec<usize> = parts.iter().copied().filter(short).collect();
        let through = !own.is_empty() && own.len() < parts.len();
        let (a, b) = of(if through { &own } else { parts })?;
        let mut parts = parts.to_vec();
        parts.sort_unstable();
        Some(Zone { parts, axis, reach: (a[axis] - low[axis], b[axis] - low[axis]), through })
    };
    cut.into_iter().filter_map(zone).collect()
}

/// What a part goes with: a lipping with the part it is glued to.
fn bearer(worked: &WorkedJob, part: usize) -> usize {
    match worked.parts.get(part).map(|p| p.source) {
        Some(PartSource::Lipping { of, .. }) => of,
        _ => part,
    }
}

/// Parts in the order of their middles along an axis, lippings with their parts.
fn sorted(worked: &WorkedJob, among: &[usize], axis: usize) -> Vec<usize> {
    let middle = |part: usize| {
        let of = worked.parts.get(bearer(worked, part));
        bounds(of.into_iter()).map_or(0.0, |(low, high)| f64::midpoint(low[axis], high[axis]))
    };
    let mut keyed: Vec<(f64, usize, usize)> =
        among.iter().map(|part| (middle(*part), bearer(worked, *part), *part)).collect();
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    keyed.into_iter().map(|(_, _, part)| part).collect()
}

/// How many joints a cut before each of the sorted parts would cross; a lipping
/// counts as many as keep it with its part.
fn crossing(worked: &WorkedJob, sorted: &[usize]) -> Vec<i64> {
    let mut place: Vec<Option<usize>> = vec![None; worked.parts.len()];
    for (i, part) in sorted.iter().enumerate() {
        if let Some(slot) = place.get_mut(*part) {
            *slot = Some(i);
        }
    }
    let at = |part: usize| place.get(part).copied().flatten();
    let mut change = vec![0_i64; sorted.len() + 1];
    let mut link = |parts: &[usize], weight: i64| {
        let places = || parts.iter().filter_map(|p| at(*p));
        if let (Some(first), Some(last)) = (places().min(), places().max()) {
            change[first + 1] += weight;
            change[last + 1] -= weight;
        }
    };
    worked.joints.iter().for_each(|joint| link(&joint.parts, 1));
    for part in sorted {
        // More than any joint can weigh: a lipping drawn away from its part is a strip
        // of nothing.
        link(&[*part, bearer(worked, *part)], 100);
    }
    let mut sum = 0;
    change
        .iter()
        .map(|by| {
            sum += by;
            sum
        })
        .collect()
}

/// The sorted parts in `count` stretches of about one length, each cut where
/// fewest joints cross near by.
fn cut<'p>(sorted: &'p [usize], crossing: &[i64], count: usize) -> Vec<&'p [usize]> {
    let n = sorted.len();
    // A quarter of a stretch either way: more would give one crowded picture and one
    // empty one.
    let slack = n / (4 * count.max(1));
    let mut found = Vec::new();
    let mut from = 0;
    for i in 1..count {
        let even = i * n / count;
        let places =
            (even.saturating_sub(slack).max(from + 1)..=(even + slack).min(n.saturating_sub(1))).rev();
        let best = places.min_by_key(|k| (crossing.get(*k).copied().unwrap_or(0), k.abs_diff(even)));
        if let Some((stretch, to)) = best.and_then(|to| Some((sorted.get(from..to)?, to))) {
            found.push(stretch);
            from = to;
        }
    }
    found.extend(sorted.get(from..).filter(|rest| !rest.is_empty()));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cuts_fall_where_fewest_joints_cross() {
        let sorted: Vec<usize> = (0..12).collect();
        // Bays of four, of which three joints hold the parts together.
        let crossing: Vec<i64> = (0..=12).map(|k| if k % 4 == 0 { 0 } else { 3 }).collect();
        let found: Vec<usize> = cut(&sorted, &crossing, 3).iter().map(|z| z.len()).collect();
        assert_eq!(found, [4, 4, 4]);
        let found: Vec<usize> = cut(&sorted, &crossing, 2).iter().map(|z| z.len()).collect();
        assert_eq!(found.iter().sum::<usize>(), 12);
        assert!(found.iter().all(|n| n % 4 == 0 || *n == 6), "{found:?}");
        assert_eq!(cut(&sorted, &crossing, 12).len(), 12);
    }
}
