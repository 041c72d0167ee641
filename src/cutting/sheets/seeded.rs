//! A small generator of repeatable pseudo-random numbers, so that the same job
//! and seed give the same layout on every machine.

/// Generator by Sebastiano Vigna's `SplitMix64` recurrence (public domain
/// description, 2015): one 64-bit word of state, full period.
#[derive(Clone, Debug)]
pub(crate) struct Seeded(u64);

impl Seeded {
    /// A generator whose stream depends on the seed alone.
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed ^ 0x5eed_0f5a_17ca_5e5d)
    }

    /// The next 64 bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number in `0..n`; 0 when `n` is 0.
    #[allow(clippy::cast_possible_truncation, reason = "the product's upper word is below n")]
    pub(crate) fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.bits()) * n as u128) >> 64) as usize
    }

    /// Whether an event of `percent` in a hundred happens now.
    pub(crate) fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}
