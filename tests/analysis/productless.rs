//! Sections without a product that are not bare, as the control of a family of their own.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{Analysis, Side, Word};
use tapeline::study::Treatment;

/// Changes of hop -4 and -6, of fig -8 and -9, of the carrier alone -3 and -2, of bare -10, -12 and -14.
fn study() -> Bench {
    let sections = [
        ("A1", "hop"),
        ("A2", "hop"),
        ("A3", "fig"),
        ("B1", "fig"),
        ("B2", "carrier"),
        ("B3", "carrier"),
        ("C1", "bare"),
        ("C2", "bare"),
        ("C3", "bare"),
    ];
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
    bench.means("baseline", &[80.0; 9]);
    bench.means("month-6", &[76.0, 74.0, 72.0, 71.0, 77.0, 78.0, 70.0, 68.0, 66.0]);
    bench.decide("month-6");
    bench
}

fn treatments(analysis: &Analysis) -> Vec<Treatment> {
    analysis.to_productless.iter().map(|one| one.treatment).collect()
}

/// Squares 2 + 0.5 + 0.5 + 8 on 1 + 1 + 1 + 2 degrees of freedom; by numerical integration of the two-sided maximum of two t with
/// `numpy` and `scipy` 1.17.1, correlation 1/2 and 5 degrees of freedom: 3.030236.
#[test]
fn products_are_held_against_the_carrier_alone_by_dunnett() {
    let bench = study();
    let analysis = bench.analyse();
    assert_eq!(treatments(&analysis), [Treatment::CarrierOnly]);
    let table = &analysis.to_productless[0].table;
    assert!(close(table.basis.spread.unwrap().sd, 2.2_f64.sqrt(), 1e-12));
    assert_eq!((table.control.mean, table.control.n, table.rows.len()), (-2.5, 2, 2));
    assert!(close(table.critical.unwrap(), 3.030_235_946_577_792_4, 1e-8));
    let expected = [
        ("hop", -2.5, (-6.994_566_248_510_623, 1.994_566_248_510_623), 0.248_210_721, Word::NotSettled),
        ("fig", -6.0, (-10.494_566_248_510_623, -1.505_433_751_489_376_5), 0.017_241_075, Word::Measurable),
    ];
    for (row, (name, difference, (low, high), p, word)) in table.rows.iter().zip(expected) {
        assert_eq!(row.treatment, Treatment::Product(bench.product_id(name)));
        assert_eq!((row.difference, row.side, row.word), (difference, Side::Worse, Ok(word)));
        let interval = row.interval.unwrap();
        assert!(close(interval.low, low, 1e-7) && close(interval.high, high, 1e-7), "{row:?}");
        assert!(close(row.p.unwrap(), p, 1e-7) && row.p_holm.is_none(), "{row:?}");
    }
}

#[test]
fn untouched_sections_have_a_family_of_their_own_and_count_among_further_looks() {
    let mut bench = study();
    bench.study.sections[5].treatment = Treatment::Untouched;
    let analysis = bench.analyse();
    assert_eq!(treatments(&analysis), [Treatment::CarrierOnly, Treatment::Untouched]);
    assert_eq!(analysis.to_productless[1].table.control.mean, -2.0);
    assert_eq!(analysis.further_looks, 0);
    bench.study.decide = None;
    let analysis = bench.analyse();
    // Four treatments against bare, two products against each of the two others.
    assert_eq!(analysis.further_looks, 4 + 2 + 2);
    let rows = analysis.to_productless.iter().flat_map(|one| &one.table.rows);
    assert!(rows.clone().all(|row| row.p_holm.unwrap() >= row.p.unwrap() && row.over_all.is_some()));
    let mut bare = study();
    bare.rows.retain(|row| !(row.contains("month-6,B2") || row.contains("month-6,B3")));
    assert_eq!(treatments(&bare.analyse()), []);
}
