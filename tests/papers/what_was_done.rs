//! That sentences on method say what was done with the very study, where sections are lost, spreads differ or nothing can be judged.

use super::output;
use tapeline::diag::Severity;
use tapeline::pipeline::{Day, check};

const SLATS: &str = include_str!("../../examples/bench-slats/bench-slats.study");
const ROOF: &str = include_str!("../../examples/bench-slats/roof.csv");
const LAKE: &str = include_str!("../../examples/bench-slats/lake.csv");
const LOG: &str = include_str!("../../examples/bench-slats/log.csv");
const DECK: &str = include_str!("../../examples/foredeck/foredeck.study");
const DECK_ROWS: &str = include_str!("../../examples/foredeck/readings.csv");
/// Its bare sections but one.
const CODES: [&str; 5] = ["A4", "B5", "C2", "D1", "D5"];
const DECK_CLIMATE: &str = include_str!("../../examples/foredeck/climate.csv");

fn report(text: &str, files: &[(&str, String)]) -> String {
    let files: Vec<(String, Vec<u8>)> =
        files.iter().map(|(name, rows)| ((*name).to_owned(), rows.clone().into_bytes())).collect();
    let outcome = check("a.study", text, &files, Day::AsOf("2027-12-31".parse().unwrap()));
    let errors: Vec<_> = outcome.findings.iter().filter(|one| one.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    output(&outcome, "report.md")
}

fn without(rows: &str, cell: &str) -> String {
    rows.split_inclusive('\n').filter(|row| !row.contains(cell)).collect()
}

fn slats(text: &str, roof: String, lake: String) -> String {
    report(text, &[("roof.csv", roof), ("lake.csv", lake), ("log.csv", LOG.to_owned())])
}

/// Bare has a mean of its own at each site in the fit of the products, and marks are ranked as the sentence says.
#[test]
fn where_sections_are_lost_the_two_fits_and_the_ranks_are_told() {
    let lost = slats(SLATS, without(ROOF, "month 12,A5,"), without(LAKE, "month 12,B1,"));
    assert!(
        lost.contains("comes from a fit in which bare has a mean of its own at each site, so that the same product may stand"),
        "{lost}"
    );
    assert!(!lost.contains("of the products alone"), "{lost}");
    assert!(
        lost.contains("where they are ranked within pieces and sites, as is done here since sections stand on these unevenly"),
        "{lost}"
    );
    assert!(!lost.contains("however far apart"), "{lost}");
}

/// In R: 0.575 on 19 degrees of freedom with bare in it, 0.504 on 18 without what bare does otherwise by site.
#[test]
fn a_spread_other_than_that_against_bare_stands_where_its_tables_stand() {
    let whole = slats(SLATS, ROOF.to_owned(), LAKE.to_owned());
    let own = "That spread is 0.504 dE00 on 18 degrees of freedom, that against bare 0.575 on 19 degrees of freedom.";
    // Who may lead, all pairs, and the product to beat.
    assert_eq!(whole.matches(own).count(), 3, "{whole}");
    assert!(
        whole.contains(
            "lies off what its treatment and its planks and sites together give it by least squares"
        ),
        "{whole}"
    );
}

#[test]
fn spreads_that_differ_at_several_sites_are_said_to_be_pooled_and_why() {
    let (plain, groups) = SLATS.split_once("\ngroup plank on roof").unwrap();
    let (_, rest) = groups.split_once("\napply\n").unwrap();
    let text = format!("{plain}\napply\n{rest}").replacen("    begins", "    spreads differ\n    begins", 1);
    let told = slats(&text, ROOF.to_owned(), LAKE.to_owned());
    assert!(told.contains("a difference here is an average over sites, of means with one error"), "{told}");
    assert!(told.contains("no group keeps its own spread, since means are averaged over these"), "{told}");
    assert!(
        told.contains(
            "compared by the means of their sections at each site, averaged over all (means of cells;"
        ),
        "{told}"
    );
    assert!(!told.contains("within pieces they are pooled") && !told.contains("randomised blocks"), "{told}");
}

#[test]
fn pairs_that_cannot_be_judged_are_not_called_open() {
    let text: String = DECK
        .replace("triton   bare     mussel", "triton   .        mussel")
        .replace("cockle   bare     .", "cockle   .        .")
        .replace("| .      bare     .        .        scallop", "| .      .        .        .        scallop")
        .replace("| bare   cowrie   .        .        bare ", "| .      cowrie   .        .        .    ");
    let rows = CODES.iter().fold(DECK_ROWS.to_owned(), |rows, code| without(&rows, &format!(",{code},")));
    let told = report(&text, &[("readings.csv", rows), ("climate.csv", DECK_CLIMATE.to_owned())]);
    assert!(told.contains("\n## 28 pairs of products that cannot be judged\n"), "{told}");
    assert!(!told.contains("28 pairs of products not settled"), "{told}");
}
