//! Pairs of products that stood the other way at another round; worked by hand in the comments.

use crate::bench::Bench;
use tapeline::stats::distributions::t_tail;

const ROUNDS: [(&str, &str); 3] =
    [("baseline", "2024-01-01"), ("month-1", "2024-02-01"), ("month-2", "2024-03-01")];

/// Bay fell by 12 at the end and clove by 25, bare by 40; at month 1 they fell by 10 and by what is given.
fn bench(clove: f64) -> Bench {
    let carried = ["bay", "bay", "bay", "clove", "clove", "clove", "bare", "bare", "bare"];
    let codes: Vec<String> = (1..=9).map(|number| format!("S{number}")).collect();
    let of: Vec<(&str, &str)> = codes.iter().map(String::as_str).zip(carried).collect();
    let mut bench = Bench::new(&of, &ROUNDS);
    for (at, code) in codes.iter().enumerate() {
        let off = (at % 3) as f64 - 1.0;
        bench.read("baseline", code, &[79.5, 80.5]);
        for (round, falls) in [("month-1", [10.0, clove, 20.0]), ("month-2", [12.0, 25.0, 40.0])] {
            let level = 80.0 - falls[at / 3] + off;
            bench.read(round, code, &[level - 0.5, level + 0.5]);
        }
    }
    bench.decide("month-2");
    bench
}

#[test]
fn a_pair_told_the_other_way_at_another_round_is_named_with_its_p() {
    let analysis = bench(2.0).analyse();
    let turned = analysis.turned.unwrap();
    assert_eq!((turned.rounds.len(), turned.pairs, turned.rows.len()), (1, 1, 1));
    let row = turned.rows[0];
    assert!(turned.rounds[0] == row.round && (row.pair.difference - 8.0).abs() < 1e-9, "{row:?}");
    // A spread of 1 on 6 degrees of freedom: t is 8 over the root of 2 / 3, and of two products the range is Student's t.
    let p = 2.0 * t_tail(8.0 / (2.0_f64 / 3.0).sqrt(), 6.0).unwrap();
    assert!((row.p / p - 1.0).abs() < 1e-6, "{} and not {p}", row.p);
}

#[test]
fn the_same_order_and_one_within_the_scatter_are_no_other_order() {
    for clove in [20.0, 9.5] {
        let turned = bench(clove).analyse().turned.unwrap();
        assert_eq!((turned.rounds.len(), turned.rows.len()), (1, 0), "{clove}");
    }
}
