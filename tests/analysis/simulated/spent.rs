//! Time to spent of coated and of bare sections: between two rounds, and as if spent at the round at which it was seen.

use super::{MONTHS, Tolerance, Whole, read, sound, whole};
use serde::Deserialize;
use tapeline::analysis::{Half, Moment, Spent};
use tapeline::stats::time_to::kaplan_meier::{Scale, curve, interval_of_time, mean_up_to, time_to_share};
use tapeline::stats::time_to::log_rank::{Weight, log_rank};
use tapeline::stats::time_to::turnbull::{Seen, estimate};
use tapeline::study::Treatment;

#[derive(Deserialize)]
struct Truth {
    #[serde(flatten)]
    tolerance: Tolerance,
    limit: Vec<Limit>,
}

#[derive(Deserialize)]
struct Limit {
    name: String,
    shares: Vec<[f64; 3]>,
    steps: Vec<[f64; 11]>,
    median: f64,
    quarter: f64,
    intervals_of_median: [[f64; 2]; 3],
    horizon: f64,
    mean: f64,
    observed: [usize; 2],
    expected: [f64; 2],
    pace: [f64; 2],
    pace_by_watched: [f64; 2],
}

/// All limits, each with the study in which every coated section carries the same.
fn truth() -> (Tolerance, Vec<(Limit, Whole)>) {
    let truth: Truth = read(include_str!("spent.toml"));
    assert_eq!(truth.limit.len(), 2);
    let limits = truth.limit.into_iter().map(|limit| {
        let study = whole(&coated(&limit.name), &sound());
        (limit, study)
    });
    (truth.tolerance, limits.collect())
}

fn coated(limit: &str) -> String {
    let one = ["product second\n", "product third\n", "product fourth\n"];
    let text = format!("{}{}", super::STUDY, super::LEFT_OUT).replace("below 60 GU", limit);
    let text = one.iter().fold(text, |text, product| text.replace(product, ""));
    let (head, map) = text.split_once("map ").unwrap();
    let map =
        ["second", "third", "fourth"].iter().fold(map.to_owned(), |map, name| map.replace(name, "first"));
    format!("{head}map {map}")
}

/// -1 stands for "not yet" and for "cannot be told".
fn known(value: f64) -> Option<f64> {
    (value >= 0.0).then_some(value)
}

/// What was seen of coated and of bare sections, in months.
fn seen(study: &Whole) -> [Vec<Seen>; 2] {
    let month = |moment: Moment| {
        let at = (0..MONTHS.len()).find(|&at| study.round(at) == moment.round).unwrap();
        MONTHS[at]
    };
    let of = |coated: bool| {
        let spent = study.measure("gloss").spent.as_ref().unwrap().iter();
        let own = spent.filter(|one| (one.treatment != Treatment::Bare) == coated);
        own.map(|one| match one.when.unwrap() {
            Spent::Between(after, upto) => Seen { after: month(after), upto: Some(month(upto)) },
            Spent::Before(upto) => Seen { after: 0.0, upto: Some(month(upto)) },
            Spent::AtLeast(last) => Seen { after: month(last), upto: None },
        })
        .collect()
    };
    [of(true), of(false)]
}

/// The same as if a section were spent at the round at which that was seen.
fn at_sight(seen: &[Seen]) -> Vec<(f64, bool)> {
    seen.iter().map(|one| (one.upto.unwrap_or(one.after), one.upto.is_some())).collect()
}

#[test]
fn shares_between_rounds_agree() {
    let (tolerance, limits) = truth();
    for (limit, study) in &limits {
        let [coated, bare] = seen(study);
        assert_eq!((coated.len(), bare.len()), (8, 2), "{}", limit.name);
        let found = estimate(&coated).unwrap();
        assert_eq!(found.stretches.len(), limit.shares.len(), "{}", limit.name);
        for (stretch, &[after, upto, share]) in found.stretches.iter().zip(&limit.shares) {
            assert_eq!((stretch.after, stretch.upto), (after, known(upto)), "{}", limit.name);
            tolerance.near(&limit.name, stretch.share, share);
        }
        // The report gives the stretch in which half were spent, in days after the coat.
        let groups = &study.measure("gloss").spent_together;
        let half = if limit.median < 9.0 { Half::Between(92, 184) } else { Half::Between(184, 275) };
        assert_eq!(groups.iter().map(|group| (group.sections, group.half)).collect::<Vec<_>>(), [(8, half)]);
    }
}

const SCALES: [Scale; 3] = [Scale::Plain, Scale::Log, Scale::LogLog];

#[test]
fn curves_and_their_pace_agree() {
    let (tolerance, limits) = truth();
    for (limit, study) in &limits {
        let (name, [coated, bare]) = (&limit.name, seen(study).map(|seen| at_sight(&seen)));
        let steps = curve(&coated).unwrap();
        assert_eq!(steps.len(), limit.steps.len(), "{name}");
        for (step, expected) in steps.iter().zip(&limit.steps) {
            let ends = SCALES.map(|scale| step.interval(scale, 0.95).unwrap());
            let first = [step.time, step.at_risk as f64, step.events as f64, step.left, step.error.unwrap()];
            let found = first.into_iter().chain(ends.into_iter().flat_map(|(low, high)| [low, high]));
            found.zip(expected).for_each(|(value, &expected)| tolerance.near(name, value, expected));
        }
        assert_eq!(time_to_share(&steps, 0.5), Some(limit.median), "{name}");
        assert_eq!(time_to_share(&steps, 0.75), Some(limit.quarter), "{name}");
        for (scale, [low, high]) in SCALES.into_iter().zip(limit.intervals_of_median) {
            let found = interval_of_time(&steps, 0.5, scale, 0.95);
            assert_eq!(found, (known(low), known(high)), "{name} {scale:?}");
        }
        tolerance.near(name, mean_up_to(&steps, limit.horizon), limit.mean);

        let of = |weight: Weight| log_rank([&coated, &bare], weight).unwrap();
        let (even, watched) = (of(Weight::Even), of(Weight::Watched));
        assert_eq!(even.observed, limit.observed, "{name}");
        tolerance.all(name, even.expected, limit.expected);
        tolerance.all(name, [even.chi_square, even.p], limit.pace);
        tolerance.all(name, [watched.chi_square, watched.p], limit.pace_by_watched);
    }
}
