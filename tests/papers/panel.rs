//! What the report says of the panel itself and of the gauge.

use super::{HEAD, MAP, TAIL, changes, output, readings, sound};
use tapeline::pipeline::Outcome;

/// The usual study with a tile, a film gauge and a preparation that reads film, and further rows of readings.
fn report(rows: &str) -> String {
    output(&made(rows), "report.md")
}

/// The same before anything is printed.
pub(super) fn made(rows: &str) -> Outcome {
    let head = HEAD.replace("    certified   2025-05-01", "    tile        92 GU\n    certified   2025-05-01").replace(
        "gauge pen",
        "gauge film-pen\n    reads film\n    two readings agree within 2.8 um\n    certified 2025-05-01 for 12 months\ngauge pen",
    );
    let head =
        head.replace("size        900 x 700 mm", "size        900 x 700 mm\n    leave       at least 100 um");
    let tail = TAIL.replace(
        "    dry\n\napply",
        "    dry\n    read film at 4 places\n    polish with shine\n    read film at 4 places\n\nsupply shine, a polish\n\napply",
    );
    let usual = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let csv = usual.replace(",unit,", ",unit,by,").replace(",GU,", ",GU,Ada,");
    sound(&format!("{head}{MAP}{tail}"), &format!("{csv}{rows}"))
}

/// The part of a report from a heading to the next one.
fn part<'r>(report: &'r str, heading: &str) -> &'r str {
    let start = report.find(heading).unwrap_or_else(|| panic!("no {heading:?} in\n{report}"));
    let rest = &report[start..];
    let end = rest[heading.len()..].find("\n##").map_or(rest.len(), |at| at + heading.len());
    &rest[..end]
}

#[test]
fn a_gauge_that_drifts_is_said_to() {
    let report = report(
        "2025-06-02,baseline,tile,gloss-60,GU,Ada,92.0,92.1,91.9\n\
         2025-12-03,month 6,tile,gloss-60,GU,Ada,93.0,93.1,92.9\n",
    );
    let part = part(&report, "### Drift of the gauge of gloss-60");
    assert!(part.contains("The tile is declared as 92.0 GU."), "{part}");
    // Two readings agree within 0.4 GU, so one scatters by 0.4 / 2.8; twice its root of 2/3 is 0.23.
    assert!(part.contains("| month 6 | 3 | 93.0 | +1.0 | +1.0 | 0.2 |"), "{part}");
    assert!(part.contains("The gauge drifted most at month 6, by 1.0 GU"), "{part}");
}

/// The tile reads 1.0 more at month 6 than when fresh, from which changes count, so that they lie 1.0 too high.
#[test]
fn a_drift_is_told_with_the_way_in_which_it_moves_changes() {
    let rows = |late: &str| {
        report(&format!(
            "2025-06-10,fresh,tile,gloss-60,GU,Ada,92.0,92.1,91.9\n2025-12-03,month 6,tile,gloss-60,GU,Ada,{late}\n"
        ))
    };
    let up = rows("93.0,93.1,92.9");
    let side = "From fresh to month 6 the gauge of gloss-60 rose by 1.0 GU on its tile: levels at month 6 are read that much too high, so that a \
                loss looks smaller than it was, and a share held larger. Nothing is corrected by it.";
    assert!(part(&up, "### Drift of the gauge of gloss-60").contains(side), "{up}");
    let limits = part(&up, "## What this comparison cannot say");
    assert!(
        limits.contains(&format!("{side} In a difference between products of the same round it cancels.")),
        "{limits}"
    );
    let down = rows("91.0,91.1,90.9");
    assert!(
        down.contains("fell by 1.0 GU on its tile") && down.contains("a loss looks larger than it was"),
        "{down}"
    );
    // 0.1 is less than twice the scatter of two means of three, 0.23.
    assert!(!rows("92.1,92.2,92.0").contains("on its tile"));
}

#[test]
fn a_gauge_that_holds_is_not_told_apart_from_its_scatter() {
    let rows = |month: &str| format!("2025-06-02,baseline,tile,gloss-60,GU,Ada,92.0,92.1,91.9\n{month}");
    let held = report(&rows("2025-12-03,month 6,tile,gloss-60,GU,Ada,92.1,92.2,92.0\n"));
    assert!(
        part(&held, "### Drift of").contains("No drift is told apart from the gauge's own scatter"),
        "{held}"
    );
    let once = report(&rows(""));
    assert!(part(&once, "### Drift of").contains("read at one round only"), "{once}");
}

#[test]
fn hands_that_differ_are_told() {
    let second: String = [("A1", 86.0), ("A2", 86.1), ("A3", 86.0), ("A4", 85.9)]
        .map(|(section, level)| {
            format!("2025-06-10,fresh,{section},gloss-60,GU,Ben,{level},{level},{level}\n")
        })
        .concat();
    let report = report(&second);
    let part = part(&report, "### gloss-60 in several hands");
    assert!(part.contains("Ada and Ben read the same 4 sections at fresh, 3 readings each."), "{part}");
    assert!(part.contains("People differ (p below 0.001)."), "{part}");
    assert!(part.contains("Between operators (2 people, 1 degree of freedom)"), "{part}");
    assert!(part.contains("Any person (reproducibility, both together)"), "{part}");
}

#[test]
fn film_that_went_in_preparation_is_held_against_gauge_and_limit() {
    let report = report(
        "2025-06-01,prep 1,panel,film,um,Ada,118,121,116\n\
         2025-06-01,prep 2,panel,film,um,Ada,115,119,99\n",
    );
    let part = part(&report, "### Film before and after preparation");
    assert!(
        part.contains("Read on 3 places of the panel at prep 1 and again at prep 2: it went down by 7.3 µm"),
        "{part}"
    );
    assert!(part.contains("has 99.0 µm left, below the 100.0 µm that the study says must be left"), "{part}");
    // One standard deviation of 1 um: twice the root of 2/3 of it.
    assert!(part.contains("a scatter of ± 1.6 µm (two standard uncertainties)."), "{part}");
}
