//! How products stand against sections without one, in headings and in the answer: which way they differ, and what the carrier alone does.

use super::{MAP, changes, output, readings, sound, study};

fn report(map: &str, changes: &[(&str, f64)]) -> String {
    output(&sound(&study(map, ""), &readings(changes, 3)), "report.md")
}

/// A heading is passed on by itself, so that it says which way products differ.
#[test]
fn the_heading_of_a_comparison_says_how_many_are_better_and_how_many_worse() {
    // Bare changes by -12.
    let both = report(MAP, &changes(-2.0, -6.0, -20.0, -21.0, 0.3));
    assert!(both.contains("\n## All 4 products differ from bare at month 6: 2 better, 2 worse\n"), "{both}");
    let worse = report(MAP, &changes(-16.0, -18.0, -20.0, -12.1, 0.3));
    assert!(worse.contains("\n## 3 of 4 products differ from bare at month 6: 3 worse\n"), "{worse}");
}

const WITH_CARRIER: &str = r"
map  sections 150 x 120 mm  gap 20 mm  from left 44 mm, top 44 mm
    | bay    bare   thyme         carrier-only |
    | thyme  bay    bare          carrier-only |
    | bare   thyme  carrier-only  bay          |
";

/// Bay and thyme at the given changes, the carrier alone at -4, bare at -12; each on three sections that lie 0.3 apart.
fn beside_carrier(bay: f64, thyme: f64) -> String {
    let mean = [
        ("A1", bay),
        ("A2", -12.0),
        ("A3", thyme),
        ("A4", -4.0),
        ("B1", thyme),
        ("B2", bay),
        ("B3", -12.0),
        ("B4", -4.0),
        ("C1", -12.0),
        ("C2", thyme),
        ("C3", -4.0),
        ("C4", bay),
    ];
    let apart = |row: u8| f64::from(i16::from(row) - i16::from(b'B')) * 0.3;
    let changes: Vec<_> = mean.iter().map(|&(code, mean)| (code, mean + apart(code.as_bytes()[0]))).collect();
    report(WITH_CARRIER, &changes)
}

fn answer(report: &str) -> &str {
    report.split("## The panel").next().unwrap()
}

/// Bay lies 0.5 above the carrier alone and thyme 3 below it: half an interval is 0.65.
#[test]
fn one_that_did_worse_than_the_carrier_alone_is_set_apart_from_one_that_is_only_not_told() {
    let report = beside_carrier(-3.5, -7.0);
    assert!(
        answer(&report).contains("[Both products are not shown to do better than the carrier alone]")
            && answer(&report).contains(" (3 sections), and Thyme spray did worse: Bay spray +0.5 GU (from "),
        "{report}"
    );
}

/// What a product does better than bare may be the doing of what carries it.
#[test]
fn the_answer_says_where_the_carrier_alone_did_as_well_or_better() {
    let both = beside_carrier(-6.0, -7.0);
    assert!(answer(&both).contains("Both products did better than the bare sections"), "{both}");
    // s = 0.3 on 8 degrees of freedom, error 0.2449; the critical value of two against one control is 2.67 (Dunnett 1955, table 2a).
    assert!(
        answer(&both).contains(
            "[Both products did worse than the carrier alone](#both-products-differ-from-the-carrier-alone-at-month-6-2-worse) \
             (3 sections): Bay spray −2.0 GU (from −2.7 to −1.3), Thyme spray −3.0 GU (from −3.7 to −2.3). What is seen against bare \
             cannot be put down to what is in the product."
        ),
        "{both}"
    );
    assert!(
        both.contains("\n### Both products differ from the carrier alone at month 6: 2 worse\n"),
        "{both}"
    );
    let one = beside_carrier(-2.0, -4.2);
    assert!(
        answer(&one).contains(
            "[Thyme spray is not shown to do better than the carrier alone](#one-of-2-products-differs-from-the-carrier-alone-at-month-6-one-better) \
             (3 sections): Thyme spray −0.2 GU (from −0.9 to +0.5)."
        ),
        "{one}"
    );
    let none = beside_carrier(-2.0, -2.2);
    assert!(!answer(&none).contains("the carrier alone"), "{none}");
    assert!(
        none.contains("\n### Both products differ from the carrier alone at month 6: 2 better\n"),
        "{none}"
    );
}
