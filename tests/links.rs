//! Links of the reports of all examples: a claim leads to its table, a table to its readings, and no link leads nowhere.

#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test reads its files")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn golden(folder: &str, file: &str) -> String {
    let root: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    fs::read_to_string(root.join(folder).join(file)).unwrap()
}

const EXAMPLES: [&str; 5] = ["beginner", "bench-slats", "coach-door", "foredeck", "marked-cladding"];

/// The texts between two marks.
fn between<'t>(text: &'t str, before: &str, after: char) -> Vec<&'t str> {
    text.split(before).skip(1).filter_map(|rest| rest.split(after).next()).collect()
}

/// An address as a browser takes it (RFC 3986, section 2.1).
fn decoded(address: &str) -> String {
    let (mut bytes, mut rest) = (Vec::new(), address.bytes());
    while let Some(byte) = rest.next() {
        let code: Option<[u8; 2]> = (byte == b'%').then(|| [rest.next().unwrap(), rest.next().unwrap()]);
        bytes.push(
            code.map_or(byte, |code| u8::from_str_radix(std::str::from_utf8(&code).unwrap(), 16).unwrap()),
        );
    }
    String::from_utf8(bytes).unwrap()
}

#[test]
fn every_link_leads_to_a_place_on_its_page() {
    let mut wrong = Vec::new();
    for folder in EXAMPLES {
        let (page, text) = (golden(folder, "report.html"), golden(folder, "report.md"));
        let all = between(&page, " id=\"", '"');
        let ids: BTreeSet<&str> = all.iter().copied().collect();
        assert_eq!(all.len(), ids.len(), "{folder}: two places have one name");
        let targets = between(&page, "href=\"#", '"').into_iter().chain(between(&text, "](#", ')'));
        let targets: Vec<String> = targets.map(decoded).collect();
        assert!(targets.len() > 10, "{folder}: {} links", targets.len());
        wrong.extend(
            targets.iter().filter(|to| !ids.contains(to.as_str())).map(|to| format!("{folder}: {to}")),
        );
        for index in between(&golden(folder, "index.html"), "href=\"report.html#", '"') {
            assert!(ids.contains(decoded(index).as_str()), "{folder}: {index}");
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The first page says the same sentences as the report, and each leads to the same table.
#[test]
fn the_index_links_its_sentences_as_the_report_does() {
    for folder in EXAMPLES {
        let (page, index) = (golden(folder, "report.html"), golden(folder, "index.html"));
        let (_, answer) = page.split_once("<section class=\"answer\">").unwrap();
        let paragraphs = |text: &str, link: &str| {
            let (told, _) = text.split_once("<ul").unwrap();
            let told = between(told, "<p><a href=\"", '"').into_iter().map(decoded).collect::<Vec<_>>();
            told.iter().map(|to| to.strip_prefix(link).unwrap().to_owned()).collect::<Vec<_>>()
        };
        let (_, first) = index.split_once("<h2 class=\"headline\">").unwrap();
        let told = paragraphs(first, "report.html#");
        assert!(!told.is_empty(), "{folder}");
        assert_eq!(told, paragraphs(answer, "#"), "{folder}");
    }
}

/// A sentence of the answer that has a number is linked to the part that shows it.
#[test]
fn every_claim_of_the_answer_has_its_table() {
    let mut linked = 0;
    for folder in EXAMPLES {
        let page = golden(folder, "report.html");
        let (_, answer) = page.split_once("<section class=\"answer\">").unwrap();
        let (answer, _) = answer.split_once("</section>").unwrap();
        let claims = answer.split("</h2>").nth(1).unwrap();
        let claims = claims.split("<p>").skip(1).flat_map(|claim| claim.split("<li>"));
        for claim in claims.filter(|claim| claim.contains(|c: char| c.is_ascii_digit())) {
            assert!(claim.starts_with("<a href=\"#"), "{folder}: {claim}");
            linked += 1;
        }
    }
    assert!(linked > 15, "{linked}");
}

/// Parts with a table that no reading made: what was planned, done, said or found.
const NOT_READ: [&str; 16] = [
    "What was cut from",
    "How the panel",
    "How the products",
    "how the products",
    "What a cycle is",
    "rounds read",
    "between rounds",
    "bought",
    "incident",
    "waived",
    "Measures",
    "Gauges",
    "left",
    "What this report",
    "What each product costs",
    "Words",
];

#[test]
fn every_table_of_readings_leads_to_them() {
    for folder in EXAMPLES {
        let text = golden(folder, "report.md");
        let (parts, _) = text.split_once("\n## Every reading").unwrap_or((&text, ""));
        for part in parts.split("\n## ").skip(1).flat_map(|part| part.split("\n### ")) {
            let heading = part.lines().next().unwrap();
            let read = part.contains("\nReadings: [");
            let other = NOT_READ.iter().any(|words| heading.contains(words))
                || heading.contains("Weather")
                || heading.contains("climate file")
                || heading.contains("Drift");
            let judged =
                heading.contains("readings were left out") || heading.contains("reading was left out");
            if part.contains("\n| ---") && (!other || judged) {
                assert!(read, "{folder}: {heading}");
            }
        }
    }
}

/// What stands in the file only is pointed to by its lines, which are of that measure and round.
#[test]
fn lines_of_the_file_of_readings_are_those_of_the_link() {
    for folder in EXAMPLES {
        let (text, file) = (golden(folder, "report.md"), golden(folder, "readings.csv"));
        let rows: Vec<Vec<&str>> = file.lines().map(|line| line.split(',').collect()).collect();
        for link in between(&text, "](readings.csv#row=", ')') {
            let (first, last) = link.split_once('-').unwrap();
            let (first, last): (usize, usize) = (first.parse().unwrap(), last.parse().unwrap());
            let of: BTreeSet<(&str, &str)> =
                rows[first - 1..last].iter().map(|row| (row[1], row[4])).collect();
            assert_eq!(of.len(), 1, "{folder}: {link} is of {of:?}");
        }
        // Readings of one measure and round stand together; those of the tile and of the preparation come last.
        let on_sections = rows[1..].iter().filter(|row| !["tile", "panel"].contains(&row[2]));
        let mut seen: Vec<(&str, &str)> = on_sections.map(|row| (row[1], row[4])).collect();
        seen.dedup();
        assert_eq!(seen.len(), seen.iter().collect::<BTreeSet<_>>().len(), "{folder}: {seen:?}");
    }
}
