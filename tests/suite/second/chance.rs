//! Numbers by chance, the same for the same seed.

/// Where they come from: the generator SplitMix64 (Steele, Lea, Flood, Fast splittable pseudorandom number generators, 2014).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        // Neighbours are not to be one row of numbers, begun one later.
        Chance(Chance(!seed).next())
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number below `end`.
    pub fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(end).unwrap()).unwrap()
    }

    /// Once in so many times.
    pub fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    pub fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }

    /// A number between two.
    pub fn between(&mut self, from: f64, to: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "32 bits are enough")]
        let part = (self.next() >> 32) as f64 / f64::from(u32::MAX);
        from + (to - from) * part
    }
}
