//! What must not matter does not: order of rows, the unit, the names.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{Interval, MeasureAnalysis};

const ROUNDS: [(&str, &str); 3] =
    [("baseline", "2024-01-01"), ("month-6", "2024-07-01"), ("month-12", "2025-01-01")];
const NAMES: [&str; 10] = ["hop", "hop", "fig", "fig", "fig", "rue", "rue", "bare", "bare", "bare"];

/// A small generator of repeatable numbers between 0 and 1 (Park and Miller 1988, Comm. ACM 31, 1192-1201).
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }
}

/// Ten sections, three readings each; every value is `scale` times a drawn one plus `shift`.
fn study(seed: u64, codes: &[String], scale: f64, shift: f64) -> Bench {
    let sections: Vec<(&str, &str)> = codes.iter().map(String::as_str).zip(NAMES).collect();
    let mut bench = Bench::new(&sections, &ROUNDS);
    let mut random = Random(seed);
    for (step, (round, _)) in ROUNDS.into_iter().enumerate() {
        for code in codes {
            let start = 80.0 - 6.0 * step as f64 + 4.0 * random.next();
            let values = [0, 1, 2].map(|_| scale * (start + random.next()) + shift);
            bench.read(round, code, &values);
        }
    }
    bench
}

fn codes(letter: char) -> Vec<String> {
    (1..=10).map(|number| format!("{letter}{number}")).collect()
}

/// Differences, interval ends and p values of all tables.
fn tables(gloss: &MeasureAnalysis) -> Vec<[f64; 3]> {
    let ends = |interval: Interval, p: f64| [interval.low, interval.high, p];
    let of = |round: &tapeline::analysis::RoundAnalysis| {
        let bare = round.to_bare.as_ref().unwrap().rows.iter();
        let bare = bare.map(|row| ends(row.interval.unwrap(), row.p.unwrap()));
        let lead = round.lead.as_ref().unwrap().rows.iter().map(|row| ends(row.interval.unwrap(), 0.0));
        bare.chain(lead).collect::<Vec<_>>()
    };
    gloss.rounds[1..].iter().flat_map(of).collect()
}

#[test]
fn the_order_of_rows_changes_no_bit() {
    for seed in [3, 17, 90_001] {
        let mut bench = study(seed, &codes('A'), 1.0, 0.0);
        let before = bench.gloss();
        bench.rows.reverse();
        assert_eq!(bench.gloss(), before);
        bench.rows.rotate_left(31);
        assert_eq!(bench.gloss(), before);
    }
}

#[test]
fn the_names_of_sections_change_nothing() {
    for seed in [5, 44] {
        assert_eq!(study(seed, &codes('A'), 1.0, 0.0).gloss(), study(seed, &codes('Q'), 1.0, 0.0).gloss());
    }
}

#[test]
fn a_shift_of_the_unit_moves_levels_only_and_a_scale_moves_all_but_p() {
    for seed in [8, 231] {
        let plain = tables(&study(seed, &codes('A'), 1.0, 0.0).gloss());
        let shifted = tables(&study(seed, &codes('A'), 1.0, 300.0).gloss());
        let scaled = tables(&study(seed, &codes('A'), 8.0, 0.0).gloss());
        assert!(!plain.is_empty());
        for ((plain, shifted), scaled) in plain.iter().zip(&shifted).zip(&scaled) {
            for end in 0..3 {
                assert!(close(plain[end], shifted[end], 1e-9));
            }
            assert!(close(8.0 * plain[0], scaled[0], 1e-9) && close(8.0 * plain[1], scaled[1], 1e-9));
            assert!(close(plain[2], scaled[2], 1e-9));
        }
    }
}

#[test]
fn words_and_the_set_that_may_lead_follow_from_the_printed_intervals() {
    for seed in 1..20 {
        let mut bench = study(seed * 7919, &codes('A'), 1.0, 0.0);
        bench.limits(1.0, 3.0);
        for round in &bench.gloss().rounds[1..] {
            let lead = round.lead.as_ref().unwrap();
            let highest = lead.rows.iter().max_by(|a, b| a.change.total_cmp(&b.change)).unwrap();
            let may = lead.may_lead.as_ref().unwrap();
            assert!(may.contains(&highest.product) && highest.lead > 0.0);
            for row in &lead.rows {
                assert_eq!(may.contains(&row.product), row.interval.unwrap().high > 0.0);
            }
            for row in &round.to_bare.as_ref().unwrap().rows {
                let interval = row.interval.unwrap();
                let excludes = interval.low > 0.0 || interval.high < 0.0;
                assert_eq!(excludes, row.p.unwrap() < 0.05);
            }
        }
    }
}
