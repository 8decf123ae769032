//! The product that is to be beaten, as the control of its own family of comparisons.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{Against, Answer, ControlTable, NoTable, Side, Word};
use tapeline::study::Treatment;

/// Changes of hop -4 and -6, of fig -8 and -9, of bare -10, -12 and -14; fig is to be beaten.
fn study() -> Bench {
    let sections = [
        ("A1", "hop"),
        ("A2", "hop"),
        ("A3", "fig"),
        ("B1", "fig"),
        ("B2", "bare"),
        ("B3", "bare"),
        ("C1", "bare"),
    ];
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
    bench.means("baseline", &[80.0; 7]);
    bench.means("month-6", &[76.0, 74.0, 72.0, 71.0, 70.0, 68.0, 66.0]);
    bench.decide("month-6");
    bench.study.benchmark = Some(bench.product_id("fig"));
    bench
}

fn table(bench: &Bench) -> ControlTable {
    bench.analyse().to_benchmark.unwrap().unwrap()
}

fn against(bench: &Bench) -> Option<Against> {
    match bench.analyse().answer {
        Answer::Read { against_benchmark, .. } => against_benchmark,
        other => panic!("{other:?}"),
    }
}

#[test]
fn one_other_product_is_held_against_it_by_students_t() {
    let found = table(&study());
    // Squares 2 + 0.5 + 8 on 1 + 1 + 2 degrees of freedom; two sections each, so the error is that spread.
    let spread = (10.5_f64 / 4.0).sqrt();
    assert!(close(found.basis.spread.unwrap().sd, spread, 1e-12));
    assert_eq!((found.control.mean, found.control.n, found.rows.len()), (-8.5, 2, 1));
    let row = found.rows[0];
    assert_eq!((row.treatment, row.difference, row.side), (found_hop(), 3.5, Side::Better));
    // The 97.5 % point of t with 4 degrees of freedom is 2.776445; 3.5 / 1.6202 = 2.1602 has p = 0.09686 (scipy 1.17).
    let half = 2.776_445_105_197_793 * spread;
    let interval = row.interval.unwrap();
    assert!(close(interval.low, 3.5 - half, 1e-9) && close(interval.high, 3.5 + half, 1e-9));
    assert!(close(row.p.unwrap(), 0.096_862, 1e-5), "{row:?}");
    assert_eq!((row.word, row.p_holm, row.over_all), (Ok(Word::NotSettled), None, None));
}

fn found_hop() -> Treatment {
    Treatment::Product(study().product_id("hop"))
}

#[test]
fn bare_and_carrier_do_not_stand_against_the_benchmark() {
    let mut bench = study();
    bench.study.sections[6].treatment = Treatment::CarrierOnly;
    let treatments: Vec<Treatment> = table(&bench).rows.iter().map(|row| row.treatment).collect();
    assert_eq!(treatments, [found_hop()]);
}

#[test]
fn it_is_told_where_the_others_stand() {
    let mut bench = study();
    bench.rows.clear();
    bench.means("baseline", &[80.0; 7]);
    bench.means("month-6", &[79.0, 78.8, 72.0, 71.8, 70.0, 69.8, 70.2]);
    let better = vec![bench.product_id("hop")];
    assert_eq!(against(&bench), Some(Against::Told { better, worse: vec![], different: vec![] }));
    bench.study.benchmark = Some(bench.product_id("hop"));
    let worse = vec![bench.product_id("fig")];
    assert_eq!(against(&bench), Some(Against::Told { better: vec![], worse, different: vec![] }));
}

#[test]
fn a_benchmark_that_is_absent_gives_no_table() {
    let mut bench = study();
    bench.study.benchmark = None;
    assert_eq!((bench.analyse().to_benchmark, against(&bench)), (None, None));
    let mut other = bench.study.products[0].clone();
    other.name.value = "rue".into();
    bench.study.products.push(other);
    bench.study.benchmark = Some(bench.product_id("rue"));
    assert_eq!(bench.analyse().to_benchmark, Some(Err(NoTable::BenchmarkNotPlaced)));
    assert_eq!(against(&bench), Some(Against::NoControl));
    let mut bench = study();
    bench.rows.retain(|row| !(row.contains("month-6,A3") || row.contains("month-6,B1")));
    assert_eq!(bench.analyse().to_benchmark, Some(Err(NoTable::BenchmarkNotRead)));
    assert_eq!(against(&bench), Some(Against::ControlNotRead));
}

#[test]
fn without_a_deciding_round_its_p_values_are_counted_with_all_looks() {
    let mut bench = study();
    assert_eq!(bench.analyse().further_looks, 0);
    bench.study.decide = None;
    // Hop and fig against bare, and hop against fig.
    let analysis = bench.analyse();
    assert_eq!(analysis.further_looks, 3);
    let row = analysis.to_benchmark.unwrap().unwrap().rows[0];
    assert!(row.p_holm.unwrap() >= row.p.unwrap());
    assert_eq!(row.over_all, Some(Word::NotSettled));
}
