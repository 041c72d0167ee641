//! Boxes round cutters, found by where they stand.

use std::collections::BTreeMap;

use super::tolerance::NEAR;
use crate::geometry::DVec3;

/// A box, by its corners.
pub(super) type Reach = (DVec3, DVec3);

/// Whether two boxes meet, or all but meet.
pub(super) fn overlap(a: Reach, b: Reach) -> bool {
    let near = DVec3::splat(NEAR);
    (a.0 - near).cmple(b.1).all() && (b.0 - near).cmple(a.1).all()
}

/// Boxes that are found by where they stand if there are many: of a thousand holes a facet
/// of one is near a few.
pub(super) struct Near {
    /// The boxes.
    pub(super) boxes: Vec<Reach>,
    /// Those that reach into a cell of space.
    cells: BTreeMap<[i32; 3], Vec<usize>>,
    /// Those too large to be looked for by cells.
    large: Vec<usize>,
}

/// Up to so many boxes are as soon looked through.
const FEW: usize = 64;

/// Side of a cell of space, mm: some holes.
const SPACE: f64 = 50.0;

/// Cells that a box may reach into.
const CELLS: usize = 64;

impl Near {
    pub(super) fn new(boxes: Vec<Reach>) -> Self {
        let mut near = Self { boxes, cells: BTreeMap::new(), large: Vec::new() };
        if near.boxes.len() > FEW {
            for (at, reach) in near.boxes.iter().enumerate() {
                let Some(spaces) = spaces(*reach) else {
                    near.large.push(at);
                    continue;
                };
                for cell in spaces {
                    near.cells.entry(cell).or_default().push(at);
                }
            }
        }
        near
    }

    /// Those that meet a box, or all but meet it, in order, in place of what `found` held.
    pub(super) fn find(&self, reach: Reach, found: &mut Vec<usize>) {
        found.clear();
        let meets = |at: &usize| overlap(self.boxes[*at], reach);
        let few = self.boxes.len() <= FEW;
        let Some(spaces) = (if few { None } else { spaces((reach.0 - NEAR, reach.1 + NEAR)) }) else {
            found.extend((0..self.boxes.len()).filter(meets));
            return;
        };
        let here = spaces.iter().filter_map(|cell| self.cells.get(cell)).flatten();
        found.extend(self.large.iter().chain(here).copied().filter(meets));
        found.sort_unstable();
        found.dedup();
    }
}

/// The cells of space that a box reaches into; `None` if they are many.
fn spaces((low, high): Reach) -> Option<Vec<[i32; 3]>> {
    #[expect(clippy::cast_possible_truncation, reason = "nothing reaches beyond 100 m")]
    let cell = |p: DVec3| (p / SPACE).floor().to_array().map(|at| at as i32);
    let (low, high) = (cell(low), cell(high));
    let along = [0, 1, 2].map(|axis| low[axis]..=high[axis]);
    let count = |axis: usize| usize::try_from(high[axis].abs_diff(low[axis])).map_or(usize::MAX, |n| n + 1);
    let all = count(0).saturating_mul(count(1)).saturating_mul(count(2));
    let [x, y, z] = along;
    (all <= CELLS).then(|| {
        let rows = x.flat_map(|x| y.clone().map(move |y| (x, y)));
        rows.flat_map(|(x, y)| z.clone().map(move |z| [x, y, z])).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hundred small boxes in rows and one through all of them, looked for by small boxes
    /// and large: the same as by looking through them.
    #[test]
    fn many_boxes_are_found_as_few_are() {
        let cube = |x: f64, y: f64, side: f64| (DVec3::new(x, y, 0.0), DVec3::new(x + side, y + side, side));
        let mut boxes: Vec<Reach> =
            (0..100).map(|i| cube(f64::from(i % 10) * 37.0 - 90.0, f64::from(i / 10) * 21.0, 8.0)).collect();
        boxes.push((DVec3::new(-200.0, -200.0, 3.0), DVec3::new(9000.0, 900.0, 4.0)));
        let near = Near::new(boxes.clone());
        assert!(!near.cells.is_empty() && near.large == [100]);
        let mut found = Vec::new();
        let mut most = 0;
        for side in [0.5, 13.0, 60.0, 400.0] {
            for (x, y) in
                [(-90.0, 0.0), (-82.0, 8.0), (-82.04, 8.0), (21.0, 63.0), (243.0, 189.0), (99.0, 99.0)]
            {
                let reach = cube(x, y, side);
                let by_hand: Vec<usize> = (0..boxes.len()).filter(|at| overlap(boxes[*at], reach)).collect();
                near.find(reach, &mut found);
                assert_eq!(found, by_hand, "{reach:?}");
                most = most.max(found.len());
            }
        }
        assert!(most > 50);
    }
}
