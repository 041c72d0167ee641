//! Numbers that look drawn by lot and are the same on every machine.

/// A linear congruence with the constants of Knuth's MMIX.
pub(crate) struct Lot(pub(crate) u64);

impl Lot {
    /// From 0 up to 1.
    pub(crate) fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f64 / f64::from(1_u32 << 24)
    }

    /// From `a` to `b`, to half a millimetre.
    pub(crate) fn between(&mut self, a: f64, b: f64) -> f64 {
        ((a + (b - a) * self.share()) * 2.0).round() / 2.0
    }

    /// One of `n`, from 0.
    pub(crate) fn of(&mut self, n: usize) -> usize {
        ((self.share() * n as f64) as usize).min(n - 1)
    }
}
