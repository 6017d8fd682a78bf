//! Numbers that look random and are the same on every run and every machine.

#![expect(clippy::cast_precision_loss, reason = "53 bits of a number are exact")]

/// `SplitMix64` (Steele, Lea and Flood 2014, from memory).
#[derive(Clone, Debug)]
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        let mut random = Self(seed);
        random.next();
        random
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `most`; zero if `most` is zero.
    pub(crate) fn below(&mut self, most: usize) -> usize {
        let most = u64::try_from(most).unwrap().max(1);
        usize::try_from(self.next() % most).unwrap()
    }

    /// A number from `from` to `to`, both included.
    pub(crate) fn between(&mut self, from: i64, to: i64) -> i64 {
        from + i64::try_from(self.below(usize::try_from(to - from + 1).unwrap())).unwrap()
    }

    /// True in one of `n` cases.
    pub(crate) fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    pub(crate) fn pick<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }

    /// Fewer than `most` bytes.
    pub(crate) fn bytes(&mut self, most: usize) -> Vec<u8> {
        (0..self.below(most)).map(|_| self.next().to_le_bytes()[0]).collect()
    }

    /// A number from -`most` to `most`, evenly distributed.
    pub(crate) fn within(&mut self, most: f64) -> f64 {
        let unit = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        (2.0 * unit - 1.0) * most
    }

    /// A number of a normal distribution around zero: the sum of twelve even ones, each
    /// with a variance of 1/12.
    pub(crate) fn normal(&mut self, deviation: f64) -> f64 {
        (0..12).map(|_| self.within(0.5)).sum::<f64>() * deviation
    }
}
