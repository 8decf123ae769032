//! Rates, levels held, trends and floors of small studies, worked by hand, and where there is none.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{GroupOverTime, NoDecay, NoTrend, OverTime};
use tapeline::units::DAYS_IN_MONTH;

/// Days 0, 100, 200, 400 and 1000 after the first round on the coat.
const ROUNDS: [(&str, &str); 6] = [
    ("baseline", "2024-01-01"),
    ("fresh", "2024-01-10"),
    ("second", "2024-04-19"),
    ("third", "2024-07-28"),
    ("fourth", "2025-02-13"),
    ("fifth", "2026-10-06"),
];
const DAYS: [f64; 5] = [0.0, 100.0, 200.0, 400.0, 1000.0];
const SECTIONS: [(&str, &str); 4] = [("A1", "hop"), ("A2", "hop"), ("B1", "bare"), ("B2", "bare")];

/// Levels by section and round on the coat.
fn study(levels: [[f64; 5]; 4]) -> Bench {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    // Far off any line, so that a baseline that counted would be seen.
    bench.means("baseline", &[20.0, 30.0, 25.0, 10.0]);
    for (at, (round, _)) in ROUNDS.into_iter().skip(1).enumerate() {
        bench.means(round, &levels.map(|section| section[at]));
    }
    bench
}

fn line(start: f64, slope_a_day: f64) -> [f64; 5] {
    DAYS.map(|day| start + slope_a_day * day)
}

fn over(bench: &Bench) -> OverTime {
    bench.gloss().over_time.unwrap()
}

fn group(over: &OverTime, at: usize) -> &GroupOverTime {
    &over.groups[at]
}

#[test]
fn straight_lines_have_their_slope_their_middle_and_a_trend() {
    let over = over(&study([line(90.0, -0.010), line(88.0, -0.014), line(85.0, -0.030), line(86.0, -0.032)]));
    assert_eq!((over.rounds.len(), over.common.len()), (5, 5));
    let (hop, bare) = (group(&over, 0), group(&over, 1));
    let rate = hop.rate.unwrap();
    assert!(close(rate.mean, -0.012 * DAYS_IN_MONTH, 1e-9) && rate.n == 2);
    assert!(close(hop.robust.unwrap().mean, rate.mean, 1e-9));
    assert!(over.farthest_apart.unwrap() < 1e-9);
    // The middle of a line lies half way through its time.
    assert!(close(hop.held.unwrap().mean, 89.0 - 0.012 * 500.0, 1e-9));
    assert_eq!(hop.readings, 20);
    // Rates of -0.010 and -0.014, -0.030 and -0.032 a day: squares of 8e-6 and 2e-6 on one degree of freedom each.
    let sd = 5e-6_f64.sqrt() * DAYS_IN_MONTH;
    assert!(close(over.rate_spread.unwrap().sd, sd, 1e-9) && over.rate_spread.unwrap().df == 2.0);
    // t at 97.5 % on two degrees of freedom is 4.30265.
    assert!(close(rate.interval.unwrap().high - rate.mean, 4.302_652_730 * sd / 2.0_f64.sqrt(), 1e-8));
    // Both means fall all the way, and two degrees of freedom carry no word on the sections.
    assert_eq!((hop.tau, hop.trend, bare.tau, bare.trend), (Some(-1.0), None, Some(-1.0), None));
    assert!(hop.decay.is_err() && hop.lacking.is_empty());
}

#[test]
fn a_section_without_the_last_round_has_no_number_and_takes_none_from_others() {
    let mut bench = study([line(90.0, -0.010), line(88.0, -0.014), line(85.0, -0.030), line(86.0, -0.032)]);
    bench.rows.retain(|row| !row.contains("fifth,A2,") && !row.contains("third,B1,"));
    let over = over(&bench);
    let hop = group(&over, 0);
    assert_eq!(hop.lacking, [bench.section_id("A2")]);
    assert!(close(hop.rate.unwrap().mean, -0.010 * DAYS_IN_MONTH, 1e-9) && hop.rate.unwrap().n == 1);
    assert_eq!((over.sections[1].rate, over.sections[1].held), (None, None));
    // The third round is not common, since B1 lacks it; A2 lacks the last and does not count.
    let third = bench.round_id("third");
    assert!(!over.common.contains(&third) && over.common.len() == 4);
    assert!(close(over.sections[2].rate.unwrap(), -0.030 * DAYS_IN_MONTH, 1e-9));
}

#[test]
fn a_fall_to_a_floor_is_found_where_it_bends_and_not_where_it_does_not() {
    let bent = |floor: f64, noise: [f64; 5]| {
        let value = |(day, noise): (f64, f64)| floor + 30.0 * (-day / 250.0).exp() + noise;
        let mut values = [0.0; 5];
        DAYS.into_iter().zip(noise).enumerate().for_each(|(at, one)| values[at] = value(one));
        values
    };
    let (up, down) = ([0.1, -0.1, 0.05, -0.05, 0.0], [0.05, -0.02, -0.1, 0.04, 0.02]);
    let over = over(&study([bent(50.0, up), bent(51.0, down), line(85.0, -0.03), line(86.0, -0.03)]));
    let decay = group(&over, 0).decay.unwrap();
    // Half of the way takes 250 ln 2 days.
    let half_life = 250.0 * std::f64::consts::LN_2 / DAYS_IN_MONTH;
    assert!((decay.half_life / half_life - 1.0).abs() < 0.05, "{decay:?}");
    let (halves, floors) = (decay.half_life_interval.unwrap(), decay.floor_interval.unwrap());
    assert!(halves.low < half_life && half_life < halves.high, "{decay:?}");
    assert!(floors.low < 50.5 && 50.5 < floors.high, "{decay:?}");
    // The sections lie 1 apart: the interval of their mean on one degree of freedom reaches 12.7 x 0.5 to either side, whatever
    // the scatter of their means about one curve.
    assert!(((floors.high - floors.low) / 2.0 - 12.706 * 0.5).abs() < 2.0, "{decay:?}");
    assert!(matches!(
        group(&over, 1).decay,
        Err(NoDecay::Straight | NoDecay::NoScatter | NoDecay::Unsettled)
    ));
}

#[test]
fn order_of_rows_changes_no_bit_and_a_shift_moves_levels_only() {
    let levels = [
        [90.0, 88.0, 87.5, 85.0, 70.0],
        [91.0, 88.8, 88.1, 84.0, 71.5],
        line(85.0, -0.03),
        line(86.0, -0.032),
    ];
    let mut bench = study(levels);
    let before = over(&bench);
    bench.rows.reverse();
    assert_eq!(over(&bench), before);
    let shifted = over(&study(levels.map(|section| section.map(|level| level + 40.0))));
    for (one, other) in before.groups.iter().zip(&shifted.groups) {
        assert!(close(one.rate.unwrap().mean, other.rate.unwrap().mean, 1e-9));
        assert!(close(one.held.unwrap().mean + 40.0, other.held.unwrap().mean, 1e-9));
        assert_eq!(one.tau, other.tau);
    }
}

#[test]
fn equal_levels_have_a_rate_of_zero_and_no_trend() {
    let over = over(&study([[80.0; 5]; 4]));
    let hop = group(&over, 0);
    assert_eq!((hop.rate.unwrap().mean, hop.rate.unwrap().interval, hop.trend), (0.0, None, None));
    assert_eq!(hop.decay, Err(NoDecay::NoScatter));
}

#[test]
fn two_rounds_and_rounds_without_days_say_why_not() {
    let bench = Bench::new(&SECTIONS, &ROUNDS);
    assert_eq!(bench.gloss().over_time, Err(NoTrend::FewRounds));
    let mut two = Bench::new(&SECTIONS, &ROUNDS);
    two.means("fresh", &[90.0, 91.0, 85.0, 84.0]);
    two.means("fifth", &[80.0, 81.0, 65.0, 64.0]);
    assert_eq!(two.gloss().over_time, Err(NoTrend::FewRounds));
}

/// Student's t beyond `t` on both sides for 4 degrees of freedom, in closed form (Abramowitz and Stegun 1964, 26.7.4).
fn beyond_on_four(t: f64) -> f64 {
    let cosine = 1.0 / (1.0 + t * t / 4.0);
    1.0 - (1.0 - cosine).sqrt() * (1.0 + cosine / 2.0)
}

/// Both means fall from each round to the next, and only that of hop by more than its sections lie apart: a test over the rounds of
/// a mean would give both the least p of five rounds, 2 in 120.
#[test]
fn a_trend_rests_on_the_sections_and_not_on_the_rounds_of_their_mean() {
    let sections =
        [("A1", "hop"), ("A2", "hop"), ("A3", "hop"), ("B1", "bare"), ("B2", "bare"), ("B3", "bare")];
    let slopes = [-0.010, -0.012, -0.014, -0.0020, 0.0, 0.0005];
    let mut bench = Bench::new(&sections, &ROUNDS);
    for ((round, _), day) in ROUNDS.into_iter().skip(1).zip(DAYS) {
        bench.means(round, &slopes.map(|slope| 85.0 + slope * day));
    }
    let over = over(&bench);
    let (hop, bare) = (group(&over, 0), group(&over, 1));
    assert_eq!((hop.tau, bare.tau), (Some(-1.0), Some(-1.0)));
    // Squares of the slopes about their means: 8e-6 and 3.5e-6, on four degrees of freedom together.
    let error = (11.5e-6_f64 / 4.0 / 3.0).sqrt();
    let (one, other) = (beyond_on_four(0.012 / error), beyond_on_four(0.0005 / error));
    let (hop_trend, bare_trend) = (hop.trend.unwrap(), bare.trend.unwrap());
    assert!(close(hop_trend.p, one, 1e-9) && close(hop_trend.p_holm, 2.0 * one, 1e-9), "{hop_trend:?}");
    assert!(close(bare_trend.p, other, 1e-9) && close(bare_trend.p_holm, other, 1e-9), "{bare_trend:?}");
    let holds_zero = |of: &GroupOverTime| of.rate.unwrap().interval.unwrap();
    assert!(hop_trend.p_holm < 0.05 && holds_zero(hop).high < 0.0);
    assert!(bare_trend.p > 0.5 && holds_zero(bare).low < 0.0 && holds_zero(bare).high > 0.0);
}

/// Slopes of -0.010 and -0.014 a day, -0.030 and -0.036, with deviations that no line holds and that both sections of a treatment share
/// for the half: on whole data the mixed model has the rates and the intervals of the sections.
#[test]
fn a_mixed_model_has_the_rates_and_intervals_of_whole_sections() {
    let bend = [0.0, -2.0, -3.0, -2.5, 0.0];
    let [one, other] = [[0.02, -0.05, 0.03, 0.04, -0.04], [-0.03, 0.04, 0.02, -0.05, 0.02]];
    let run = |start: f64, slope: f64, off: [f64; 5]| {
        let mut values = line(start, slope);
        values.iter_mut().zip(bend.iter().zip(off)).for_each(|(value, (bend, off))| *value += bend + off);
        values
    };
    let levels =
        [run(90.0, -0.010, one), run(88.0, -0.014, other), run(85.0, -0.030, other), run(86.0, -0.036, one)];
    let whole = over(&study(levels));
    let agrees = whole.agrees.unwrap();
    assert!(agrees.rates < 1e-12 && agrees.ends.unwrap() < 1e-7, "{agrees:?}");
    for group in &whole.groups {
        let (rate, model) = (group.rate.unwrap(), group.by_model.unwrap());
        assert_eq!((model.n, model.readings, Some(&model.last)), (2, 20, whole.rounds.last()));
        assert!(close(rate.mean, model.mean, 1e-12) && rate.interval.is_some() && model.interval.is_some());
    }

    // Without its last two rounds a section has no rate, and in the model it goes on beside the other: its slope of -0.014 is
    // known from three rounds, and without it the rate would be -0.010.
    let mut bench = study(levels);
    bench.rows.retain(|row| !row.contains("fifth,A2,") && !row.contains("fourth,A2,"));
    let lacking = over(&bench);
    let hop = group(&lacking, 0);
    let (rate, model) = (hop.rate.unwrap(), hop.by_model.unwrap());
    assert_eq!((rate.n, model.n, Some(&model.last)), (1, 2, lacking.rounds.last()));
    let mean = group(&whole, 0).rate.unwrap().mean;
    assert!((model.mean - mean).abs() < (rate.mean - mean).abs() / 2.0, "{model:?} {rate:?} {mean}");
    // What has every round is as before.
    assert!(close(group(&lacking, 1).by_model.unwrap().mean, group(&whole, 1).rate.unwrap().mean, 1e-12));
}

/// One that no section of its treatment outlasts has a rate up to the round that it has, and none where all have one round or no scatter.
#[test]
fn a_mixed_model_ends_where_its_sections_end() {
    let (bent, other) = ([90.0, 88.9, 88.2, 86.3, 80.0], [89.0, 88.1, 86.9, 85.5, 78.0]);
    let levels = [bent, other, [85.0, 82.2, 79.0, 73.3, 55.0], [86.0, 82.7, 80.1, 73.5, 54.0]];
    let mut bench = study(levels);
    bench.rows.retain(|row| !(row.contains("fifth,A") || row.contains("fourth,A")));
    let over = self::over(&bench);
    let hop = group(&over, 0);
    assert_eq!((hop.rate, hop.by_model.unwrap().last), (None, bench.round_id("third")));
    let straight = study([line(90.0, -0.01), line(88.0, -0.02), line(85.0, -0.03), line(86.0, -0.04)]);
    let straight = self::over(&straight);
    assert_eq!((straight.agrees, group(&straight, 0).by_model), (None, None));
}
