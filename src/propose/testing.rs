//! Numbers for tests that are the same on every machine.

/// A stream of numbers from a seed (linear congruence of Knuth's MMIX).
pub struct Dice(pub u64);

impl Dice {
    /// The next, from 0 up to and without `n`.
    pub fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
}
