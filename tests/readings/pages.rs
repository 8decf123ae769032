//! The page of every code of this phase: its bad example gives the finding and no other error, its good one does not.

use tapeline::checks::example;
use tapeline::diag::{Finding, Severity};
use tapeline::pipeline::{self, Day};
use tapeline::readings::PAGES;

/// The findings of an example in the frame, on the example's day.
fn findings(piece: &str) -> Vec<Finding> {
    let example = example(piece);
    assert!(!example.files.is_empty(), "every example of this phase has a file");
    let day = Day::Today(example.date.parse().unwrap());
    pipeline::check("example.study", &example.study, &example.files, day).findings
}

#[test]
fn bad_examples_give_their_finding_and_no_other_error() {
    for page in PAGES {
        let found = findings(page.bad);
        let own = found.iter().find(|finding| finding.code == page.code);
        assert_eq!(own.map(|finding| finding.severity), Some(page.severity), "{}: {found:#?}", page.code);
        let other = found.iter().find(|one| one.code != page.code && one.severity == Severity::Error);
        assert!(other.is_none(), "{}: {other:#?}", page.code);
    }
}

#[test]
fn good_examples_give_neither_it_nor_an_error() {
    for page in PAGES {
        let found = findings(page.good);
        let wrong = found.iter().find(|one| one.code == page.code || one.severity == Severity::Error);
        assert!(wrong.is_none(), "{}: {wrong:#?}", page.code);
    }
}

#[test]
fn every_code_that_is_raised_has_its_page() {
    let known: Vec<&str> = PAGES.iter().map(|page| page.code).collect();
    let mut sorted = known.clone();
    sorted.sort_unstable();
    sorted.dedup();
    assert_eq!(sorted.len(), known.len(), "a code has two pages");
    for page in PAGES {
        for one in findings(page.bad).iter().filter(|one| one.place.file != tapeline::text::FileId::STUDY) {
            let told = pipeline::pages().any(|page| page.code == one.code);
            assert!(told, "{} has no page", one.code);
        }
    }
}
