//! How often the tables of one comparison say something false, each and together, though nothing differs.

use super::hsu::critical_values;
use super::max_t::Sides;
use super::random::{Draws, Generator};
use super::solved::Solved;
use super::studentized_range::StudentizedRange;

/// Numbers of values of a study in which no two treatments differ.
#[derive(Clone, Copy, Debug)]
pub struct Alike<'a> {
    /// Of each product; these compete, and every pair of them is compared.
    pub products: &'a [usize],
    /// Of every other treatment that is held against bare.
    pub others: &'a [usize],
    /// Of bare; `None` without it.
    pub bare: Option<usize>,
}

/// Shares of such studies, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FalseWords {
    /// Some product is left out of those that may lead (Hsu).
    pub left_out: f64,
    /// Some treatment is told apart from bare (Dunnett); `None` without bare.
    pub to_bare: Option<f64>,
    /// Some two products are told apart (Tukey and Kramer), a benchmark and another among them.
    pub pairs: f64,
    /// Any of these.
    pub any: f64,
}

/// Draws studies whose spread has `df` degrees of freedom and counts what their simultaneous intervals at `confidence`, a fraction,
/// say.
///
/// `None` below two products, below 2 degrees of freedom, from which no spread can be drawn, and as in [`super::hsu::with_best`].
pub fn though_alike(
    alike: &Alike<'_>,
    df: f64,
    confidence: f64,
    draws: Draws,
    solved: &mut Solved,
) -> Option<FalseWords> {
    let (products, alpha) = (alike.products.len(), 1.0 - confidence);
    if products < 2 || draws.count == 0 {
        return None;
    }
    let ns: Vec<usize> = [alike.products, alike.others].concat();
    let apart = |i: usize, j: usize| (1.0 / ns[i] as f64 + 1.0 / ns[j] as f64).sqrt();
    let leads = critical_values(alike.products, alpha, df, solved)?;
    let range = StudentizedRange::of(products)?.critical_value(alpha, df)? / std::f64::consts::SQRT_2;
    let to_bare = match alike.bare {
        Some(bare) => Some((bare, solved.family(&ns, bare, Sides::Two, alpha, df)?.critical)),
        None => None,
    };
    let of_pairs = |of: &dyn Fn(usize, usize) -> f64| -> Vec<Vec<f64>> {
        (0..products).map(|i| (0..products).map(|j| of(i, j)).collect()).collect()
    };
    let (ahead, off) = (of_pairs(&|i, j| leads[i] * apart(i, j)), of_pairs(&|i, j| range * apart(i, j)));
    let mut random = Generator::new(draws.seed);
    let mut counts = [0_u32; 4];
    let mut means = vec![0.0; ns.len()];
    for _ in 0..draws.count {
        let scale = (random.chi_square(df)? / df).sqrt();
        for (mean, &n) in means.iter_mut().zip(&ns) {
            *mean = random.normal() / (n as f64).sqrt() / scale;
        }
        let pairs = || (0..products).flat_map(|i| (0..products).map(move |j| (i, j))).filter(|(i, j)| i != j);
        let left_out = pairs().any(|(i, j)| means[j] - means[i] >= ahead[i][j]);
        let told = pairs().any(|(i, j)| means[j] - means[i] >= off[i][j]);
        let from_bare = to_bare.is_some_and(|(n, critical)| {
            let bare = random.normal() / (n as f64).sqrt() / scale;
            let off = |&n_own: &usize| critical * (1.0 / n_own as f64 + 1.0 / n as f64).sqrt();
            means.iter().zip(&ns).any(|(mean, own)| (mean - bare).abs() >= off(own))
        });
        let found = [left_out, from_bare, told, left_out || from_bare || told];
        counts.iter_mut().zip(found).for_each(|(count, found)| *count += u32::from(found));
    }
    let [left_out, from_bare, pairs, any] = counts.map(|count| f64::from(count) / f64::from(draws.count));
    Some(FalseWords { left_out, to_bare: to_bare.map(|_| from_bare), pairs, any })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRAWS: Draws = Draws { count: 20_000, seed: 6 };

    fn with(products: &[usize], bare: Option<usize>, df: f64) -> Option<FalseWords> {
        though_alike(&Alike { products, others: &[], bare }, df, 0.95, DRAWS, &mut Solved::default())
    }

    /// With two groups alike, one is left out where a two-sided t statistic exceeds the one-sided critical value, and told apart where
    /// it exceeds the two-sided one.
    #[test]
    fn one_of_two_alike_is_left_out_in_ten_of_a_hundred_studies() {
        let found = with(&[3, 5], None, 6.0).unwrap();
        // Four standard errors of a tenth, and of a twentieth, in 20,000 draws.
        assert!((found.left_out - 0.10).abs() < 4.0 * 0.002_12, "{found:?}");
        assert!((found.pairs - 0.05).abs() < 4.0 * 0.001_54, "{found:?}");
        assert_eq!((found.to_bare, found.any), (None, found.left_out));
        assert_eq!(with(&[3, 5], None, 6.0), Some(found));
        assert_eq!((with(&[3], None, 6.0), with(&[3, 3], None, 1.0)), (None, None));
    }

    /// Every table keeps its 5 %; together they say something false more often than any, and no more often than their sum.
    #[test]
    fn each_table_holds_by_itself_and_all_together_do_not() {
        let found = with(&[4; 5], Some(4), 18.0).unwrap();
        let bare = found.to_bare.unwrap();
        assert!(
            (bare - 0.05).abs() < 4.0 * 0.001_54 && (found.pairs - 0.05).abs() < 4.0 * 0.001_54,
            "{found:?}"
        );
        let most = found.left_out.max(bare);
        assert!(found.any > most + 0.01 && found.any <= found.left_out + bare + found.pairs, "{found:?}");
    }
}
