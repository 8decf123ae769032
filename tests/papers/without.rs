//! Who cannot be compared, and why: what was read and has no number is not called unread, and no heading stands with nothing behind it.

use super::{MAP, changes, output, readings, sound, study};

const SECTIONS: [&str; 12] = ["A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "C1", "C2", "C3", "C4"];
const BARE: [&str; 4] = ["A2", "B2", "B4", "C3"];

fn report(text: &str, csv: &str) -> String {
    output(&sound(text, csv), "report.md")
}

fn whole() -> String {
    readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3)
}

/// The rows that `lost` does not name.
fn but(lost: impl Fn(&str) -> bool) -> String {
    whole().split_inclusive('\n').filter(|line| !lost(line.trim_end_matches('\n'))).collect()
}

fn is_on(line: &str, round: &str, sections: &[&str]) -> bool {
    sections.iter().any(|code| line.contains(&format!("{round},{code},")))
}

#[test]
fn a_product_without_a_reference_is_not_called_unread() {
    let others: Vec<&str> =
        SECTIONS.into_iter().filter(|code| !["A1", "B3"].contains(code) && !BARE.contains(code)).collect();
    let page = report(&study(MAP, ""), &but(|line| is_on(line, "fresh", &others)));
    assert!(page.contains("## Only one product can be compared at month 6\n"), "{page}");
    assert!(
        page.contains("so that none leads: Thyme spray, Cumin spray and Rue spray (no reading at fresh)."),
        "{page}"
    );
    let none = report(
        &study(MAP, ""),
        &but(|line| is_on(line, "fresh", &["A1", "B3"]) || is_on(line, "fresh", &others)),
    );
    assert!(none.contains("## No product can be compared at month 6\n"), "{none}");
    let bay = report(&study(MAP, ""), &but(|line| is_on(line, "fresh", &["A1", "B3"])));
    assert!(
        bay.contains("[In no comparison at month 6 is Bay spray](#")
            && bay.contains(") (no reading at fresh)."),
        "{bay}"
    );
    assert!(bay.contains("of the 3 products compared that may lead at month 6"), "{bay}");
}

#[test]
fn bare_sections_that_cannot_be_compared_are_there_all_the_same() {
    let page = report(&study(MAP, ""), &but(|line| is_on(line, "fresh", &BARE)));
    assert!(!page.contains("There are no bare sections"), "{page}");
    assert!(page.contains("None of the bare sections has a change to show."), "{page}");
}

/// Every section is below the gauge, or ended, at the round that decides: nothing is left to head a part with.
#[test]
fn where_nothing_is_left_the_reason_stands_and_no_heading_is_empty() {
    let below: String = whole()
        .lines()
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            if cells[1] == "month 6" {
                format!("{},<60,<60,<60\n", cells[..5].join(","))
            } else {
                format!("{line}\n")
            }
        })
        .collect();
    let gone = "\nlog 2025-11-01 all \"gone\" ends the section\n";
    for (text, csv, why) in [
        (study(MAP, ""), below, "below what the gauge can tell"),
        (study(MAP, gone), whole(), "section ended"),
    ] {
        let page = report(&text, &csv);
        let all = "Bay spray, Thyme spray, Cumin spray, Rue spray and bare";
        assert!(page.contains(&format!("no section has a change there: {all} ({why}).")), "{page}");
        assert!(page.contains("Gloss-60: no change can be shown at month 6"), "{page}");
        let german = report(&text.replacen("    begins ", "    language german\n    begins ", 1), &csv);
        assert!(german.contains("für keinen Abschnitt lässt sich eine Änderung bilden"), "{german}");
        for empty in [
            "most on , least",
            "up to month 6: GU",
            "There are no bare",
            "at month 6: \n",
            "am stärksten auf ,",
            "bis Monat 6: GU",
            "gibt es nicht",
        ] {
            assert!(!page.contains(empty) && !german.contains(empty), "{empty}: {page}{german}");
        }
    }
}

/// At fresh every section lay below the gauge: it was read, and what it was at month 6 can be said though no change can.
#[test]
fn a_reference_below_the_gauge_is_not_called_unread_and_the_levels_are_told() {
    let below: String = whole()
        .lines()
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            if cells[1] == "fresh" {
                format!("{},<60,<60,<60\n", cells[..5].join(","))
            } else {
                format!("{line}\n")
            }
        })
        .collect();
    let page = report(&study(MAP, ""), &below);
    let all = "Bay spray, Thyme spray, Cumin spray, Rue spray and bare";
    assert!(page.contains(&format!("{all} (below what the gauge can tell at fresh).")), "{page}");
    assert!(page.contains(", from the lowest to the highest of each: Bay spray "), "{page}");
    assert!(
        !page.contains("no reading at fresh") && !page.contains("Every reading that was taken counts."),
        "{page}"
    );
    // Twelve sections, three readings each.
    assert!(
        page.contains("In no mean, change or rate: 36 readings below what the gauge can tell."),
        "{page}"
    );
}
