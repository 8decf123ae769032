//! How many decimals a measure is printed with for which neither the study nor a gauge states a limit.

use super::{output, sound};
use std::fmt::Write;

const WEAR: &str = r#"language 1
study "Wear of a shutter"
    begins      2025-03-01
    decide by   wear at month 3
surface shutter
    size        1200 x 700 mm
measure wear in mm
    lower is better
measure swell in times
    lower is better
    read wet, then dry in g
    is the ratio
product hop, a spray sealant
product oat, a spray sealant
map  sections 180 x 130 mm  gap 20 mm  from left 40 mm, top 40 mm
    | hop   bare  oat   bare  |
    | oat   hop   bare  hop   |
    | bare  oat   hop   oat   |
apply
    on          2025-03-02
rounds
    fresh       7 days after apply
    month 3     within 1 week
    every round wear twice, swell once
readings "readings.csv"
"#;

const CODES: [&str; 12] = ["A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "C1", "C2", "C3", "C4"];

/// What each product wears by, and by how much wet over dry falls from its fresh value of 1.2.
fn report() -> String {
    let product = |at: usize| WEAR.lines().filter(|line| line.contains('|')).nth(at / 4).unwrap();
    let mut csv = String::from("date,round,section,measure,value\n");
    for (day, round, late) in [("2025-03-09", "fresh", false), ("2025-06-02", "month 3", true)] {
        for (at, code) in CODES.iter().enumerate() {
            let carried = product(at).split_whitespace().filter(|word| *word != "|").nth(at % 4).unwrap();
            // Sections treated alike lie 0.0002 mm apart, and 0.004 in the ratio.
            let step = if at % 2 == 0 { 1.0 } else { -1.0 };
            let (wear, swell) = match carried {
                _ if !late => (0.0102, 1.2),
                "hop" => (0.0143 + 0.0001 * step, 1.042 + 0.002 * step),
                "oat" => (0.0161 + 0.0001 * step, 1.031 + 0.002 * step),
                _ => (0.0224 + 0.0001 * step, 1.1 + 0.002 * step),
            };
            for value in [wear - 0.0001, wear + 0.0001] {
                writeln!(csv, "{day},{round},{code},wear,{value:.4}").unwrap();
            }
            writeln!(csv, "{day},{round},{code},wet,{:.4}", 10.0 * swell).unwrap();
            writeln!(csv, "{day},{round},{code},dry,10").unwrap();
        }
    }
    output(&sound(WEAR, &csv), "report.md")
}

/// Readings of four decimals give means and differences of as many, or fewer where their standard error carries fewer.
#[test]
fn decimals_are_those_of_the_readings() {
    let report = report();
    assert!(report.contains("hop (0.0041 mm, 4 sections); bare 0.0122 mm"), "{report}");
    assert!(report.contains("oat −0.0063 mm (from −0.0065 to −0.0061;"), "{report}");
    for wrong in ["0.0 mm", "+0.0 (", "0.0 to 0.0"] {
        assert!(!report.contains(wrong), "{wrong}\n{report}");
    }
}

/// A ratio has two figures of its least standard error: about 0.001, so four decimals, of which a table of means keeps what its own
/// error carries.
#[test]
fn what_is_made_of_readings_has_two_figures_of_its_error() {
    let report = report();
    assert!(report.contains("−0.1580 (hop)"), "{report}");
    let swell = report.split("swell").skip(1).collect::<Vec<_>>().join("swell");
    assert!(swell.contains("−0.15"), "{swell}");
    assert!(!swell.contains("| −0.2 |"), "{swell}");
}
