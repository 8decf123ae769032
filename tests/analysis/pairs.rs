//! Every pair of products: against the reference case of all pairs, and what the word of the study changes.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{NoTable, PairTable};
use tapeline::stats::{games_howell, tukey};

/// Three products and bare, four sections each; the changes are the given numbers.
fn study(changes: &[f64; 16]) -> Bench {
    let codes: Vec<String> =
        (0..16).map(|n| format!("{}{}", ["A", "B", "C", "D"][n / 4], n % 4 + 1)).collect();
    let carries = ["hop", "fig", "rue", "bare"];
    let sections: Vec<(&str, &str)> =
        codes.iter().enumerate().map(|(n, code)| (code.as_str(), carries[n / 4])).collect();
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
    bench.means("baseline", &[80.0; 16]);
    bench.means("month-6", &changes.map(|change| 80.0 + change));
    bench
}

const CHANGES: [f64; 16] =
    [-2.0, -2.4, -1.9, -2.2, -5.0, -6.5, -4.0, -5.9, -5.1, -5.3, -5.0, -5.2, -9.0, -9.8, -8.7, -9.3];

fn pairs(bench: &Bench) -> PairTable {
    bench.analyse().between.unwrap().unwrap()
}

#[test]
fn pairs_stand_on_the_spread_of_all_sections_treated_alike() {
    let bench = study(&CHANGES);
    let table = pairs(&bench);
    let means = [0, 1, 2].map(|at| tapeline::stats::GroupMean {
        mean: CHANGES[4 * at..4 * at + 4].iter().sum::<f64>() / 4.0,
        n: 4,
    });
    let spread = table.basis.spread.unwrap();
    // 16 sections in 4 treatments leave 12 degrees of freedom, the bare ones among them.
    assert!(close(spread.df, 12.0, 1e-12) && !table.basis.own_spreads);
    let judged = tukey::all_pairs(&means, spread, 0.95).unwrap();
    assert_eq!(table.rows.len(), 3);
    for (row, pair) in table.rows.iter().zip(judged) {
        let interval = row.interval.unwrap();
        assert!(
            close(interval.low, pair.low, 1e-9) && close(interval.high, pair.high, 1e-9),
            "{row:?} {pair:?}"
        );
        assert!(close(row.p.unwrap(), pair.p, 1e-9));
    }
}

#[test]
fn a_study_that_says_that_spreads_differ_gives_each_product_its_own() {
    let mut bench = study(&CHANGES);
    bench.study.spreads_differ = true;
    let table = pairs(&bench);
    assert!(table.basis.own_spreads);
    let groups: Vec<&[f64]> = CHANGES.chunks(4).take(3).collect();
    let judged = games_howell::all_pairs(&groups, 0.95).unwrap();
    for (row, pair) in table.rows.iter().zip(judged) {
        let interval = row.interval.unwrap();
        assert!(
            close(interval.low, pair.low, 1e-9) && close(interval.high, pair.high, 1e-9),
            "{row:?} {pair:?}"
        );
    }
    // Against bare each row stands on its own spread too, so the steadier product has the narrower interval.
    let bare = bench.to_bare("month-6");
    let width = |at: usize| bare.rows[at].interval.map(|i| i.high - i.low).unwrap();
    assert!(width(1) > width(2) && bare.critical.is_none());
    let lead = bench.analyse().deciding().unwrap().1.lead.clone().unwrap();
    assert_eq!(lead.may_lead.unwrap(), [bench.product_id("hop")]);
}

#[test]
fn with_three_sections_to_a_product_the_spread_stays_common() {
    let mut bench = study(&CHANGES);
    bench.study.spreads_differ = true;
    bench.rows.retain(|row| !row.contains(",B4,"));
    assert!(!pairs(&bench).basis.own_spreads);
}

#[test]
fn one_product_makes_no_pair() {
    let mut bench = Bench::new(
        &[("A1", "hop"), ("A2", "bare"), ("A3", "bare")],
        &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")],
    );
    bench.means("baseline", &[80.0; 3]);
    bench.means("month-6", &[70.0, 60.0, 61.0]);
    assert_eq!(bench.analyse().between.unwrap().unwrap_err(), NoTable::OneProduct);
}
