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
