//! Statistics on plain slices of numbers: no study, no units, no findings.
//!
//! Every routine is a pure function. Data that cannot carry an answer (too few values, all values
//! equal, no degrees of freedom) give `None`; no routine returns NaN or an infinity.

pub mod ancova;
pub mod anova;
mod arrangements;
pub mod blocked_ranks;
pub mod blocks;
pub mod colour;
pub mod components;
pub mod distributions;
pub mod dunnett;
pub mod fieller;
pub mod fit;
pub mod games_howell;
pub mod grubbs;
pub mod holm;
pub mod false_words;
pub mod hsu;
pub mod map;
pub mod max_t;
pub mod permutation;
pub mod random;
pub mod rank_chances;
pub mod ranks;
pub mod ratios;
pub mod solved;
pub mod studentized_range;
pub mod summary;
mod tabled;
pub mod time_to;
pub mod trend;
pub mod tukey;
pub mod welch;

mod error_function;
mod quadrature;
mod roots;
mod scale;
mod two_factor;

/// A group in a comparison of means: its mean and the number of sections (or readings) behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroupMean {
    /// Mean of the group, in the unit of the measure.
    pub mean: f64,
    /// Number of independent values behind the mean.
    pub n: usize,
}

/// The difference between two of several groups, with its share of the family's error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// Place of the first group in the given order.
    pub one: usize,
    /// Place of the second group, behind the first.
    pub other: usize,
    /// Mean of the first minus mean of the second, in the unit of the measure.
    pub difference: f64,
    /// Lower end of the simultaneous interval.
    pub low: f64,
    /// Upper end of the simultaneous interval.
    pub high: f64,
    /// Two-sided p value, adjusted for all pairs.
    pub p: f64,
}

/// Every pair of places below `count`, in the order (0, 1), (0, 2), ..., (1, 2), ...
fn pairs_of(count: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..count).flat_map(move |one| (one + 1..count).map(move |other| (one, other)))
}

/// The spread of single values that all compared groups are taken to share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Standard deviation of one value, in the unit of the measure.
    pub sd: f64,
    /// Degrees of freedom behind `sd`; infinity where the spread is known.
    pub df: f64,
}

impl Spread {
    /// Standard error of the difference between the means of two groups.
    pub fn of_difference(self, one: GroupMean, other: GroupMean) -> f64 {
        self.sd * (1.0 / one.n as f64 + 1.0 / other.n as f64).sqrt()
    }

    /// The 95 % interval of the standard deviation itself, lower end first, by the chi-square distribution (Snedecor and
    /// Cochran 1989, Statistical Methods, section 5.11); `None` where the spread is 0 or its degrees of freedom are none
    /// or without end.
    pub fn interval(self) -> Option<(f64, f64)> {
        let end =
            |tail: f64| Some(self.sd * (self.df / distributions::chi_square_quantile(tail, self.df)?).sqrt());
        let both = end(0.025).zip(end(0.975)).filter(|_| self.is_usable());
        both.filter(|(low, high)| low.is_finite() && high.is_finite())
    }

    /// Whether a test can stand on this spread: above zero, and on at least one degree of freedom.
    fn is_usable(self) -> bool {
        self.sd.is_finite() && self.sd > 0.0 && self.df >= 1.0
    }
}

#[cfg(test)]
mod tests {
    use super::Spread;

    /// Percent points of chi-square, 0.025 and 0.975: 20.483 and 3.247 on 10 degrees of freedom, 7.378 and 0.050 636 on 2
    /// (Abramowitz and Stegun 1964, table 26.8; scipy 1.17.1 `chi2.isf` gives 20.483 177, 3.246 973, 7.377 759, 0.050 636).
    #[test]
    fn the_interval_of_a_spread_is_that_of_the_chi_square_table() {
        for (df, upper, lower) in [(10.0, 20.483_177, 3.246_973), (2.0, 7.377_759, 0.050_635_6)] {
            let (low, high) = Spread { sd: 0.5, df }.interval().unwrap();
            assert!((low - 0.5 * (df / upper).sqrt()).abs() < 1e-6, "{low}");
            assert!((high - 0.5 * (df / lower).sqrt()).abs() < 2e-5 * high, "{high}");
        }
        assert_eq!(Spread { sd: 0.0, df: 4.0 }.interval(), None);
        assert_eq!(Spread { sd: 1.0, df: 0.0 }.interval(), None);
        assert_eq!(Spread { sd: 1.0, df: f64::INFINITY }.interval(), None);
    }
}
