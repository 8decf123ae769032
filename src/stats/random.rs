//! A small seeded generator for the property tests of this module.

use std::f64::consts::TAU;

/// `SplitMix64` (Steele, Lea and Flood 2014).
pub(super) struct Random(u64);

impl Random {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// Uniform on (0, 1].
    fn uniform(&mut self) -> f64 {
        ((self.next() >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    /// Standard normal, by the method of Box and Muller (1958).
    pub(super) fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (TAU * self.uniform()).cos()
    }

    pub(super) fn shuffle(&mut self, values: &mut [f64]) {
        for last in (1..values.len()).rev() {
            let place = self.uniform() * (last + 1) as f64;
            let other = (0..last).take_while(|&index| ((index + 1) as f64) < place).count();
            values.swap(last, other);
        }
    }
}
