//! Chance that can be thrown again: each case is told by its seed.

/// A little generator of our own (xorshift, Marsaglia 2003).
pub struct Dice(u64);

impl Dice {
    pub fn of(seed: u64) -> Dice {
        // Neighbouring seeds are spread apart (splitmix, Steele, Lea and Flood 2014).
        let mut z = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        Dice((z ^ (z >> 31)).max(1))
    }

    /// A number below `sides`; 0 where there are none.
    pub fn throw(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 3) % sides.max(1) as u64) as usize
    }

    /// True once in so many throws.
    pub fn once_in(&mut self, throws: usize) -> bool {
        self.throw(throws) == 0
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> Option<&'a T> {
        from.get(self.throw(from.len()))
    }
}
