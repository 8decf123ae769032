//! Chance of leading: what it is drawn from follows the design, and the figures are those of the drawn distribution.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{ChanceTable, DrawnFrom, Strength};
use tapeline::stats::distributions::t_tail;

const ROUNDS: [(&str, &str); 2] = [("baseline", "2024-01-01"), ("month-6", "2024-07-01")];

/// Sections of two products and bare in turn, `each` of either; changes are those given, in order.
fn study(each: usize, changes: &[f64]) -> Bench {
    let codes: Vec<String> = (0..3 * each).map(|at| format!("A{}", at + 1)).collect();
    let carries = |at: usize| ["hop", "fig", "bare"][at / each];
    let sections: Vec<(&str, &str)> =
        codes.iter().enumerate().map(|(at, code)| (code.as_str(), carries(at))).collect();
    let mut bench = Bench::new(&sections, &ROUNDS);
    bench.means("baseline", &vec![80.0; 3 * each]);
    bench.means("month-6", &changes.iter().map(|change| 80.0 + change).collect::<Vec<_>>());
    bench
}

fn chances(bench: &Bench) -> ChanceTable {
    bench.analyse().chances.unwrap().unwrap()
}

const TWO_EACH: [f64; 6] = [-2.0, -3.2, -3.1, -4.6, -8.0, -9.1];

/// With two products the chance is that of one t statistic on the pooled spread: 3 degrees of freedom here.
#[test]
fn few_sections_are_judged_by_the_spread_of_all() {
    let bench = study(2, &TWO_EACH);
    let table = chances(&bench);
    assert_eq!((table.from, table.rows.len()), (DrawnFrom::SharedSpread, 2));
    assert_eq!((table.rows[0].n, table.rows[0].readings), (2, 4));
    let squares = 1.2_f64.powi(2) / 2.0 + 1.5_f64.powi(2) / 2.0 + 1.1_f64.powi(2) / 2.0;
    let t = (3.85 - 2.6) / (squares / 3.0).sqrt();
    let expected = 1.0 - t_tail(t, 3.0).unwrap();
    // Four standard errors of a share of a half in 20,000 draws.
    assert!((table.rows[0].first - expected).abs() < 0.014_2, "{table:?} {expected}");
    assert!(close(table.rows[0].first + table.rows[1].first, 1.0, 1e-9));
}

#[test]
fn six_sections_of_every_product_are_drawn_themselves() {
    let changes: Vec<f64> = (0..18).map(|at| -f64::from(at / 6) - 0.7 * f64::from(at % 6)).collect();
    assert_eq!(chances(&study(6, &changes)).from, DrawnFrom::Sections);
    let five: Vec<f64> = (0..15).map(|at| -f64::from(at / 5) - 0.7 * f64::from(at % 5)).collect();
    let mut bench = study(5, &five);
    assert_eq!(chances(&bench).from, DrawnFrom::SharedSpread);
    bench.study.spreads_differ = true;
    assert_eq!(chances(&bench).from, DrawnFrom::OwnSpreads);
}

#[test]
fn the_same_readings_in_any_order_give_the_same_bits() {
    let mut bench = study(2, &TWO_EACH);
    let before = chances(&bench);
    bench.rows.reverse();
    assert_eq!(chances(&bench), before);
}

#[test]
fn too_few_degrees_of_freedom_and_no_scatter_have_no_chance() {
    let single = study(1, &[-2.0, -3.0, -8.0]);
    assert_eq!(single.analyse().chances, Some(Err(Strength::SectionsOnly)));
    let mut few = study(2, &TWO_EACH);
    few.rows.retain(|row| !row.contains(",A2,"));
    assert_eq!(few.analyse().chances, Some(Err(Strength::FewDegrees)));
    let equal = study(2, &[-2.0, -2.0, -3.0, -3.0, -8.0, -8.0]);
    assert_eq!(equal.analyse().chances, Some(Err(Strength::NoScatter)));
}

#[test]
fn where_lower_is_better_the_lowest_leads() {
    let mut bench = study(2, &TWO_EACH);
    let before = chances(&bench);
    bench.study.measures[0].direction = tapeline::study::Direction::Lower;
    let turned = chances(&bench);
    assert!((before.rows[0].first - turned.rows[1].first).abs() < 1e-9);
}
