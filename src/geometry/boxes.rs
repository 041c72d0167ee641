//! Which of many boxes meet a box, without looking at all of them.

use super::DVec3;

/// A box: its least and its greatest corner, mm.
pub type Bounds = (DVec3, DVec3);

/// So few boxes are as soon looked through.
const FEW: usize = 8;

/// Boxes that are found by where they stand: halved along the axis they are spread most
/// along, and again, so that parts of any size in rows, stacks and grids are parted alike.
#[derive(Debug)]
pub struct Boxes {
    /// What is asked for, each with its place in what was given.
    held: Vec<(usize, Bounds)>,
    /// Round all that are held.
    around: Bounds,
    /// The two halves; what is held by them is not held here.
    halves: Option<Box<[Boxes; 2]>>,
}

impl Boxes {
    /// Boxes, each with the number it is found by.
    ///
    /// ```
    /// use rodwright::geometry::{Boxes, DVec3};
    /// let at = |x: f64| (DVec3::X * x, DVec3::X * x + DVec3::ONE);
    /// let boxes = Boxes::new((0..40).map(|i| (i, at(i as f64 * 10.0))).collect());
    /// assert_eq!(boxes.near((DVec3::X * 95.0, DVec3::X * 115.0), 0.0), [10, 11]);
    /// ```
    pub fn new(mut held: Vec<(usize, Bounds)>) -> Self {
        let none = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        let around = held.iter().fold(none, |m, (_, (low, high))| (m.0.min(*low), m.1.max(*high)));
        if held.len() <= FEW {
            return Self { held, around, halves: None };
        }
        let middle = |(_, (low, high)): &(usize, Bounds)| *low + *high;
        let (least, most) =
            held.iter().map(middle).fold(none, |m, middle| (m.0.min(middle), m.1.max(middle)));
        let axis = (most - least).max_position();
        held.sort_by(|a, b| middle(a)[axis].total_cmp(&middle(b)[axis]).then(a.0.cmp(&b.0)));
        let later = held.split_off(held.len() / 2);
        let halves = Some(Box::new([Self::new(held), Self::new(later)]));
        Self { held: Vec::new(), around, halves }
    }

    /// The numbers of those that meet a box or are at most `gap` mm from it, rising.
    pub fn near(&self, (low, high): Bounds, gap: f64) -> Vec<usize> {
        let mut found = Vec::new();
        let meets = |(a, b): Bounds| (low - gap).cmple(b).all() && (a - gap).cmple(high).all();
        self.gather(&mut |bounds| meets(bounds), &mut found);
        found.sort_unstable();
        found
    }

    /// Adds those that meet; what meets nothing round a half meets nothing in it.
    fn gather(&self, meets: &mut impl FnMut(Bounds) -> bool, found: &mut Vec<usize>) {
        if !meets(self.around) {
            return;
        }
        for half in self.halves.iter().flat_map(|halves| halves.iter()) {
            half.gather(meets, found);
        }
        found.extend(self.held.iter().filter(|(_, bounds)| meets(*bounds)).map(|(number, _)| *number));
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    use super::*;

    fn boxes() -> impl Strategy<Value = Vec<Bounds>> {
        let three = |r: std::ops::Range<i32>| prop::array::uniform3(r);
        let one = (three(-40..40), three(0..9), 0..20).prop_map(|(low, size, long)| {
            let [low, size] = [low, size].map(|of| DVec3::from(of.map(f64::from)) * 0.3);
            // Now and then a long one among the small.
            (low, low + size * if long == 0 { DVec3::new(30.0, 1.0, 1.0) } else { DVec3::ONE })
        });
        prop::collection::vec(one, 0..120)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, rng_seed: RngSeed::Fixed(20_261_128), ..ProptestConfig::default() })]

        /// The same as by looking at all pairs; many sizes are whole steps of 0.3, so that
        /// boxes touch, and stand apart by just the gap.
        #[test]
        fn what_is_near_is_what_all_pairs_give(all in boxes()) {
            let index = Boxes::new(all.iter().copied().enumerate().collect());
            for gap in [0.0, 0.3, 0.6] {
                for (a, b) in &all {
                    let near = |(c, d): &Bounds| (*a - gap).cmple(*d).all() && (*c - gap).cmple(*b).all();
                    let by_pairs: Vec<usize> = (0..all.len()).filter(|i| near(&all[*i])).collect();
                    prop_assert_eq!(index.near((*a, *b), gap), by_pairs);
                }
            }
        }
    }

    /// How often boxes are compared when each of a grid of `columns` by 20 is asked for.
    fn compared(columns: u32) -> usize {
        let at = |x: u32, z: u32| DVec3::new(f64::from(x) * 60.0, 0.0, f64::from(z) * 100.0);
        let all: Vec<Bounds> = (0..columns)
            .flat_map(|x| (0..20).map(move |z| (at(x, z), at(x, z) + DVec3::new(60.0, 18.0, 80.0))))
            .collect();
        let index = Boxes::new(all.iter().copied().enumerate().collect());
        let mut times = 0;
        for (a, b) in &all {
            let mut found = Vec::new();
            let mut meets = |(c, d): Bounds| {
                times += 1;
                a.cmple(d).all() && c.cmple(*b).all()
            };
            index.gather(&mut meets, &mut found);
            assert!(found.len() <= 3);
        }
        times
    }

    /// Twice the boxes are compared little more than twice as often: all pairs would be four
    /// times as many.
    #[test]
    fn twice_the_boxes_are_little_more_than_twice_the_work() {
        let (once, twice) = (compared(124), compared(248));
        assert!(twice * 10 <= once * 24, "{once}, {twice}");
        assert!(twice < 4960 * 100, "{twice}");
    }
}
