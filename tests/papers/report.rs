//! What the report says besides its answer: shares held, limits from the data, words for few products.

use super::{HEAD, MAP, TAIL, changes, output, readings, sound, study};

fn report(text: &str, csv: &str) -> String {
    output(&sound(text, csv), "report.md")
}

/// The part of a report from a heading to the next one.
fn part<'r>(report: &'r str, heading: &str) -> &'r str {
    let start = report.find(heading).unwrap_or_else(|| panic!("no {heading:?} in\n{report}"));
    let rest = &report[start..];
    let end = rest[heading.len()..].find("\n## ").map_or(rest.len(), |at| at + heading.len());
    &rest[..end]
}

fn usual() -> String {
    report(&study(MAP, ""), &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3))
}

#[test]
fn the_share_held_is_printed_with_its_interval_and_its_sections() {
    let report = usual();
    // 83/85, 79/85, 78/85, 76/85 and 73/85 in percent; 0.3 GU are 0.353 points on either side.
    let part = part(
        &report,
        "## At month 6 products held 89.4 to 97.6 % of their gloss-60 at fresh, bare sections 85.9 %",
    );
    // s = sqrt((8 x 0.124567 + 4 x 0.124567) / 7) = 0.4621 on 4 x 1 + 3 degrees of freedom; t = 2.3646; two sections:
    // 0.77, four: 0.55.
    assert!(part.contains("0.46 percentage points, 7 degrees of freedom"), "{part}");
    assert!(part.contains("| Bay spray | 2 | 97.6 | 96.9 to 98.4 | 97.3 to 98.0 |"), "{part}");
    assert!(part.contains("| bare | 4 | 85.9 | 85.3 to 86.4 | 85.5 to 86.2 |"), "{part}");
}

#[test]
fn what_less_is_better_of_has_no_share_held() {
    let text = study(MAP, "")
        .replace("higher is better", "lower is better")
        .replace("spent       below", "spent       above");
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    assert!(!report(&text, &csv).contains("held (retention): the mean of a section"));
}

#[test]
fn the_error_of_the_gauge_is_among_the_limits_where_it_counts() {
    let limits = |report: &str| part(report, "## What this comparison cannot say").to_owned();
    let usual = limits(&usual());
    let said = "is not in the shares held and the times to spent: pen has a certificate, whose error the study does not \
                state, and no tile. In a difference to bare of the same round it cancels.";
    assert!(usual.contains(said), "{usual}");
    // Without a share or a time there is nothing that the error could be missing from.
    let text = format!("{HEAD}{MAP}{TAIL}")
        .replace("higher is better", "neither is better")
        .replace("    spent       below 80 % of fresh\n", "");
    let other = limits(&report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3)));
    assert!(!other.contains("In a difference to bare"), "{other}");
}

#[test]
fn two_gauges_are_said_to_part_the_shares() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let gauge = |line: &str| if line.contains("month 6") { "brush" } else { "pen" };
    let lines = csv.lines().map(|line| match line.split_once(",gloss-60,") {
        Some((before, after)) => format!("{before},gloss-60,{},{after}\n", gauge(line)),
        None => line.replace("measure,", "measure,gauge,") + "\n",
    });
    let text = study(MAP, "").replace("measure gloss-60", "gauge brush\n    reads       gloss-60\n    spot        10 x 10 mm\n    foot        100 x 40 mm\n    two readings agree within 0.4 GU\n    certified   2025-05-01 for 12 months\n\nmeasure gloss-60");
    let report = report(&text, &lines.collect::<String>());
    assert!(
        report.contains("Gloss-60 was read with brush and pen."),
        "{}",
        part(&report, "## What this comparison")
    );
    assert!(!usual().contains("was read with"));
}

#[test]
fn people_and_sites_are_those_of_the_study() {
    let first = |report: &str| {
        let part = part(report, "## What this comparison cannot say");
        part.lines().find(|line| line.starts_with("- ")).unwrap().to_owned()
    };
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    assert_eq!(
        first(&usual()),
        "- It is one panel. Who put the products on and who read is not said. Another paint, climate, upkeep or hand may \
         order the products otherwise."
    );
    let text = study(MAP, "\nexposure \"the quay\"\n    put out     2025-06-11\n")
        .replace("2025-06-03\n", "2025-06-03\n    by          \"Ina\"\n");
    assert!(first(&report(&text, &csv)).starts_with(
        "- It is one panel at one site, the quay. The products were put on by one person (Ina); who read is not said."
    ));
    let by = |name: &str| {
        let lines = csv.lines().map(|line| match line.split_once(",gloss-60,") {
            Some((before, after)) => format!("{before},gloss-60,{name},{after}\n"),
            None => line.replace("measure,", "measure,by,") + "\n",
        });
        lines.collect::<String>()
    };
    assert!(first(&report(&text, &by("Ina"))).contains("put on and read by one person (Ina)."));
    let two = by("Ina").replacen("Ina", "Odo", 20);
    assert!(
        first(&report(&text, &two))
            .contains("by one person (Ina); readings were taken by 2 people (Ina and Odo).")
    );
}

#[test]
fn every_mean_of_the_appendix_has_its_uncertainty() {
    // Three readings 0.1 apart scatter by 0.1, less than the gauge's 0.4 / 2.8; that over the root of 3 is 0.082.
    let report = usual();
    assert!(
        report.contains("| A1 | Bay spray | 2025-06-02 | 84.9 85.0 85.1 | 3 | 85.00 | 0.10 | 0.08 |"),
        "{report}"
    );
}
