//! One-way analysis of variance and the spread pooled within groups.

use super::Spread;
use super::distributions::f_tail;
use super::summary::{mean, sorted_sum, sum_of_squares};

/// The table of a one-way analysis of variance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneWay {
    /// Degrees of freedom between groups: groups - 1.
    pub df_between: usize,
    /// Degrees of freedom within groups: values - groups.
    pub df_within: usize,
    /// Sum of squares between groups, in the squared unit.
    pub ss_between: f64,
    /// Sum of squares within groups, in the squared unit.
    pub ss_within: f64,
    /// Mean square between groups, in the squared unit.
    pub ms_between: f64,
    /// Mean square within groups, in the squared unit.
    pub ms_within: f64,
    /// Ratio of the mean squares.
    pub f: f64,
    /// P(F > f).
    pub p: f64,
    /// Share of the total sum of squares that lies between groups, 0 to 1.
    pub r_squared: f64,
}

/// One-way analysis of variance of `groups`, each a slice of values in one unit.
///
/// `None` below two groups, where a group is empty, where no group has two values, or where all
/// values within the groups are equal. Two passes, each group about its own mean (NIST/SEMATECH
/// e-Handbook of Statistical Methods, 7.4.3).
pub fn one_way<G: AsRef<[f64]>>(groups: &[G]) -> Option<OneWay> {
    let values: usize = groups.iter().map(|group| group.as_ref().len()).sum();
    let df_between = groups.len().checked_sub(1).filter(|&df| df > 0)?;
    let df_within = values.checked_sub(groups.len()).filter(|&df| df > 0)?;
    let within: Option<Vec<f64>> = groups.iter().map(|g| sum_of_squares(g.as_ref())).collect();
    let ss_within = sorted_sum(within?);
    let ss_between = sum_between(groups)?;
    let ms_between = ss_between / df_between as f64;
    let ms_within = ss_within / df_within as f64;
    let f = ms_between / ms_within;
    let p = f.is_finite().then(|| f_tail(f, df_between as f64, df_within as f64))??;
    let r_squared = ss_between / (ss_between + ss_within);
    Some(OneWay { df_between, df_within, ss_between, ss_within, ms_between, ms_within, f, p, r_squared })
}

fn sum_between<G: AsRef<[f64]>>(groups: &[G]) -> Option<f64> {
    let all: Vec<f64> = groups.iter().flat_map(|group| group.as_ref().iter().copied()).collect();
    let grand = mean(&all)?;
    let parts: Option<Vec<f64>> = groups
        .iter()
        .map(|group| Some(group.as_ref().len() as f64 * (mean(group.as_ref())? - grand).powi(2)))
        .collect();
    parts.map(sorted_sum)
}

/// Standard deviation pooled over the groups with at least two values, on sum(n - 1) degrees of
/// freedom; `None` where that sum is 0 or a value is not finite.
///
/// Groups with one value add nothing, so the spread among bare sections can serve products with a
/// single section each. This is the square root
/// of the mean square within groups (NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.3.3).
pub fn pooled_spread<G: AsRef<[f64]>>(groups: &[G]) -> Option<Spread> {
    let repeated = groups.iter().map(AsRef::as_ref).filter(|group| group.len() >= 2);
    let df: usize = repeated.clone().map(|group| group.len() - 1).sum();
    let squares: Option<Vec<f64>> = repeated.map(sum_of_squares).collect();
    let sum = sorted_sum(squares?);
    (df > 0).then(|| Spread { sd: (sum / df as f64).sqrt(), df: df as f64 })
}

#[cfg(test)]
mod tests {
    use super::super::random::Generator;
    use super::*;

    #[test]
    fn a_hand_worked_table() {
        let table = one_way(&[[1.0, 3.0], [4.0, 6.0], [7.0, 9.0]]).unwrap();
        assert_eq!((table.df_between, table.df_within), (2, 3));
        assert_eq!((table.ss_between, table.ss_within), (36.0, 6.0));
        assert_eq!((table.f, table.r_squared), (9.0, 36.0 / 42.0));
        // With two degrees of freedom between groups, p is (1 + 2 F / df)^(-df / 2).
        assert!((table.p - 7.0_f64.powf(-1.5)).abs() < 1e-13);
    }

    #[test]
    fn tables_that_cannot_be_made_are_none() {
        let none: [&[&[f64]]; 5] =
            [&[], &[&[1.0, 2.0]], &[&[1.0], &[2.0]], &[&[1.0, 1.0], &[2.0, 2.0]], &[&[], &[1.0, 2.0]]];
        for groups in none {
            assert_eq!(one_way(groups), None);
        }
    }

    #[test]
    fn groups_of_one_add_nothing_to_the_pooled_spread() {
        let repeated: [&[f64]; 2] = [&[1.0, 3.0], &[2.0, 4.0, 6.0]];
        let with_single: [&[f64]; 4] = [&[90.0], &[1.0, 3.0], &[], &[2.0, 4.0, 6.0]];
        let spread = pooled_spread(&repeated).unwrap();
        assert_eq!(spread, Spread { sd: (10.0_f64 / 3.0).sqrt(), df: 3.0 });
        assert_eq!(pooled_spread(&with_single), Some(spread));
        assert_eq!(pooled_spread(&[[1.0], [2.0]]), None);
        assert_eq!(pooled_spread::<[f64; 2]>(&[]), None);
    }

    #[test]
    fn order_of_rows_and_of_groups_changes_no_bit() {
        let mut random = Generator::new(4);
        let mut groups: Vec<Vec<f64>> = (3..8).map(|n| (0..n).map(|_| random.normal()).collect()).collect();
        let before = (one_way(&groups), pooled_spread(&groups));
        for _ in 0..20 {
            groups.rotate_left(1);
            for group in &mut groups {
                random.shuffle(group);
            }
            assert_eq!((one_way(&groups), pooled_spread(&groups)), before);
        }
    }
}
