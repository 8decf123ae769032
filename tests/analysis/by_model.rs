//! Rates by the mixed model where sections lack rounds, against R 4.2.2 (restricted likelihood and expected information, by matrices).

use crate::bench::{Bench, at};
use tapeline::analysis::{GroupOverTime, OverTime};
use tapeline::study::{Grouping, Reference};

/// Days 0, 100, 200, 400 and 1000 after the first round on the coat.
const ROUNDS: [(&str, &str); 5] = [
    ("fresh", "2024-01-10"),
    ("second", "2024-04-19"),
    ("third", "2024-07-28"),
    ("fourth", "2025-02-13"),
    ("fifth", "2026-10-06"),
];
const DAYS: [f64; 5] = [0.0, 100.0, 200.0, 400.0, 1000.0];
const CODES: [&str; 8] = ["S1", "S2", "S3", "S4", "S5", "S6", "S7", "S8"];
/// Level at the start, slope a day, and what each round has beside both.
const RUNS: [(f64, f64, [f64; 5]); 8] = [
    (90.0, -0.010, [0.2, -0.4, 0.3, 0.1, -0.2]),
    (88.0, -0.013, [-0.3, 0.4, 0.2, -0.5, 0.2]),
    (89.0, -0.016, [0.1, 0.3, -0.5, 0.2, -0.1]),
    (91.0, -0.014, [-0.2, -0.1, 0.4, 0.1, -0.2]),
    (85.0, -0.030, [0.4, -0.3, -0.2, 0.3, -0.2]),
    (86.0, -0.027, [-0.1, 0.2, 0.3, -0.4, 0.0]),
    (84.0, -0.036, [0.3, -0.2, 0.1, -0.4, 0.2]),
    (87.0, -0.033, [-0.4, 0.1, 0.2, 0.3, -0.2]),
];
/// No line holds these, which all sections have.
const BEND: [f64; 5] = [0.0, -2.0, -3.0, -2.5, 0.0];

/// The first four sections carry hop, the others are bare.
fn bench() -> Bench {
    let carried: Vec<(&str, &str)> =
        CODES.iter().enumerate().map(|(at, code)| (*code, if at < 4 { "hop" } else { "bare" })).collect();
    let mut bench = Bench::new(&carried, &ROUNDS);
    bench.study.measures[0].change_from = Reference::Fresh;
    for (place, ((round, _), day)) in ROUNDS.into_iter().zip(DAYS).enumerate() {
        let level =
            |(start, slope, off): (f64, f64, [f64; 5])| start + slope * day + BEND[place] + off[place];
        bench.means(round, &RUNS.map(level));
    }
    bench
}

fn grouped(names: [&str; 8]) -> Grouping {
    let bench = bench();
    let members = CODES.iter().zip(names).map(|(code, name)| (bench.section_id(code), at(name.to_owned())));
    Grouping { name: at("plank".into()), members: members.collect(), broken: false }
}

fn lose(bench: &mut Bench, code: &str, rounds: &[&str]) {
    bench.rows.retain(|row| !rounds.iter().any(|round| row.contains(&format!("{round},{code},"))));
}

fn over(bench: &Bench) -> OverTime {
    bench.gloss().over_time.unwrap()
}

/// Rate, low and high end in GU a month.
fn gives(group: &GroupOverTime, [mean, low, high]: [f64; 3]) {
    let model = group.by_model.unwrap();
    let interval = model.interval.unwrap();
    for (found, expected) in [(model.mean, mean), (interval.low, low), (interval.high, high)] {
        assert!((found - expected).abs() < 1e-6, "{model:?}: {found} is not {expected}");
    }
}

const PLANKS: [&str; 8] = ["p1", "p1", "p2", "p2", "p3", "p3", "p4", "p4"];

#[test]
fn sections_of_a_plank_that_is_the_unit_share_a_rate() {
    let mut bench = bench();
    bench.study.groups = vec![grouped(PLANKS)];
    let whole = over(&bench);
    let agrees = whole.agrees.unwrap();
    assert!(agrees.all && agrees.rates < 1e-12 && agrees.ends.unwrap() < 1e-7, "{agrees:?}");
    gives(&whole.groups[0], [-0.370_058_461_23, -0.686_404_275_97, -0.053_712_646_50]);
    assert_eq!(whole.groups[0].by_model.unwrap().n, 2);

    // A board that was lost counts with what it has, and the other one of its plank with all that it has.
    lose(&mut bench, "S2", &["fourth", "fifth"]);
    let lost = over(&bench);
    let model = lost.groups[0].by_model.unwrap();
    assert_eq!((model.n, model.readings, lost.agrees.unwrap().all), (2, 36, false));
    gives(&lost.groups[0], [-0.350_990_871_821, -0.700_643_549_580, -0.001_338_194_063]);
    gives(&lost.groups[1], [-0.925_290_631_92, -1.280_786_803_69, -0.569_794_460_15]);

    // One look at a board tells nothing on its rate, and takes nothing from the other.
    lose(&mut bench, "S2", &["second", "third"]);
    let single = over(&bench).groups[0].by_model.unwrap();
    lose(&mut bench, "S2", &["fresh"]);
    let none = over(&bench).groups[0].by_model.unwrap();
    assert!((single.mean - none.mean).abs() < 1e-12 && single.readings == none.readings + 2, "{single:?}");
}

#[test]
fn a_section_that_lacks_rounds_has_its_share_in_rate_and_spread() {
    let mut bench = bench();
    lose(&mut bench, "S2", &["fourth", "fifth"]);
    let lost = over(&bench);
    gives(&lost.groups[0], [-0.362_208_393_31, -0.493_312_289_72, -0.231_104_496_91]);
    gives(&lost.groups[1], [-0.925_290_631_92, -1.053_458_553_28, -0.797_122_710_56]);
    let hop = &lost.groups[0];
    assert_eq!((hop.rate.unwrap().n, hop.by_model.unwrap().n), (3, 4));
    // What bare has in both is the same rate, and the spread of the lost section is in its interval.
    let agrees = lost.agrees.unwrap();
    assert!(!agrees.all && agrees.rates < 1e-12 && agrees.ends.unwrap() > 1e-3, "{agrees:?}");

    bench.study.spreads_differ = true;
    let alone = over(&bench);
    gives(&alone.groups[0], [-0.363_869_067_90, -0.519_752_506_67, -0.207_985_629_12]);
}

#[test]
fn sites_count_alike_though_a_section_of_one_was_lost() {
    let mut bench = bench();
    bench.study.by_site = Some(grouped(["coast", "coast", "hill", "hill", "coast", "coast", "hill", "hill"]));
    assert!(bench.study.averages_over_sites());
    let whole = over(&bench);
    let agrees = whole.agrees.unwrap();
    assert!(whole.over_sites.0 && agrees.all && agrees.rates < 1e-12, "{agrees:?}");
    lose(&mut bench, "S2", &["fourth", "fifth"]);
    let lost = over(&bench);
    gives(&lost.groups[0], [-0.351_819_134_35, -0.447_907_539_11, -0.255_730_729_59]);
    gives(&lost.groups[1], [-0.925_290_631_92, -1.013_499_994_91, -0.837_081_268_94]);
}

/// What was lost everywhere has a rate as long as each of its sites tells of it.
#[test]
fn a_site_that_tells_nothing_leaves_no_average_over_sites() {
    let codes: Vec<String> = (1..=12).map(|number| format!("S{number}")).collect();
    let carries = |at: usize| ["hop", "bare", "fern"][at / 4];
    let carried: Vec<(&str, &str)> =
        codes.iter().enumerate().map(|(at, code)| (code.as_str(), carries(at))).collect();
    let mut bench = Bench::new(&carried, &ROUNDS);
    bench.study.measures[0].change_from = Reference::Fresh;
    let site = |at: usize| crate::bench::at(if at % 4 < 2 { "coast" } else { "hill" }.to_owned());
    let members = codes.iter().enumerate().map(|(at, code)| (bench.section_id(code), site(at))).collect();
    bench.study.by_site = Some(Grouping { name: at("site".into()), members, broken: false });
    for (place, ((round, _), day)) in ROUNDS.into_iter().zip(DAYS).enumerate() {
        let level = |at: usize| {
            let (start, slope, off) = RUNS[at % 8];
            start + slope * day + BEND[place] + off[place]
        };
        bench.means(round, &(0..12).map(level).collect::<Vec<f64>>());
    }
    for code in ["S1", "S2", "S3", "S4"] {
        lose(&mut bench, code, &["third", "fourth", "fifth"]);
    }
    let early = over(&bench);
    assert!(early.over_sites.0 && early.groups[0].rate.is_none());
    assert_eq!(early.groups[0].by_model.unwrap().last, bench.round_id("second"));
    lose(&mut bench, "S3", &["second"]);
    lose(&mut bench, "S4", &["second"]);
    let coast = over(&bench);
    assert!(coast.over_sites.0 && coast.groups[1].by_model.is_some());
    assert_eq!(coast.groups[0].by_model, None);
}

/// Halves of a treatment that were never read at one round have no mean in common, and silence no other treatment.
#[test]
fn what_is_not_linked_has_no_rate_by_the_model() {
    let mut bench = bench();
    lose(&mut bench, "S1", &["third", "fourth", "fifth"]);
    lose(&mut bench, "S2", &["third", "fourth", "fifth"]);
    lose(&mut bench, "S3", &["fresh", "second"]);
    lose(&mut bench, "S4", &["fresh", "second"]);
    let over = over(&bench);
    assert_eq!(over.groups[0].by_model, None);
    let bare = over.groups[1].by_model.unwrap();
    assert!((bare.mean - over.groups[1].rate.unwrap().mean).abs() < 1e-12);
}

/// Readings that are too low for the gauge did not go on as before.
#[test]
fn a_treatment_that_fell_below_the_gauge_has_no_rate_by_the_model() {
    let mut bench = bench();
    lose(&mut bench, "S2", &["fifth"]);
    assert!(over(&bench).groups[0].by_model.is_some());
    bench.rows.push("2026-10-06,fifth,S2,gloss,<1,GU".to_owned());
    let below = over(&bench);
    assert_eq!((below.groups[0].by_model, below.groups[0].lacking.len()), (None, 1));
    assert!(below.groups[1].by_model.is_some());
}
