//! What a layout can tell apart, in spreads of the number that a section gives.

use super::own;
use super::power::{power, shift};
use crate::stats::distributions::t_quantile;
use crate::stats::max_t::{MaxT, Sides};
use crate::stats::studentized_range::StudentizedRange;
use crate::study::{MeasureId, Study, Treatment, Unit};

/// Numbers of sections of the layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Room {
    /// Sections of each product that has any, in order of the file.
    pub products: Vec<usize>,
    /// Sections of the carrier and of what is left untouched, where there are any: they are held against bare as well.
    pub others: Vec<usize>,
    /// Bare sections.
    pub bare: usize,
    /// Degrees of freedom of the spread among sections treated alike: sum of (sections - 1), less those that go to pieces.
    pub df: usize,
    /// Degrees of freedom that go to pieces within which products are compared: one to each but the first.
    pub to_pieces: usize,
    /// Sites at each of which every treatment has a mean of its own, where differences are averages over them; else 1.
    pub sites: usize,
    /// Whether the study says that spreads differ between treatments, which pieces that carry every treatment leave aside.
    pub differ: bool,
}

/// Sections that every compared group needs before each may have a spread of its own, as in the report.
const FOR_OWN_SPREADS: usize = 4;

impl Room {
    /// The numbers of the panel; `None` where the map is missing, was not understood, or names nothing to compare.
    pub fn on_panel(study: &Study) -> Option<Self> {
        Self::counted(study, study.unit_on_panel(), |treatment| study.units_of(treatment))
    }

    /// The numbers of the places that a measure is read on: of the panel, or of the patches and specimens that it names, so
    /// that a product which is not read there is not counted. `None` as for the panel.
    pub fn of(study: &Study, measure: MeasureId) -> Option<Self> {
        if study.measure(measure).home.is_none() {
            return Self::on_panel(study);
        }
        let places =
            |treatment| study.places_of(measure).filter(|(_, place)| place.treatment == treatment).count();
        Self::counted(study, study.unit(measure), places)
    }

    fn counted(study: &Study, unit: Unit<'_>, number: impl Fn(Treatment) -> usize) -> Option<Self> {
        let unknown = study.sections.iter().any(|section| !section.treatment.is_settled());
        if study.map_broken || unknown || study.sections.is_empty() {
            return None;
        }
        let some = |treatment| Some(number(treatment)).filter(|&n| n > 0);
        let products: Vec<usize> =
            study.products_with_ids().filter_map(|(id, _)| some(Treatment::Product(id))).collect();
        let others: Vec<usize> =
            [Treatment::CarrierOnly, Treatment::Untouched].into_iter().filter_map(some).collect();
        let bare = number(Treatment::Bare);
        let df: usize = products.iter().chain(&others).chain([&bare]).map(|n| n.saturating_sub(1)).sum();
        let sites =
            study.by_site.as_ref().filter(|_| study.averages_over_sites()).map(|sites| sites.pieces().len());
        let sites = sites.filter(|_| !matches!(unit, Unit::Section | Unit::Piece(_))).unwrap_or(1);
        let to_pieces = match unit {
            // Pieces stand at one site each where every treatment has a mean of its own at each site.
            Unit::Within(grouping) | Unit::Linked(grouping) => {
                // Pieces that stand at several sites leave what sites add, which is taken out beside them.
                let crossed = study.by_site.as_ref().filter(|_| study.pieces_cross_sites());
                let crossed = crossed.map_or(0, |sites| sites.pieces().len().saturating_sub(1));
                grouping.pieces().len().saturating_sub(sites) + crossed
            }
            Unit::Section | Unit::Piece(_) => 0,
        };
        let treatments = products.len() + others.len() + usize::from(bare > 0);
        let df = df.saturating_sub(to_pieces + treatments * (sites - 1));
        let differ = study.spreads_differ && !matches!(unit, Unit::Within(_) | Unit::Linked(_));
        (!products.is_empty() || !others.is_empty()).then_some(Self {
            products,
            others,
            bare,
            df,
            to_pieces,
            sites,
            differ,
        })
    }

    /// A layout of so many products on as many sections each, with so many bare sections.
    pub fn even(products: usize, sections: usize, bare: usize) -> Self {
        let df = products * sections.saturating_sub(1) + bare.saturating_sub(1);
        Self {
            products: vec![sections; products],
            others: Vec::new(),
            bare,
            df,
            to_pieces: 0,
            sites: 1,
            differ: false,
        }
    }

    /// The same layout on as many pieces as another has.
    #[must_use]
    pub fn on_pieces_of(self, other: &Self) -> Self {
        let treatments = self.compared().len() + usize::from(self.bare > 0);
        let own = other.to_pieces + treatments * (other.sites - 1);
        Self { df: self.df.saturating_sub(own), to_pieces: other.to_pieces, sites: other.sites, ..self }
    }

    /// The same layout in a study that says whether spreads differ.
    #[must_use]
    pub fn where_spreads(self, differ: bool) -> Self {
        Self { differ, ..self }
    }

    /// Whether the report lets every treatment keep its own spread: the study says so, and all have sections enough.
    pub fn own_spreads(&self) -> bool {
        let bare = Some(self.bare).filter(|&bare| bare > 0);
        self.differ && self.compared().into_iter().chain(bare).all(|n| n >= FOR_OWN_SPREADS)
    }

    /// Sections of everything that is held against bare.
    pub fn compared(&self) -> Vec<usize> {
        self.products.iter().chain(&self.others).copied().collect()
    }

    /// The fewest sections of a product; of the others where there is none.
    pub fn fewest(&self) -> Option<usize> {
        self.products.iter().min().or(self.others.iter().min()).copied()
    }

    /// The same layout with one more section for everything that is compared.
    #[must_use]
    pub fn with_section(&self) -> Self {
        let more = |numbers: &[usize]| numbers.iter().map(|n| n + 1).collect::<Vec<_>>();
        let (products, others) = (more(&self.products), more(&self.others));
        Self { df: self.df + products.len() + others.len(), products, others, ..self.clone() }
    }

    /// The same layout with more bare sections.
    #[must_use]
    pub fn with_bare(&self, more: usize) -> Self {
        let gained = if self.bare == 0 { more.saturating_sub(1) } else { more };
        Self { bare: self.bare + more, df: self.df + gained, ..self.clone() }
    }

    /// The smallest difference to bare that is told apart with 80 % power for the product with the
    /// fewest sections, in spreads of a section mean.
    ///
    /// The test is Dunnett's, two-sided at a simultaneous 5 %, as in the report. `None` without bare
    /// sections or degrees of freedom. Dunnett (1955), Journal of the American Statistical
    /// Association 50, 1096-1121; power by the noncentral t distribution. Where spreads differ it is Games-Howell's, as there.
    pub fn smallest(&self) -> Option<f64> {
        self.smallest_for(self.fewest()?)
    }

    /// The same for a product with so many sections, in the same family of comparisons.
    pub fn smallest_for(&self, n: usize) -> Option<f64> {
        if self.own_spreads() {
            return own::smallest(self.compared().len() + 1, n, self.bare);
        }
        let df = self.df as f64;
        let critical = MaxT::new(&self.compared(), self.bare, Sides::Two)?.critical_value(0.05, df)?;
        let shift = shift(critical, df)?;
        Some(shift * (1.0 / n as f64 + 1.0 / self.bare as f64).sqrt())
    }

    /// The smallest difference between two products that is told apart with 80 % power, for the two products with the
    /// fewest sections, in spreads of a section's number.
    ///
    /// The test is that of all pairs, two-sided at a simultaneous 5 % (Tukey-Kramer, or Games-Howell where spreads differ), as in
    /// the report. `None` with fewer than two products or without degrees of freedom.
    pub fn smallest_between(&self) -> Option<f64> {
        let mut fewest = self.products.clone();
        fewest.sort_unstable();
        let &[one, other, ..] = fewest.as_slice() else { return None };
        self.smallest_of_two(one, other)
    }

    /// The same for two products with so many sections, among all pairs of the layout.
    pub fn smallest_of_two(&self, one: usize, other: usize) -> Option<f64> {
        if self.own_spreads() {
            return own::smallest(self.products.len(), one, other);
        }
        let df = self.df as f64;
        let critical = StudentizedRange::of(self.products.len())?.critical_value(0.05, df)?;
        let shift = shift(critical / std::f64::consts::SQRT_2, df)?;
        Some(shift * (1.0 / one as f64 + 1.0 / other as f64).sqrt())
    }

    /// True where a difference of so many spreads is told apart even by a stricter test than the report's.
    ///
    /// Bonferroni's critical value is never below Dunnett's and costs a hundredth of it, so most layouts
    /// are settled here; the number that a finding prints is always the exact one.
    pub fn surely_tells_apart(&self, spreads: f64) -> bool {
        let power = || {
            let (fewest, df) = (self.fewest()?, self.df as f64);
            let critical = t_quantile(1.0 - 0.025 / self.compared().len() as f64, df)?;
            power(spreads / (1.0 / fewest as f64 + 1.0 / self.bare as f64).sqrt(), critical, df)
        };
        !self.own_spreads() && self.bare > 0 && self.df > 0 && power().is_some_and(|power| power >= 0.80)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn singles(products: usize, bare: usize) -> Room {
        Room::even(products, 1, bare)
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
        let critical = MaxT::new(&room.compared(), 4, Sides::Two).unwrap().critical_value(0.05, 3.0).unwrap();
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
            let room = Room::even(1, n, n);
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
