//! What intervals rest on: the spread between sections treated alike, and what may be said with it.

use super::groups;
use super::model::{Basis, Interval, OddSpread, ScatterOf, Strength, WithinPieces};
use super::over_sites;
use super::pieces::{linked, spread_within};
use super::sample::Sample;
use crate::stats::{Spread, anova, distributions};
use crate::study::Treatment;

/// Below this many degrees of freedom there are intervals and no words.
pub(super) const DEGREES_FOR_WORDS: f64 = 3.0;

/// Degrees of freedom from which on a spread may be held against another.
const FEWEST_FOR_ODD: f64 = 2.0;

/// How many times one must be the other, and at which level chance is ruled out.
const TIMES: f64 = 3.0;
const LEVEL_FOR_ODD: f64 = 0.01;

/// The basis for samples of changes; `level` is the largest mean that the changes were made from.
///
/// Treatments with a single section add nothing to the spread, so that products with one section
/// each are judged by the scatter of the bare ones, on sum(n - 1) degrees of freedom. Nor do those of which sections were stopped.
pub(super) fn basis(all: &[Sample], level: f64) -> Basis {
    let (samples, stopped): (Vec<Sample>, Vec<Sample>) = all.iter().cloned().partition(Sample::is_whole);
    let samples = samples.as_slice();
    let from: Vec<Treatment> =
        samples.iter().filter(|sample| sample.values.len() > 1).map(|sample| sample.treatment).collect();
    let within = spread_within(samples);
    // With fewer degrees of freedom there would be no word, which sections that are pooled may still carry.
    let linked = linked(samples).map(|found| found.spread).filter(|spread| spread.df >= DEGREES_FOR_WORDS);
    let linked = linked.filter(|_| within.is_none());
    let spread = within.or(linked).or_else(|| groups::spread(samples));
    let strength = match strength(spread, level) {
        Strength::SectionsOnly if !stopped.is_empty() => Strength::FewLeft,
        strength => strength,
    };
    let product = |treatment: &Treatment| matches!(treatment, Treatment::Product(_));
    Basis {
        spread,
        spread_interval: spread.and_then(Spread::interval).map(|(low, high)| Interval { low, high }),
        taken_from_uncoated: linked.is_none() && !from.iter().any(product),
        from,
        stopped: stopped.iter().map(|sample| sample.treatment).collect(),
        stopped_spread: groups::spread_of_stopped(&stopped),
        strength,
        own_spreads: false,
        flat: Vec::new(),
        over_sites: over_sites::spread(
            &samples.iter().filter(|sample| !sample.values.is_empty()).collect::<Vec<_>>(),
        )
        .is_some(),
        scatter_of: ScatterOf::All,
        odd: if within.is_none() && linked.is_none() { odd(samples, level) } else { None },
        within: match (within, linked) {
            (Some(_), _) => WithinPieces::Even,
            (None, Some(_)) => WithinPieces::Linked,
            (None, None) => WithinPieces::No,
        },
    }
}

/// The treatment whose scatter lies farthest from that of all others, by the F test of two variances, where that is beyond chance with
/// every treatment looked at (Bonferroni), and one is three times the other or more (Snedecor and Cochran 1989, Statistical Methods,
/// 8th edition, chapter 6). It is told and changes no comparison.
fn odd(samples: &[Sample], level: f64) -> Option<OddSpread> {
    let of = |sample: &Sample| groups::spread(std::slice::from_ref(sample));
    let several = samples.iter().filter(|sample| of(sample).is_some()).count() as f64;
    let one = |sample: &Sample| {
        let own = of(sample).filter(|own| own.df >= FEWEST_FOR_ODD)?;
        let rest: Vec<&[f64]> = samples
            .iter()
            .filter(|other| other.treatment != sample.treatment)
            .map(|other| other.values.as_slice())
            .collect();
        let others = anova::pooled_spread(&rest).filter(|others| others.df >= FEWEST_FOR_ODD)?;
        let (more, less) = if own.sd > others.sd { (own, others) } else { (others, own) };
        // What is but the rounding of the arithmetic is no spread.
        let far = less.sd > groups::ROUNDING * level && more.sd >= TIMES * less.sd;
        let p = distributions::f_tail((more.sd / less.sd).powi(2), more.df, less.df).filter(|_| far)?;
        (2.0 * several * p < LEVEL_FOR_ODD)
            .then_some((p, OddSpread { treatment: sample.treatment, own, others }))
    };
    samples.iter().filter_map(one).min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, odd)| odd)
}

fn strength(spread: Option<Spread>, level: f64) -> Strength {
    match spread {
        None => Strength::SectionsOnly,
        Some(spread) if spread.sd <= groups::ROUNDING * level => Strength::NoScatter,
        Some(spread) if spread.df < DEGREES_FOR_WORDS => Strength::FewDegrees,
        Some(_) => Strength::Full,
    }
}

/// The spread and the strength by which one difference is judged.
pub(super) type Judged = (Option<Spread>, Strength);

impl Basis {
    /// What judges the difference between two means, each of so many sections and perhaps with some that were stopped.
    ///
    /// A mean that was read scatters as what was read, one with values of the stop as these, each by its own sections; their difference has
    /// the error and the degrees of freedom of both (Welch 1938, Biometrika 29, 350-362; Satterthwaite 1946, Biometrics Bulletin 2, 110-114).
    /// Its one end that is known is wrong in less than 5 % of studies, and its p value far out may be too small, so that none is taken. Of two
    /// that were stopped nothing is known.
    pub(super) fn judged(&self, (n, stopped): (usize, bool), (m, other): (usize, bool)) -> Judged {
        let (read, last) = match (stopped, other) {
            (false, false) => return (self.spread, self.strength),
            (true, true) => return (None, Strength::Bound),
            (false, true) => (n as f64, m as f64),
            (true, false) => (m as f64, n as f64),
        };
        let both = self.spread.zip(self.stopped_spread);
        let Some((own, other)) = both.filter(|_| self.strength != Strength::NoScatter) else {
            let why = if self.stopped_spread.is_none() { Strength::Bound } else { self.strength };
            return (None, why);
        };
        let (own_square, other_square) = (own.sd.powi(2) / read, other.sd.powi(2) / last);
        let square = own_square + other_square;
        let df = square.powi(2) / (own_square.powi(2) / own.df + other_square.powi(2) / other.df);
        let strength = if df < DEGREES_FOR_WORDS { Strength::FewDegrees } else { self.strength };
        (Some(Spread { sd: (square / (1.0 / read + 1.0 / last)).sqrt(), df }), strength)
    }

    /// The same for products among themselves, on a spread that what bare does otherwise on one piece than on another is not in.
    pub(super) fn among_products(self, spread: Spread, level: f64) -> Self {
        Self {
            spread: Some(spread),
            spread_interval: spread.interval().map(|(low, high)| Interval { low, high }),
            strength: strength(Some(spread), level),
            scatter_of: ScatterOf::Products,
            ..self
        }
    }
}
