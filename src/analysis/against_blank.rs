//! Intervals of what is taken as a share of the blank: the blank is a mean of few places, and no surer than these are.

use super::groups;
use super::model::{GroupValue, Interval, SectionSeries};
use super::sample::Sample;
use crate::stats::dunnett::Comparison;
use crate::stats::fieller::{Uncertain, ratio};
use crate::stats::ratios::{Ratio, to_control};
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, Spread, distributions, summary};
use crate::study::{Making, Measure, MeasureKind, Treatment};

/// How the number of a section is made of its share of the blank: `one + each x (share - 1)`, which is `one` for the blank itself.
#[derive(Clone, Copy)]
pub(super) struct Shares {
    each: f64,
    one: f64,
    /// Whether every treatment keeps its own spread.
    differ: bool,
}

/// Upper tail of a two-sided 95 % interval.
const UPPER: f64 = 0.975;

impl Shares {
    /// `None` for a measure that is no share of the blank; a difference to the blank has no second uncertainty of its own kind.
    pub(super) fn of(measure: &Measure, differ: bool) -> Option<Self> {
        let MeasureKind::Made(made) = &measure.kind else { return None };
        let (each, one) = match made.making {
            Making::ShareStopped => (-100.0, 0.0),
            Making::PercentGained => (100.0, 0.0),
            Making::Ratio => (1.0, 1.0),
            Making::PercentOf => (100.0, 100.0),
            Making::Difference | Making::Gain | Making::ColourChange => return None,
        };
        made.is_share_of_blank().then_some(Self { each, one, differ })
    }

    /// Differences to the blank by the ratios to it, in the order of `groups`, each of which is a mean and the difference that its p value
    /// is of. `None` where no ratio is bounded.
    pub(super) fn compared(
        self,
        groups: &[(GroupMean, f64)],
        control: GroupMean,
        (spread, confidence): (Spread, f64),
        solved: &mut Solved,
    ) -> Option<Vec<Comparison>> {
        let share = |group: GroupMean| GroupMean { mean: self.share(group.mean), ..group };
        let shares: Vec<(GroupMean, f64)> =
            groups.iter().map(|&(group, from)| (share(group), 1.0 + from / self.each)).collect();
        let spread = Spread { sd: spread.sd / self.each.abs(), ..spread };
        let found = to_control(&shares, share(control), spread, confidence, solved)?;
        let comparison = |((group, _), found): (&(GroupMean, f64), &Ratio)| {
            let Interval { low, high } = self.interval((found.low, found.high));
            Comparison {
                difference: group.mean - control.mean,
                low: low - self.one,
                high: high - self.one,
                p: found.p,
                critical: found.critical,
            }
        };
        Some(groups.iter().zip(&found).map(comparison).collect())
    }

    fn share(self, value: f64) -> f64 {
        (value - self.one) / self.each + 1.0
    }

    fn interval(self, (low, high): (f64, f64)) -> Interval {
        let (a, b) = (self.one + self.each * (low - 1.0), self.one + self.each * (high - 1.0));
        Interval { low: a.min(b), high: a.max(b) }
    }

    fn spread(self, sample: &Sample, shared: Option<Spread>) -> Option<Spread> {
        let spread = groups::spread_of(sample, shared, self.differ)?;
        Some(Spread { sd: spread.sd / self.each.abs(), ..spread })
    }

    /// Puts the interval of a ratio, both of whose sides are uncertain, in the place of that of a mean, for every treatment. The blank
    /// itself stands at its own mean by definition and has none.
    pub(super) fn of_levels(self, values: &mut [Option<GroupValue>], samples: &[Sample]) {
        let shared = groups::spread(samples);
        let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare);
        for (value, sample) in values.iter_mut().zip(samples) {
            let Some(value) = value.as_mut().filter(|value| value.interval.is_some()) else { continue };
            let other = bare.filter(|_| sample.treatment != Treatment::Bare);
            value.interval = other.and_then(|bare| self.of_level(sample, bare, shared));
        }
    }

    fn of_level(self, sample: &Sample, bare: &Sample, shared: Option<Spread>) -> Option<Interval> {
        let uncertain = |sample: &Sample| {
            let (spread, mean) = (self.spread(sample, shared)?, summary::mean(&sample.values)?);
            let square = spread.sd.powi(2) / sample.values.len() as f64;
            Some((Uncertain { mean: self.share(mean), square }, spread.df))
        };
        let ((over, own_df), (under, bare_df)) = (uncertain(sample)?, uncertain(bare)?);
        let below = over.mean.powi(2) * under.square;
        let df = if self.differ { together((over.square, own_df), (below, bare_df)) } else { own_df };
        Some(self.interval(ratio(over, under, distributions::t_quantile(UPPER, df)?)?))
    }

    /// The same for changes from the reference: the blanks of both rounds move every section of a treatment together, by what the bare
    /// places lie off their mean, times the level held (first-order propagation, JCGM 100:2008, 5.1.2; degrees of freedom by G.4.1).
    pub(super) fn of_changes(
        self,
        values: &mut [Option<GroupValue>],
        samples: &[Sample],
        (sections, reference, place): (&[SectionSeries], Option<usize>, usize),
    ) {
        let shared = groups::spread(samples);
        for (value, sample) in values.iter_mut().zip(samples) {
            let Some(value) = value.as_mut().filter(|value| value.interval.is_some()) else { continue };
            let blank = reference
                .filter(|_| sample.treatment != Treatment::Bare)
                .and_then(|reference| self.blank(sample.treatment, sections, (reference, place)));
            value.interval = blank.zip(self.spread(sample, shared)).and_then(|(blank, spread)| {
                let own = (spread.sd.powi(2) / sample.values.len() as f64, spread.df);
                let t = distributions::t_quantile(UPPER, together(own, blank))?;
                let half = self.each.abs() * t * (own.0 + blank.0).sqrt();
                Some(Interval { low: value.mean - half, high: value.mean + half })
            });
        }
    }

    /// Square of the standard error that the blanks of two rounds give the mean change of a treatment, in shares, with its degrees of
    /// freedom; `None` with fewer than two bare places, or where pieces are the unit.
    fn blank(
        self,
        treatment: Treatment,
        sections: &[SectionSeries],
        (reference, place): (usize, usize),
    ) -> Option<(f64, f64)> {
        if sections.iter().any(|section| section.piece.is_some()) {
            return None;
        }
        let both = |treatment| -> (Vec<f64>, Vec<f64>) {
            let own = sections.iter().filter(|section| section.treatment == treatment);
            let share = |section: &SectionSeries, at: usize| {
                groups::level(&section.at[at]).ok().map(|level| self.share(level))
            };
            own.filter_map(|section| Some((share(section, place)?, share(section, reference)?))).unzip()
        };
        let (now, then) = both(treatment);
        let (now, then) = (summary::mean(&now)?, summary::mean(&then)?);
        let (bare_now, bare_then) = both(Treatment::Bare);
        let off: Vec<f64> = bare_now.iter().zip(&bare_then).map(|(a, b)| now * a - then * b).collect();
        let df = off.len().checked_sub(1).filter(|&df| df > 0)? as f64;
        Some((summary::sd(&off)?.powi(2) / off.len() as f64, df))
    }
}

/// Degrees of freedom of a sum of two squares of standard errors (Welch 1947, Satterthwaite 1946).
fn together(one: (f64, f64), other: (f64, f64)) -> f64 {
    let sum = one.0 + other.0;
    if sum <= 0.0 {
        return one.1;
    }
    let (a, b) = (one.0 / sum, other.0 / sum);
    1.0 / (a * a / one.1 + b * b / other.1)
}
