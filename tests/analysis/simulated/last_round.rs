//! Gloss at the last round: groups, pairs, comparisons with bare, chances of ranks, and what could be told apart.

use super::{LAST, Tolerance, Whole, place, read, without_outlier};
use serde::Deserialize;
use std::collections::BTreeMap;
use tapeline::analysis::DrawnFrom;
use tapeline::planning::{Room, Scatter};
use tapeline::stats::anova::{one_way, pooled_spread};
use tapeline::stats::components::mixed;
use tapeline::stats::dunnett::against_control;
use tapeline::stats::hsu::Better;
use tapeline::stats::max_t::{MaxT, Sides};
use tapeline::stats::random::Draws;
use tapeline::stats::rank_chances::{Apart, from_shared_spread, resampled};
use tapeline::stats::ranks::kruskal_wallis;
use tapeline::stats::solved::Solved;
use tapeline::stats::studentized_range::StudentizedRange;
use tapeline::stats::{GroupMean, Pair, games_howell, summary, tukey, welch};

#[derive(Deserialize)]
struct Truth {
    #[serde(flatten)]
    tolerance: Tolerance,
    all: [f64; 4],
    products: [f64; 4],
    ranks: [f64; 2],
    range: f64,
    largest_t: [f64; 2],
    against_bare: BTreeMap<String, [f64; 4]>,
    pair: Vec<Expected>,
    room: RoomTruth,
}

#[derive(Deserialize)]
struct Expected {
    one: String,
    other: String,
    difference: f64,
    shared: [f64; 3],
    own: [f64; 4],
}

#[derive(Deserialize)]
struct RoomTruth {
    variances: [f64; 2],
    error: f64,
    df: usize,
    with_all: f64,
    with_two: f64,
}

fn truth() -> (Truth, Whole, Vec<Vec<f64>>) {
    let study = without_outlier();
    let levels = study.levels("gloss", LAST);
    (read(include_str!("last_round.toml")), study, levels)
}

fn means(levels: &[Vec<f64>]) -> Vec<GroupMean> {
    levels.iter().map(|own| GroupMean { mean: summary::mean(own).unwrap(), n: own.len() }).collect()
}

#[test]
fn groups_agree() {
    let (truth, _, levels) = truth();
    for (what, groups, expected) in
        [("all", &levels[..], truth.all), ("products", &levels[..4], truth.products)]
    {
        let table = one_way(groups).unwrap();
        let found = [table.f, table.df_between as f64, table.df_within as f64, table.p];
        truth.tolerance.all(what, found, expected);
    }
    let ranks = kruskal_wallis(&levels).unwrap();
    truth.tolerance.all("ranks", [ranks.h, ranks.p_chi_square], truth.ranks);
}

#[test]
fn pairs_agree() {
    let (truth, _, levels) = truth();
    let spread = pooled_spread(&levels).unwrap();
    let critical = StudentizedRange::of(5).unwrap().critical_value(0.05, spread.df).unwrap();
    truth.tolerance.near("range", critical, truth.range);
    let shared = tukey::all_pairs(&means(&levels), spread, 0.95).unwrap();
    let own = games_howell::all_pairs(&levels, 0.95).unwrap();
    assert_eq!((truth.pair.len(), shared.len(), own.len()), (10, 10, 10));
    for expected in &truth.pair {
        let what = format!("{} less {}", expected.one, expected.other);
        let (one, other) = (place(&expected.one), place(&expected.other));
        truth.tolerance.all(&what, of(&shared, one, other), with(expected.difference, expected.shared));
        let [df, low, high, p] = expected.own;
        truth.tolerance.all(&what, of(&own, one, other), [expected.difference, low, high, p]);
        let alone = welch::difference(&levels[one], &levels[other]).unwrap();
        truth.tolerance.near(&what, alone.df, df);
    }
}

fn with(difference: f64, [low, high, p]: [f64; 3]) -> [f64; 4] {
    [difference, low, high, p]
}

/// Difference, low, high and p of one place less another, whichever comes first.
fn of(pairs: &[Pair], one: usize, other: usize) -> [f64; 4] {
    let pair = |one, other| pairs.iter().find(|pair| (pair.one, pair.other) == (one, other));
    match (pair(one, other), pair(other, one)) {
        (Some(pair), _) => [pair.difference, pair.low, pair.high, pair.p],
        (None, found) => found.map(|pair| [-pair.difference, -pair.high, -pair.low, pair.p]).unwrap(),
    }
}

#[test]
fn comparisons_with_bare_agree_on_either_side() {
    let (truth, _, levels) = truth();
    let spread = pooled_spread(&levels).unwrap();
    let of_p = Tolerance { absolute: 0.0, ..truth.tolerance };
    let families = [Sides::Two, Sides::Upper].map(|sides| MaxT::new(&[2; 4], 2, sides).unwrap());
    let critical = [0, 1].map(|at| families[at].critical_value(0.05, spread.df).unwrap());
    truth.tolerance.all("largest t", critical, truth.largest_t);
    let groups = means(&levels);
    let found = against_control(&groups[..4], groups[4], spread, 0.95, &mut Solved::default()).unwrap();
    assert_eq!(truth.against_bare.len(), 4);
    for (name, &[t, p, p_less, p_greater]) in &truth.against_bare {
        let row = &found[place(name)];
        let found = row.difference / spread.of_difference(groups[place(name)], groups[4]);
        truth.tolerance.near(name, found, t);
        let upper = |t: f64| families[1].tail(t, spread.df).unwrap();
        of_p.all(name, [row.p, upper(-found), upper(found)], [p, p_less, p_greater]);
    }
}

/// Two sections give three means when they are drawn anew. The reference draws them all the same; the program draws from the
/// spread that all sections share, and so leaves open which of two close products leads.
#[test]
fn two_sections_are_not_drawn_anew() {
    let (_, study, levels) = truth();
    let draws = Draws { count: 20_000, seed: 1 };
    assert_eq!(resampled(&levels[..4], Apart::AsDrawn, Better::Higher, draws), None);
    let spread = pooled_spread(&levels).unwrap();
    let chances = from_shared_spread(&means(&levels)[..4], spread, Better::Higher, draws).unwrap();
    assert!((0.9..1.0).contains(&chances[place("fourth")].first), "{chances:?}");
    assert_eq!(study.analysis.chances.unwrap().unwrap().from, DrawnFrom::SharedSpread);
}

#[test]
fn what_could_be_told_apart_agrees() {
    let (truth, study, _) = truth();
    let (readings, expected) = (study.readings("gloss"), &truth.room);
    let columns: Vec<Vec<f64>> = (0..5)
        .map(|treatment| (0..30).map(|at| f64::from(u8::from(at / 6 == treatment))).collect())
        .collect();
    let sections: Vec<usize> = (0..30).map(|at| at / 3).collect();
    let model = mixed::fit(&columns, &readings.concat(), &sections).unwrap();
    truth.tolerance.all("variances", [model.sections, model.readings], expected.variances);
    let scatter =
        Scatter { sections: model.sections.sqrt(), reading: model.readings.sqrt(), means: 1 }.of_section(3);
    truth.tolerance.near("error", scatter, expected.error);
    assert_eq!(Room::even(4, 2, 2).df, expected.df);
    for (df, smallest) in [(expected.df, expected.with_all), (2, expected.with_two)] {
        // A family of one comparison, where the report takes all against bare together.
        let room = Room { df, ..Room::even(1, 2, 2) };
        truth.tolerance.near("smallest", room.smallest().unwrap() * scatter, smallest);
    }
}
