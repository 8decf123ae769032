//! From sections to treatments: one number for each section, gathered by what the section carries, at one round.

use super::model::{Compared, GroupValue, Interval, Known, Missing, SectionAt, SectionSeries};
use super::pieces;
use super::sample::{Counted, Sample};
use crate::stats::{Spread, anova, distributions, summary};
use crate::study::{MeasureId, Study, Treatment};

/// A spread below this share of the level is the rounding of the arithmetic, not a scatter.
pub(super) const ROUNDING: f64 = 1e-12;

/// The number that is gathered.
pub(super) type Pick = fn(&SectionAt) -> Known<f64>;

/// The section mean.
pub(super) fn level(at: &SectionAt) -> Known<f64> {
    at.numbers.level.map(|mean| mean.mean)
}

/// The change from the reference.
pub(super) fn change(at: &SectionAt) -> Known<f64> {
    at.numbers.change.map(|change| change.value)
}

/// The number that comparisons are made of.
pub(super) fn compared(by: Compared) -> Pick {
    match by {
        Compared::Change => change,
        Compared::Level => level,
    }
}

/// The number that comparisons are made of, with all left-out readings put back.
pub(super) fn with_left_out(by: Compared) -> Pick {
    match by {
        Compared::Change => |at| at.with_left_out.unwrap_or(at.numbers).change.map(|change| change.value),
        Compared::Level => |at| at.with_left_out.unwrap_or(at.numbers).level.map(|mean| mean.mean),
    }
}

/// The mean as percent of the reference.
pub(super) fn retention(at: &SectionAt) -> Known<f64> {
    at.numbers.retention.map(|retention| retention.value)
}

/// The treatments that have sections: products in order of the study, then bare, carrier-only, untouched.
pub(super) fn treatments(study: &Study, measure: MeasureId) -> Vec<Treatment> {
    let carried = |treatment| study.places_of(measure).any(|(_, place)| place.treatment == treatment);
    let products = study.products_with_ids().map(|(id, _)| Treatment::Product(id));
    let others = [Treatment::Bare, Treatment::CarrierOnly, Treatment::Untouched];
    products.chain(others).filter(|&treatment| carried(treatment)).collect()
}

/// The samples of a number at one round, one for each treatment, empty where no unit has it.
pub(super) fn samples(
    treatments: &[Treatment],
    series: &[SectionSeries],
    place: usize,
    pick: Pick,
) -> Vec<Sample> {
    samples_by(treatments, series, (place, pick), summary::mean)
}

/// The same with another middle than the mean for pieces that are units.
pub(super) fn samples_by(
    treatments: &[Treatment],
    series: &[SectionSeries],
    (place, pick): (usize, Pick),
    middle: fn(&[f64]) -> Option<f64>,
) -> Vec<Sample> {
    let of = |treatment| series.iter().filter(move |section| section.treatment == treatment);
    let own = |section: &SectionSeries| Some((section.piece, counted(section, place, pick)?));
    let sample = |&treatment| pieces::sample(treatment, of(treatment).filter_map(own), middle);
    treatments.iter().map(sample).collect()
}

/// The number of a section at a round and the readings behind it; that of a patch that was stopped is the one at which it was stopped.
///
/// Going on would have made it as bad or worse. Left out, the patches that last would stand for those that did not.
pub(super) fn counted(section: &SectionSeries, place: usize, pick: Pick) -> Option<Counted> {
    let at = section.at.get(place)?;
    let own = |at: &SectionAt| Some(Counted::here(pick(at).ok()?, at.n));
    match at.numbers.level {
        Err(Missing::Stopped) => {
            let last = section.at[..=place].iter().rev().find_map(own)?;
            Some(Counted { carried: true, ..last })
        }
        _ => own(at),
    }
}

/// The spread of a number between sections with the same treatment, pooled over all treatments.
///
/// `None` where no treatment has two sections with it. One of which sections were stopped adds nothing: values of the stop are not of this
/// round, and the sections that outlasted them are the best of theirs, which scatter less than all would.
pub(super) fn spread(samples: &[Sample]) -> Option<Spread> {
    pooled(samples.iter().filter(|sample| sample.is_whole()))
}

/// How those scatter of which sections were stopped, each section with its last value.
pub(super) fn spread_of_stopped(samples: &[Sample]) -> Option<Spread> {
    pooled(samples.iter().filter(|sample| !sample.is_whole()))
}

fn pooled<'s>(samples: impl Iterator<Item = &'s Sample>) -> Option<Spread> {
    anova::pooled_spread(&samples.map(|sample| sample.values.as_slice()).collect::<Vec<_>>())
}

/// The spread that the interval of one mean rests on: that which all treatments share, or the treatment's own where they differ.
///
/// `None` for a single unit where they differ.
pub(super) fn spread_of(sample: &Sample, shared: Option<Spread>, differ: bool) -> Option<Spread> {
    if differ { spread(std::slice::from_ref(sample)) } else { shared }
}

/// Whether several sections of a treatment do not differ at all, against a level that they were made from.
pub(super) fn is_without_scatter(sample: &Sample, level: f64) -> bool {
    summary::sd(&sample.values).is_some_and(|sd| sd <= ROUNDING * level)
}

/// Mean of a sample with its 95 % t interval on that spread; `None` where it is empty.
///
/// A spread that is but the rounding of the arithmetic gives no interval; nor does a mean of sections of which some were stopped,
/// since it is but a bound for the mean at the round, however little the numbers of the stop scatter.
pub(super) fn value(sample: &Sample, spread: Option<Spread>) -> Option<GroupValue> {
    let n = sample.values.len();
    let mean = summary::mean(&sample.values)?;
    let spread = spread.filter(|spread| sample.carried == 0 && spread.sd > ROUNDING * mean.abs());
    let half = spread.and_then(|spread| {
        Some(distributions::t_quantile(0.975, spread.df)? * spread.sd / (n as f64).sqrt())
    });
    Some(GroupValue {
        n,
        readings: sample.readings,
        carried: sample.carried,
        mean,
        median: summary::median(&sample.values)?,
        sd: summary::sd(&sample.values),
        min: sample.values.iter().copied().fold(mean, f64::min),
        max: sample.values.iter().copied().fold(mean, f64::max),
        interval: half.map(|half| Interval { low: mean - half, high: mean + half }),
    })
}
