//! What stands beside the comparison: adjustment for the baseline, and the test by exchange.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{NoExchange, NotAdjusted};

const ROUNDS: [(&str, &str); 2] = [("baseline", "2024-01-01"), ("month-6", "2024-07-01")];
const NINE: [&str; 9] = ["hop", "hop", "hop", "fig", "fig", "fig", "bare", "bare", "bare"];

/// Sections that began at `start` and changed by `change`.
fn study(carries: &[&str], start: &[f64], change: &[f64]) -> Bench {
    let codes: Vec<String> = (0..carries.len()).map(|at| format!("A{}", at + 1)).collect();
    let sections: Vec<(&str, &str)> = codes.iter().map(String::as_str).zip(carries.iter().copied()).collect();
    let mut bench = Bench::new(&sections, &ROUNDS);
    bench.means("baseline", start);
    bench.means(
        "month-6",
        &start.iter().zip(change).map(|(start, change)| start + change).collect::<Vec<_>>(),
    );
    bench.study.measures[0].adjust_for_baseline = true;
    bench
}

/// Every section loses half of what it began above 80, and 1, 2 or 8 by treatment, with a small scatter.
fn sloped() -> Bench {
    let start = [80.0, 82.0, 84.0, 86.0, 88.0, 90.0, 80.0, 83.0, 86.0];
    let scatter = [0.1, -0.2, 0.1, -0.1, 0.2, -0.1, 0.05, -0.1, 0.05];
    let lost = [1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 8.0, 8.0, 8.0];
    let change: Vec<f64> = (0..9).map(|at| -0.5 * (start[at] - 80.0) - lost[at] + scatter[at]).collect();
    study(&NINE, &start, &change)
}

#[test]
fn what_the_start_explains_is_taken_out() {
    let table = sloped().analyse().adjusted.unwrap().unwrap();
    // Within each treatment the scatter is symmetric about the middle, so that the slope is the stated one.
    assert!(close(table.slope, -0.5, 1e-9), "{table:?}");
    assert_eq!((table.sections, table.bare, table.spread.df), (9, 3, 5.0));
    let (hop, fig) = (&table.rows[0], &table.rows[1]);
    assert!(close(hop.difference, 7.0, 1e-9) && close(fig.difference, 6.0, 1e-9));
    // Without it the higher start of fig counts against it: 2.5 GU of the loss.
    assert!(close(fig.plain, 6.0 - 2.5, 1e-9) && close(fig.baseline, 88.0, 1e-9));
    assert!(hop.interval.low < 7.0 && hop.interval.high > 7.0 && hop.p < 0.001);
}

#[test]
fn fewer_than_three_degrees_of_freedom_are_refused() {
    let few = study(
        &["hop", "hop", "fig", "fig", "bare", "bare"],
        &[80.0, 82.0, 81.0, 84.0, 80.0, 83.0],
        &[-1.0, -2.0, -3.0, -4.0, -8.0, -9.0],
    );
    assert_eq!(few.analyse().adjusted, Some(Err(NotAdjusted::FewDegrees(2.0))));
    let level = study(&NINE, &[80.0; 9], &[-1.0, -2.0, -1.5, -3.0, -4.0, -3.3, -8.0, -9.0, -8.5]);
    assert_eq!(level.analyse().adjusted, Some(Err(NotAdjusted::NoScatter)));
    // Products began 10 GU above bare, while sections treated alike began within 0.2 GU of each other.
    let far = study(
        &NINE,
        &[90.0, 90.1, 90.2, 90.2, 90.0, 90.1, 80.0, 80.1, 80.2],
        &[-1.0, -2.0, -1.5, -3.0, -4.0, -3.3, -8.0, -9.0, -8.5],
    );
    assert_eq!(far.analyse().adjusted, Some(Err(NotAdjusted::TooFarApart)));
    let mut unasked = sloped();
    unasked.study.measures[0].adjust_for_baseline = false;
    assert_eq!(unasked.analyse().adjusted, None);
}

#[test]
fn exchange_counts_every_way_to_deal_out_the_treatments() {
    let line = sloped().analyse().exchange.unwrap().unwrap();
    // 9! / (3! 3! 3!) ways; the sections of this bench lie on no drawn map, so that all are allowed.
    assert_eq!((line.found.arrangements, line.found.all, line.sections, line.readings), (1680, true, 9, 18));
    // Three treatments on three sections each have 3! names for every way that differs in outcome.
    assert_eq!(line.found.distinct, 280);
    assert!(line.found.p < 0.05 && line.found.least >= 6.0 / 1680.0 - 1e-12);
    let two = study(&["hop", "hop", "bare", "bare"], &[80.0; 4], &[-1.0, -2.0, -8.0, -9.0]);
    assert_eq!(two.analyse().exchange, Some(Err(NoExchange::TooCoarse(2.0 / 6.0))));
}

#[test]
fn exchange_keeps_like_sections_apart_where_the_map_does() {
    let changes = [-1.0, -8.0, -2.0, -9.0, -1.5, -8.5];
    let mut bench = study(&["hop", "bare", "hop", "bare", "hop", "bare"], &[80.0; 6], &changes);
    let free = bench.analyse().exchange.unwrap();
    for (at, section) in bench.study.sections.iter_mut().enumerate() {
        (section.row, section.column) = (Some(0), Some(at));
    }
    // Of 20 ways two lie farthest apart. In a row of six these two alone keep like sections apart, bare ones included.
    assert_eq!(free, Err(NoExchange::TooCoarse(0.1)));
    assert_eq!(bench.analyse().exchange, Some(Err(NoExchange::TooCoarse(1.0))));
}

#[test]
fn neither_depends_on_the_order_of_rows() {
    let mut bench = sloped();
    let before = bench.analyse();
    bench.rows.reverse();
    let after = bench.analyse();
    assert_eq!((before.adjusted, before.exchange), (after.adjusted, after.exchange));
}
