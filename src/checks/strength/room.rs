//! What the layout can tell apart, in spreads of a section mean, and what the gauge alone adds to that spread.

use crate::stats::distributions::t_quantile;
use crate::stats::max_t::{MaxT, Sides};
use crate::study::{Agreement, Gauge, Measure, MeasureId, Study, Treatment};
use crate::units::AnyQuantity;

/// Numbers of sections of the layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Room {
    /// Sections of each product and of the carrier, in order of the file.
    pub(super) compared: Vec<usize>,
    /// Bare sections.
    pub(super) bare: usize,
    /// Degrees of freedom of the spread among sections treated alike: sum of (sections - 1).
    pub(super) df: usize,
}

impl Room {
    /// The numbers of a study; `None` where the map is missing, was not understood, or names nothing to compare.
    pub(super) fn of(study: &Study) -> Option<Self> {
        let unknown = study.sections_of(Treatment::Unknown).next().is_some();
        if study.map_broken || unknown || study.sections.is_empty() {
            return None;
        }
        let number = |treatment| study.sections_of(treatment).count();
        let products = study.products_with_ids().map(|(id, _)| number(Treatment::Product(id)));
        let compared = products.chain([number(Treatment::CarrierOnly)]).filter(|&n| n > 0);
        let compared: Vec<usize> = compared.collect();
        let bare = number(Treatment::Bare);
        let groups = compared.iter().copied().chain([bare, number(Treatment::Untouched)]);
        let df = groups.map(|n| n.saturating_sub(1)).sum();
        (!compared.is_empty()).then_some(Self { compared, bare, df })
    }

    /// The same layout with more bare sections.
    pub(super) fn with_bare(&self, more: usize) -> Self {
        let gained = if self.bare == 0 { more.saturating_sub(1) } else { more };
        Self { compared: self.compared.clone(), bare: self.bare + more, df: self.df + gained }
    }

    /// The smallest difference to bare that is told apart with 80 % power for the product with the
    /// fewest sections, in spreads of a section mean: (c + t) sqrt(1/n + 1/m).
    ///
    /// c is Dunnett's two-sided critical value at a simultaneous 5 %, t the 80 % quantile of
    /// Student's t with the same degrees of freedom. This takes the noncentral t distribution for a
    /// shifted t, which is common practice in planning. `None` without bare sections or degrees of
    /// freedom. Dunnett (1955), Journal of the American Statistical Association 50, 1096-1121.
    pub(super) fn smallest(&self) -> Option<f64> {
        let fewest = *self.compared.iter().min()?;
        let df = self.df as f64;
        let critical = MaxT::new(&self.compared, self.bare, Sides::Two)?.critical_value(0.05, df)?;
        let power = t_quantile(0.80, df)?;
        Some((critical + power) * (1.0 / fewest as f64 + 1.0 / self.bare as f64).sqrt())
    }
}

/// One standard deviation of a gauge's repeated readings in the unit of a measure; `None` where it was not declared.
pub(in crate::checks) fn gauge_spread(gauge: &Gauge, measure: &Measure) -> Option<f64> {
    in_unit(gauge, measure, Agreement::spread)
}

/// The limit for two readings of a gauge at 95 % in the unit of a measure.
pub(in crate::checks) fn gauge_limit(gauge: &Gauge, measure: &Measure) -> Option<f64> {
    in_unit(gauge, measure, Agreement::limit)
}

fn in_unit(gauge: &Gauge, measure: &Measure, which: impl Fn(Agreement) -> AnyQuantity) -> Option<f64> {
    let agreement = gauge.agreement.as_ref().filter(|_| !gauge.broken && !measure.broken)?;
    let value = which(agreement.value).in_unit(measure.unit.known?)?;
    (value > 0.0).then_some(value)
}

/// The fewest readings that a section gets of a measure in any round that reads it.
pub(super) fn fewest_readings(study: &Study, measure: MeasureId) -> Option<u32> {
    let planned = study.rounds_with_ids().map(|(round, _)| study.planned_readings(round, measure));
    planned.filter(|&n| n > 0).min()
}

/// A number with two digits that count, for words such as "about 6.8 section spreads".
pub(in crate::checks) fn two_digits(value: f64) -> String {
    if value.abs() >= 10.0 || value == 0.0 {
        return format!("{value:.0}");
    }
    let mut places = 1;
    let mut scaled = value.abs();
    while scaled < 1.0 && places < 9 {
        scaled *= 10.0;
        places += 1;
    }
    format!("{value:.places$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn singles(products: usize, bare: usize) -> Room {
        Room { compared: vec![1; products], bare, df: bare.saturating_sub(1) }
    }

    #[test]
    fn the_smallest_difference_agrees_with_simulated_studies() {
        // Simulated power of Dunnett's procedure for 28 products on single sections, 80 % power:
        // 52, 9.5 and 6.8 spreads with 2, 4 and 6 bare sections, given to two digits.
        for (bare, simulated) in [(2, 52.0), (4, 9.5), (6, 6.8)] {
            let smallest = singles(28, bare).smallest().unwrap();
            let off = (smallest - simulated).abs() / simulated;
            assert!(off < 0.03, "{bare} bare: {smallest} and not {simulated}");
        }
    }

    #[test]
    fn one_product_reduces_to_students_t() {
        // t(0.975, 10) = 2.228 and t(0.80, 10) = 0.879 of printed tables; two groups of six.
        let room = Room { compared: vec![6], bare: 6, df: 10 };
        let by_hand = (2.228 + 0.879) / 3.0_f64.sqrt();
        assert!((room.smallest().unwrap() - by_hand).abs() < 2e-3);
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

    #[test]
    fn two_digits_count() {
        let texts = [52.3, 6.84, 0.197, 0.0021].map(two_digits);
        assert_eq!(texts, ["52", "6.8", "0.20", "0.0021"]);
    }
}
