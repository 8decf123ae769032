//! A measure over time: every section is reduced to a rate and a level held, and treatments to the means of these.

use super::alone::Alone;
use super::by_model;
use super::context::Context;
use super::frame::Frame;
use super::groups;
use super::model::{
    DecayOver, GroupOverTime, GroupValue, Interval, NoTrend, OverTime, Pace, RoundState, SectionOverTime,
    SectionSeries, Trend,
};
use super::on_coat::Run;
use super::over_sites;
use super::pieces;
use super::sample::{Counted, Sample};
use crate::stats::fit::decay::{Decay, NoDecay, to_floor};
use crate::stats::fit::linear::regress;
use crate::stats::trend::{area, line, mann_kendall, theil_sen};
use crate::stats::{distributions, holm, summary};
use crate::study::{Making, MeasureKind, RoundId, Treatment};

/// Fewer rounds make a difference and no run over time.
const FEWEST_ROUNDS: usize = 3;

const CONFIDENCE: f64 = 0.95;

/// Fewer degrees of freedom carry an interval and no word.
const LEAST_DEGREES: f64 = 3.0;

/// The measure from its first round on the coat to the last one read.
///
/// Levels count and not changes: all changes of a section share the error of its one reference.
///
/// # Errors
/// Why nothing is said.
pub(super) fn over_time(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
) -> Result<OverTime, NoTrend> {
    match context.study.measure(frame.measure).kind {
        MeasureKind::Part(_) => return Err(NoTrend::Part),
        MeasureKind::Rating(_) => return Err(NoTrend::Rating),
        MeasureKind::Read | MeasureKind::Made(_) => {}
    }
    let fixed = fixed(context, frame);
    let first = frame.first_on_coat(context.study);
    let places: Vec<usize> = (first..frame.rounds.len())
        .filter(|&at| frame.rounds[at].1 == RoundState::Read && Some(at) != fixed.round)
        .collect();
    let places = with_levels(series, &places);
    if places.len() < FEWEST_ROUNDS {
        return Err(NoTrend::FewRounds);
    }
    let pace = pace(context, frame, &places);
    let own = series.iter().filter(|section| Some(section.treatment) != fixed.treatment);
    let runs: Option<Vec<Run>> =
        own.map(|section| Run::of(context, frame, section, (&places, pace))).collect();
    let runs = runs.ok_or(NoTrend::Undated)?;
    let common: Vec<usize> = (0..places.len())
        .filter(|&at| runs.iter().filter(|run| run.whole).all(|run| run.at(at).is_some()))
        .collect();
    let sections: Vec<SectionOverTime> = runs.iter().map(|run| reduced(run, &common)).collect();
    let mut treatments = groups::treatments(context.study, frame.measure);
    treatments.retain(|&treatment| Some(treatment) != fixed.treatment);
    let named = |at: &usize| frame.rounds[places[*at]].0;
    let rounds: Vec<RoundId> = (0..places.len()).map(|at| named(&at)).collect();
    let differ = context.study.spreads_differ;
    let (mut groups, rate_alone, held_alone) =
        of_treatments((&treatments, differ), &sections, &runs, &common);
    let agrees = by_model::add(&mut groups, &runs, &rounds, (rate_alone.over_sites, differ));
    Ok(OverTime {
        pace,
        fixed: fixed.treatment,
        fixed_at: fixed.round.map(|at| frame.rounds[at].0),
        rounds,
        common: common.iter().map(named).collect(),
        farthest_apart: farthest_apart(&sections),
        sections,
        rate_spread: rate_alone.shared,
        held_spread: held_alone.shared,
        over_sites: (rate_alone.over_sites, held_alone.over_sites),
        groups,
        agrees,
    })
}

/// Those of the rounds at which some section has a level, and the last: where all lay below the gauge there is nothing to lay a line through.
fn with_levels(series: &[SectionSeries], places: &[usize]) -> Vec<usize> {
    let any = |&at: &usize| series.iter().any(|section| section.at[at].numbers.level.is_ok());
    places.iter().copied().filter(|at| Some(at) == places.last() || any(at)).collect()
}

/// What a measure gives by definition and no reading decides: it has no rate, and would be taken for one that never changes.
struct Fixed {
    treatment: Option<Treatment>,
    round: Option<usize>,
}

/// The blank against its own mean, and a change of colour from the round that it is counted from, which no scatter can take below 0.
fn fixed(context: &Context<'_>, frame: &Frame) -> Fixed {
    match &context.study.measure(frame.measure).kind {
        MeasureKind::Made(made) => Fixed {
            treatment: made.against_blank.then_some(Treatment::Bare),
            round: frame.reference.filter(|_| made.making == Making::ColourChange),
        },
        _ => Fixed { treatment: None, round: None },
    }
}

/// Cycles wear a patch, and days do not: where all but the first of the rounds are cycles, they are what is counted.
fn pace(context: &Context<'_>, frame: &Frame, places: &[usize]) -> Pace {
    let cycle = |&at: &usize| context.study.cycle_of(frame.rounds[at].0).is_some();
    if places.iter().skip(1).all(cycle) { Pace::Cycle } else { Pace::Month }
}

fn farthest_apart(sections: &[SectionOverTime]) -> Option<f64> {
    sections.iter().filter_map(|one| Some((one.rate? - one.robust?).abs())).reduce(f64::max)
}

/// A section by its line, its robust partner and its area; no number where it lacks the last round.
fn reduced(run: &Run, common: &[usize]) -> SectionOverTime {
    let (times, levels) = run.all();
    let long = run.whole && times.len() >= FEWEST_ROUNDS;
    let (shared, held) = run.common(common);
    SectionOverTime {
        section: run.section,
        treatment: run.treatment,
        piece: run.piece,
        rounds: times.len(),
        readings: run.readings,
        rate: long.then(|| line::fit(&times, &levels)).flatten().map(|line| line.slope),
        robust: long
            .then(|| theil_sen::slope(&times, &levels, CONFIDENCE))
            .flatten()
            .map(|found| found.slope),
        held: run.whole.then(|| area::trapezoid(&shared, &held)).flatten().map(|area| area.mean_level()),
    }
}

type Reduced = (Vec<GroupOverTime>, Alone, Alone);

fn of_treatments(
    (treatments, differ): (&[Treatment], bool),
    sections: &[SectionOverTime],
    runs: &[Run],
    common: &[usize],
) -> Reduced {
    let samples = |pick: fn(&SectionOverTime) -> Option<f64>| -> Vec<Sample> {
        let of = |treatment| sections.iter().filter(move |one| one.treatment == treatment);
        let own = |one: &SectionOverTime| Some((one.piece, Counted::here(pick(one)?, one.readings)));
        treatments
            .iter()
            .map(|&treatment| pieces::sample(treatment, of(treatment).filter_map(own), summary::mean))
            .collect()
    };
    let (rates, robust, held) = (samples(|one| one.rate), samples(|one| one.robust), samples(|one| one.held));
    let [of_rates, of_robust, of_held] = [&rates, &robust, &held].map(|samples| Alone::of(samples, differ));
    let mut groups: Vec<GroupOverTime> = treatments
        .iter()
        .enumerate()
        .map(|(at, &treatment)| {
            let own = || runs.iter().filter(|run| run.treatment == treatment);
            let whole: Vec<&Run> = own().filter(|run| run.whole).collect();
            let (times, means) = mean_run(&whole, common, of_held.over_sites);
            let rate = of_rates.value(&rates[at]);
            GroupOverTime {
                treatment,
                readings: own().filter(|run| run.whole).map(|run| run.readings).sum(),
                rate,
                by_model: None,
                robust: of_robust.value(&robust[at]),
                held: of_held.value(&held[at]),
                lacking: own().filter(|run| !run.whole).map(|run| run.section).collect(),
                trend: rate.and_then(|rate| trend(rate, &rates[at], of_rates)),
                tau: tau(&times, &means, &whole),
                // Those that went on stand for no floor of those that were stopped, and one section for none of a product.
                decay: decay((&times, &means), (treatment, of_held), &whole, common).and_then(|found| {
                    if whole.len() < 2 || own().any(|run| run.stopped) {
                        return Err(NoDecay::Unsettled);
                    }
                    Ok(found)
                }),
            }
        })
        .collect();
    adjust(&mut groups);
    (groups, of_rates, of_held)
}

/// Mean time and mean level of whole runs at the common rounds, each site counting alike where they are averages over sites.
fn mean_run(runs: &[&Run], common: &[usize], over_sites: bool) -> (Vec<f64>, Vec<f64>) {
    let at = |&place: &usize| {
        let (times, levels): (Vec<f64>, Vec<f64>) = runs.iter().filter_map(|run| run.at(place)).unzip();
        if over_sites {
            let sites: Vec<usize> =
                runs.iter().filter(|run| run.at(place).is_some()).filter_map(|run| run.site()).collect();
            return Some((over_sites::mean(&times, &sites)?, over_sites::mean(&levels, &sites)?));
        }
        Some((summary::mean(&times)?, summary::mean(&levels)?))
    };
    common.iter().filter_map(at).unzip()
}

/// Tau of a mean run. Means that differ by the rounding of their sums are equal, and of equal ones there is none.
fn tau(times: &[f64], means: &[f64], runs: &[&Run]) -> Option<f64> {
    let levels = runs.iter().flat_map(|run| &run.points).map(|(_, _, level)| level.abs());
    let rounding = groups::ROUNDING * levels.fold(0.0, f64::max);
    let mut steps: Vec<f64> = means.to_vec();
    steps.sort_by(f64::total_cmp);
    steps.dedup_by(|next, kept| *next - *kept <= rounding);
    let step = |mean: &f64| steps.iter().rev().find(|step| *step <= mean).copied().unwrap_or(*mean);
    let values: Vec<f64> = means.iter().map(step).collect();
    mann_kendall::test(times, &values).map(|found| found.tau)
}

/// Sections are what treatments are drawn from, so that a trend rests on how far their rates lie apart: a test over the rounds of
/// their mean would take the rounds for its unit, and call a trend what a few sections happened to do.
fn trend(rate: GroupValue, sample: &Sample, alone: Alone) -> Option<Trend> {
    let spread = alone.spread(sample)?;
    rate.interval.filter(|_| spread.df >= LEAST_DEGREES)?;
    let t = rate.mean.abs() / (spread.sd * alone.variance(sample).sqrt());
    let p = (2.0 * distributions::t_tail(t, spread.df)?).min(1.0);
    Some(Trend { p, p_holm: p })
}

/// Holm (1979), Scandinavian Journal of Statistics 6, 65-70, over the treatments of the measure.
fn adjust(groups: &mut [GroupOverTime]) {
    let found: Vec<f64> = groups.iter().filter_map(|group| group.trend).map(|trend| trend.p).collect();
    let adjusted = holm::adjusted(&found).unwrap_or_default();
    let trends = groups.iter_mut().filter_map(|group| group.trend.as_mut());
    trends.zip(adjusted).for_each(|(trend, p)| trend.p_holm = p);
}

fn decay(
    (times, means): (&[f64], &[f64]),
    (treatment, alone): (Treatment, Alone),
    runs: &[&Run],
    common: &[usize],
) -> Result<DecayOver, NoDecay> {
    let start = times.first().copied().unwrap_or(0.0);
    let since: Vec<f64> = times.iter().map(|time| time - start).collect();
    let found = to_floor(&since, means, CONFIDENCE)?;
    let t =
        distributions::t_quantile(f64::midpoint(1.0, CONFIDENCE), found.df()).ok_or(NoDecay::NoScatter)?;
    let [floor, _, rate] = found.parameters();
    let half_life = |rate: f64| std::f64::consts::LN_2 / rate;
    // Where less than half of the way was read, the floor is a guess however well the curve fits.
    if half_life(rate.value - t * rate.error) > since.last().copied().unwrap_or(0.0) {
        return Err(NoDecay::Unsettled);
    }
    let of_sections = |place: usize, value: f64| {
        let moved = runs.iter().filter_map(|run| {
            let value = value + moves(&found, &since, means, &run.common(common).1)?[place];
            Some((run.piece, Counted::here(value, run.readings)))
        });
        let sample = pieces::sample(treatment, moved, summary::mean);
        alone.each_its_own().value(&sample)?.interval
    };
    let rates = of_sections(2, rate.value).filter(|rates| rates.low > 0.0);
    Ok(DecayOver {
        half_life: half_life(rate.value),
        half_life_interval: rates
            .map(|rates| Interval { low: half_life(rates.high), high: half_life(rates.low) }),
        floor: floor.value,
        floor_interval: of_sections(0, floor.value),
    })
}

/// By how much floor, drop and rate would differ, to the first order, had all sections run as one of them did
/// (JCGM 100:2008, 5.1.2): least squares on the slopes of the curve, which sections too uneven for a curve of their own have as well.
fn moves(curve: &Decay, since: &[f64], means: &[f64], levels: &[f64]) -> Option<Vec<f64>> {
    let left: Vec<f64> = since.iter().map(|time| (-curve.rate * time).exp()).collect();
    let faster = since.iter().zip(&left).map(|(time, left)| -curve.drop * time * left).collect();
    let off: Vec<f64> = levels.iter().zip(means).map(|(level, mean)| level - mean).collect();
    Some(regress(&[vec![1.0; since.len()], left, faster], &off)?.coefficients)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::SectionId;

    fn run(level: f64) -> Run {
        Run {
            section: SectionId::new(0),
            treatment: Treatment::Bare,
            piece: None,
            points: vec![(0, 0.0, level)],
            readings: 1,
            whole: true,
            stopped: false,
            below: false,
        }
    }

    /// Sections of 30 and -30 have a mean of zero, which sums as a few of the last bits.
    #[test]
    fn the_rounding_of_a_mean_neither_rises_nor_falls() {
        let (one, times) = (run(30.0), [0.0, 1.0, 2.0]);
        assert_eq!(tau(&times, &[-3.7e-15, 3.7e-15, 0.0], &[&one]), None);
        // Two equal and one below: two pairs fall, one is tied: -2 / sqrt(3 x 2).
        let fell = tau(&times, &[30.0, 30.0 + 4e-15, 29.0], &[&one]).unwrap();
        assert!((fell + 2.0 / 6.0_f64.sqrt()).abs() < 1e-12, "{fell}");
        assert_eq!(tau(&times, &[29.0, 29.5, 30.0], &[&one]), Some(1.0));
    }
}
