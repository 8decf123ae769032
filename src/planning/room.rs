//! What a layout can tell apart, in spreads of the number that a section gives.

use super::power::{power, shift};
use crate::stats::distributions::t_quantile;
use crate::stats::max_t::{MaxT, Sides};
use crate::stats::studentized_range::StudentizedRange;
use crate::study::{Study, Treatment, Unit};

/// Numbers of sections of the layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Room {
    /// Sections of each product and of the carrier, in order of the file.
    pub compared: Vec<usize>,
    /// Bare sections.
    pub bare: usize,
    /// Degrees of freedom of the spread among sections treated alike: sum of (sections - 1).
    pub df: usize,
}

impl Room {
    /// The numbers of a study; `None` where the map is missing, was not understood, or names nothing to compare.
    pub fn of(study: &Study) -> Option<Self> {
        let unknown = study.sections_of(Treatment::Unknown).next().is_some();
        if study.map_broken || unknown || study.sections.is_empty() {
            return None;
        }
        let number = |treatment| study.units_of(treatment);
        let products = study.products_with_ids().map(|(id, _)| number(Treatment::Product(id)));
        let compared = products.chain([number(Treatment::CarrierOnly)]).filter(|&n| n > 0);
        let compared: Vec<usize> = compared.collect();
        let bare = number(Treatment::Bare);
        let groups = compared.iter().copied().chain([bare, number(Treatment::Untouched)]);
        let df: usize = groups.map(|n| n.saturating_sub(1)).sum();
        // Within pieces one degree goes to each piece but the first.
        let df = match study.unit_on_panel() {
            Unit::Within(grouping) => (df + 1).saturating_sub(grouping.pieces().len()),
            Unit::Section | Unit::Piece(_) => df,
        };
        (!compared.is_empty()).then_some(Self { compared, bare, df })
    }

    /// A layout of so many products on as many sections each, with so many bare sections.
    pub fn even(products: usize, sections: usize, bare: usize) -> Self {
        let df = products * sections.saturating_sub(1) + bare.saturating_sub(1);
        Self { compared: vec![sections; products], bare, df }
    }

    /// The same layout with one more section for everything that is compared.
    #[must_use]
    pub fn with_section(&self) -> Self {
        let compared: Vec<usize> = self.compared.iter().map(|n| n + 1).collect();
        Self { df: self.df + compared.len(), compared, bare: self.bare }
    }

    /// The same layout with more bare sections.
    #[must_use]
    pub fn with_bare(&self, more: usize) -> Self {
        let gained = if self.bare == 0 { more.saturating_sub(1) } else { more };
        Self { compared: self.compared.clone(), bare: self.bare + more, df: self.df + gained }
    }

    /// The smallest difference to bare that is told apart with 80 % power for the product with the
    /// fewest sections, in spreads of a section mean.
    ///
    /// The test is Dunnett's, two-sided at a simultaneous 5 %, as in the report. `None` without bare
    /// sections or degrees of freedom. Dunnett (1955), Journal of the American Statistical
    /// Association 50, 1096-1121; power by the noncentral t distribution.
    pub fn smallest(&self) -> Option<f64> {
        let fewest = *self.compared.iter().min()?;
        let df = self.df as f64;
        let critical = MaxT::new(&self.compared, self.bare, Sides::Two)?.critical_value(0.05, df)?;
        let shift = shift(critical, df)?;
        Some(shift * (1.0 / fewest as f64 + 1.0 / self.bare as f64).sqrt())
    }

    /// The smallest difference between two products that is told apart with 80 % power, for the two products with the
    /// fewest sections, in spreads of a section's number.
    ///
    /// The test is that of all pairs, two-sided at a simultaneous 5 % (Tukey-Kramer), as in the report. `None` with
    /// fewer than two products or without degrees of freedom.
    pub fn smallest_between(&self) -> Option<f64> {
        let mut fewest = self.compared.clone();
        fewest.sort_unstable();
        let &[one, other, ..] = fewest.as_slice() else { return None };
        let df = self.df as f64;
        let critical = StudentizedRange::new(self.compared.len())?.critical_value(0.05, df)?;
        let shift = shift(critical / std::f64::consts::SQRT_2, df)?;
        Some(shift * (1.0 / one as f64 + 1.0 / other as f64).sqrt())
    }

    /// True where a difference of so many spreads is told apart even by a stricter test than the report's.
    ///
    /// Bonferroni's critical value is never below Dunnett's and costs a hundredth of it, so most layouts
    /// are settled here; the number that a finding prints is always the exact one.
    pub fn surely_tells_apart(&self, spreads: f64) -> bool {
        let power = || {
            let (fewest, df) = (*self.compared.iter().min()?, self.df as f64);
            let critical = t_quantile(1.0 - 0.025 / self.compared.len() as f64, df)?;
            power(spreads / (1.0 / fewest as f64 + 1.0 / self.bare as f64).sqrt(), critical, df)
        };
        self.bare > 0 && self.df > 0 && power().is_some_and(|power| power >= 0.80)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn singles(products: usize, bare: usize) -> Room {
        Room { compared: vec![1; products], bare, df: bare.saturating_sub(1) }
    }

    #[test]
    fn what_is_surely_told_apart_is_never_below_the_smallest_difference() {
        for (products, bare) in [(3, 2), (12, 4), (28, 6), (40, 3)] {
            let room = singles(products, bare);
            let smallest = room.smallest().unwrap();
            assert!(!room.surely_tells_apart(smallest * 0.999), "{products} products, {bare} bare");
            assert!(room.surely_tells_apart(smallest * 10.0), "{products} products, {bare} bare");
        }
        assert!(!singles(3, 0).surely_tells_apart(1e9));
    }

    #[test]
    fn the_smallest_difference_agrees_with_simulated_studies() {
        // Two million simulated studies of 28 products on single sections, critical value and power
        // both counted, gave 54.19, 9.594 and 6.801 spreads with 2, 4 and 6 bare sections.
        for (bare, simulated) in [(2, 54.19), (4, 9.594), (6, 6.801)] {
            let smallest = singles(28, bare).smallest().unwrap();
            let off = (smallest - simulated).abs() / simulated;
            assert!(off < 0.005, "{bare} bare: {smallest} and not {simulated}");
        }
    }

    #[test]
    fn four_of_five_simulated_studies_tell_the_smallest_difference_apart() {
        const STUDIES: u32 = 20_000;
        let (room, mut chance) = (singles(28, 4), Chance(88_172_645_463_325_252));
        let critical = MaxT::new(&room.compared, 4, Sides::Two).unwrap().critical_value(0.05, 3.0).unwrap();
        let smallest = room.smallest().unwrap();
        let mut found = 0;
        for _ in 0..STUDIES {
            let bare: Vec<f64> = (0..4).map(|_| chance.normal()).collect();
            let mean = bare.iter().sum::<f64>() / 4.0;
            let squares: f64 = bare.iter().map(|x| (x - mean).powi(2)).sum();
            let half = critical * (squares / 3.0 * 1.25).sqrt();
            found += u32::from((chance.normal() + smallest - mean).abs() > half);
        }
        // Four standard errors of a share of 0.80 in 20 000 studies.
        let share = f64::from(found) / f64::from(STUDIES);
        assert!((share - 0.80).abs() < 4.0 * (0.16 / f64::from(STUDIES)).sqrt(), "{share}");
    }

    /// Marsaglia's xorshift of 64 bits, seeded, with the form of Box and Muller.
    struct Chance(u64);

    impl Chance {
        fn uniform(&mut self) -> f64 {
            self.0 ^= self.0 << 13;
            self.0 ^= self.0 >> 7;
            self.0 ^= self.0 << 17;
            ((self.0 >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
        }

        fn normal(&mut self) -> f64 {
            (-2.0 * self.uniform().ln()).sqrt() * (TAU * self.uniform()).cos()
        }
    }

    #[test]
    fn one_product_agrees_with_printed_power_of_two_groups() {
        // Smallest differences of two equal groups in spreads, two-sided 5 %, power 80 %, by the noncentral t.
        for (n, printed) in [(3, 3.071), (4, 2.381), (6, 1.796), (10, 1.325), (20, 0.909)] {
            let room = Room { compared: vec![n], bare: n, df: 2 * n - 2 };
            let smallest = room.smallest().unwrap();
            assert!((smallest - printed).abs() < 2e-3, "{n}: {smallest} and not {printed}");
        }
    }

    #[test]
    fn more_bare_sections_always_help() {
        for bare in 2..8 {
            let room = singles(12, bare);
            assert!(room.with_bare(2).smallest().unwrap() < room.smallest().unwrap());
        }
        assert_eq!(singles(12, 1).smallest(), None);
        assert_eq!(singles(12, 0).with_bare(2).df, 1);
    }
}
