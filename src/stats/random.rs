//! A seeded generator whose draws are the same on every platform.

/// How many draws are made, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    /// Number of draws.
    pub count: u32,
    /// Seed of the generator.
    pub seed: u64,
}

/// `xoshiro256++` of Blackman and Vigna (2021), ACM Transactions on Mathematical Software 47, 36,
/// its state filled from the seed by `SplitMix64` (Steele, Lea and Flood 2014).
///
/// Normal and chi-square draws use arithmetic, square roots and an own logarithm only, never the
/// platform's mathematics library: the same seed gives the same bits everywhere.
#[derive(Clone, Debug)]
pub struct Generator {
    state: [u64; 4],
    spare: Option<f64>,
}

impl Generator {
    /// The generator that belongs to `seed`.
    pub fn new(seed: u64) -> Self {
        let mut filler = seed;
        Self { state: std::array::from_fn(|_| split_mix(&mut filler)), spare: None }
    }

    /// Generators of one seed for work in parallel: each is 2^128 draws ahead of the one before.
    pub fn streams(seed: u64) -> impl Iterator<Item = Self> {
        std::iter::successors(Some(Self::new(seed)), |before| {
            let mut next = before.clone();
            next.jump();
            Some(next)
        })
    }

    /// 64 random bits.
    pub fn bits(&mut self) -> u64 {
        let s = &mut self.state;
        let result = s[0].wrapping_add(s[3]).rotate_left(23).wrapping_add(s[0]);
        let kept = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= kept;
        s[3] = s[3].rotate_left(45);
        result
    }

    /// 2^128 draws ahead, by the polynomial of the authors' reference code.
    fn jump(&mut self) {
        const JUMP: [u64; 4] =
            [0x180e_c6d3_3cfd_0aba, 0xd5a6_1266_f0c9_392c, 0xa958_2618_e03f_c9aa, 0x39ab_dc45_29b1_661c];
        let mut sum = [0; 4];
        for bit in JUMP.into_iter().flat_map(|word| (0..64).map(move |bit| word >> bit & 1)) {
            if bit == 1 {
                sum.iter_mut().zip(self.state).for_each(|(sum, word)| *sum ^= word);
            }
            self.bits();
        }
        *self = Self { state: sum, spare: None };
    }

    /// Uniform on (0, 1], in steps of 2^-53.
    pub fn uniform(&mut self) -> f64 {
        ((self.bits() >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number below `bound`, each with the same chance; 0 where `bound` is 0 or 1.
    ///
    /// Lemire (2019), ACM Transactions on Modeling and Computer Simulation 29, 3.
    pub fn below(&mut self, bound: usize) -> usize {
        let bound = bound as u64;
        let mut product = u128::from(self.bits()) * u128::from(bound);
        // Of the 2^64 draws the first 2^64 mod bound are thrown away, so that the rest divide evenly.
        let uneven = bound.wrapping_neg().checked_rem(bound).unwrap_or(0);
        while lower_half(product) < uneven {
            product = u128::from(self.bits()) * u128::from(bound);
        }
        usize::try_from(product >> 64).unwrap_or(0)
    }

    /// Puts `values` into a random order, each order with the same chance (Fisher and Yates; Knuth
    /// 1998, The Art of Computer Programming 2, 3.4.2, algorithm P).
    pub fn shuffle<T>(&mut self, values: &mut [T]) {
        for last in (1..values.len()).rev() {
            values.swap(last, self.below(last + 1));
        }
    }

    /// Standard normal, by the polar method (Marsaglia and Bray 1964, SIAM Review 6, 260-264).
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (x, y) = (2.0 * self.uniform() - 1.0, 2.0 * self.uniform() - 1.0);
            let square = x * x + y * y;
            if square > 0.0 && square < 1.0 {
                let scale = (-2.0 * ln(square) / square).sqrt();
                self.spare = Some(y * scale);
                return x * scale;
            }
        }
    }

    /// Chi-square with `df` degrees of freedom; `None` unless `df` is at least 2 and finite.
    ///
    /// Twice a gamma draw by the method of Marsaglia and Tsang (2000), ACM Transactions on
    /// Mathematical Software 26, 363-372.
    pub fn chi_square(&mut self, df: f64) -> Option<f64> {
        if !(df >= 2.0 && df.is_finite()) {
            return None;
        }
        let d = df / 2.0 - 1.0 / 3.0;
        let c = 1.0 / (9.0 * d).sqrt();
        loop {
            let x = self.normal();
            let root = 1.0 + c * x;
            let v = root * root * root;
            if v > 0.0 && ln(self.uniform()) < 0.5 * x * x + d * (1.0 - v + ln(v)) {
                return Some(2.0 * d * v);
            }
        }
    }
}

fn split_mix(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut bits = *state;
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}

fn lower_half(product: u128) -> u64 {
    u64::try_from(product & u128::from(u64::MAX)).unwrap_or(u64::MAX)
}

/// The natural logarithm of a positive normal number from arithmetic alone.
///
/// x = m 2^e with m near 1; ln m = 2 artanh((m - 1) / (m + 1)) by its series (Abramowitz and
/// Stegun 1964, 4.1.27).
fn ln(x: f64) -> f64 {
    let bits = x.to_bits();
    let fraction = f64::from_bits(bits & 0x000f_ffff_ffff_ffff | 0x3ff0_0000_0000_0000);
    let exponent = (bits >> 52) as f64 - 1023.0;
    let (m, e) = if fraction > std::f64::consts::SQRT_2 {
        (fraction / 2.0, exponent + 1.0)
    } else {
        (fraction, exponent)
    };
    let s = (m - 1.0) / (m + 1.0);
    let square = s * s;
    let series = (0..12).rev().fold(0.0, |sum, term| sum * square + 1.0 / f64::from(2 * term + 1));
    e * std::f64::consts::LN_2 + 2.0 * s * series
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Printed by the authors' reference code from the state 1, 2, 3, 4.
    #[test]
    fn the_first_draws_are_those_of_the_reference_code() {
        let mut generator = Generator { state: [1, 2, 3, 4], spare: None };
        let expected = [
            41_943_041,
            58_720_359,
            3_588_806_011_781_223,
            3_591_011_842_654_386,
            9_228_616_714_210_784_205,
            9_973_669_472_204_895_162,
            14_011_001_112_246_962_877,
            12_406_186_145_184_390_807,
            15_849_039_046_786_891_736,
            10_450_023_813_501_588_000,
        ];
        for value in expected {
            assert_eq!(generator.bits(), value);
        }
    }

    /// The first words of `SplitMix64` from the seed 0, as printed with its reference code.
    #[test]
    fn the_seed_fills_the_state() {
        let mut state = 0;
        assert_eq!(split_mix(&mut state), 0xe220_a839_7b1d_cdaf);
        assert_eq!(split_mix(&mut state), 0x6e78_9e6a_a1b9_65f4);
        assert_eq!(split_mix(&mut state), 0x06c4_5d18_8009_454f);
    }

    #[test]
    fn the_logarithm_is_the_logarithm() {
        for x in [1e-300, 1e-16, 0.3, 0.7, 0.999_999, 1.0, 1.5, 2.0, 1e5, 1e300] {
            let expected: f64 = f64::ln(x);
            assert!((ln(x) - expected).abs() <= 4e-16 * expected.abs().max(0.1), "ln {x}");
        }
    }

    /// The bits of a few draws, so that another platform would notice; a program in Python 3 gives the same.
    #[test]
    fn draws_are_the_same_bits_everywhere() {
        let mut generator = Generator::new(7);
        let draws = [generator.normal(), generator.normal(), generator.chi_square(5.0).unwrap()];
        assert_eq!(draws.map(f64::to_bits), DRAWS);
    }
    const DRAWS: [u64; 3] =
        [4_610_218_009_084_539_922, 13_826_591_734_396_992_468, 4_618_573_805_963_105_937];

    #[test]
    fn normal_and_chi_square_draws_have_their_moments() {
        let mut generator = Generator::new(1);
        let draws = 40_000;
        let (mut sum, mut squares, mut fourth) = (0.0, 0.0, 0.0);
        for _ in 0..draws {
            let z = generator.normal();
            (sum, squares, fourth) = (sum + z, squares + z * z, fourth + z.powi(4));
        }
        let n = f64::from(draws);
        // Four standard errors of each moment.
        assert!((sum / n).abs() < 4.0 / n.sqrt());
        assert!((squares / n - 1.0).abs() < 4.0 * (2.0 / n).sqrt());
        assert!((fourth / n - 3.0).abs() < 4.0 * (96.0 / n).sqrt());
        for df in [2.0, 3.5, 40.0] {
            let mean = (0..draws).map(|_| generator.chi_square(df).unwrap()).sum::<f64>() / n;
            assert!((mean - df).abs() < 4.0 * (2.0 * df / n).sqrt(), "df {df}: {mean}");
        }
    }

    #[test]
    fn whole_numbers_and_orders_have_equal_chances() {
        let mut generator = Generator::new(2);
        let mut counts = [[0_u32; 3]; 3];
        for _ in 0..9_000 {
            let mut values = [0, 1, 2];
            generator.shuffle(&mut values);
            values.iter().enumerate().for_each(|(place, &value)| counts[place][value] += 1);
        }
        // Four standard errors of a binomial count of 9,000 thirds.
        assert!(counts.iter().flatten().all(|&count| count.abs_diff(3_000) < 180), "{counts:?}");
        assert_eq!((generator.below(0), generator.below(1)), (0, 0));
    }

    #[test]
    fn streams_differ_and_come_again() {
        let first = |stream: usize| Generator::streams(9).nth(stream).unwrap().bits();
        assert_eq!(first(0), Generator::new(9).bits());
        assert_eq!(first(3), first(3));
        let all: std::collections::BTreeSet<u64> = (0..8).map(first).collect();
        assert_eq!(all.len(), 8);
    }

    #[test]
    fn chi_square_needs_two_degrees_of_freedom() {
        for df in [1.0, 1.99, f64::NAN, f64::INFINITY] {
            assert_eq!(Generator::new(1).chi_square(df), None);
        }
    }
}
