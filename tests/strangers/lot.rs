//! Whole numbers by lot; the same on every machine, and unlike for seeds that stand side
//! by side (Steele, Lea and Flood 2014, splitmix64).

pub(super) struct Lot(pub(super) u64);

impl Lot {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let a = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let b = (a ^ (a >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        b ^ (b >> 31)
    }

    /// From 0 up to `most`, which is left out.
    pub(super) fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % most.max(1) as u64).unwrap()
    }

    pub(super) fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }

    /// One time in `times`.
    pub(super) fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
}
