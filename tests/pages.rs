//! Every page of `explain`: its bad example gives its finding, its good one does not, and no code has two pages.

use std::collections::BTreeSet;
use tapeline::checks::{Example, example};
use tapeline::diag::Finding;
use tapeline::pipeline::{self, Day};

fn findings(piece: &str) -> Vec<Finding> {
    let Example { study, files, date } = example(piece);
    let Ok(today) = date.parse() else { panic!("no day: {date}") };
    pipeline::check("example.study", &study, &files, Day::Today(today)).findings
}

fn told(findings: &[Finding]) -> String {
    findings
        .iter()
        .map(|finding| format!("  {}: {}", finding.code, finding.message))
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn the_bad_example_gives_the_finding() {
    let silent: Vec<String> = pipeline::pages()
        .filter_map(|page| {
            let found = findings(page.bad);
            let speaks = found.iter().any(|finding| finding.code == page.code);
            (!speaks).then(|| format!("{}\n{}", page.code, told(&found)))
        })
        .collect();
    assert!(silent.is_empty(), "\n{}", silent.join("\n"));
}

#[test]
fn the_good_example_does_not() {
    let speaking: Vec<String> = pipeline::pages()
        .filter_map(|page| {
            let found = findings(page.good);
            let speaks = found.iter().any(|finding| finding.code == page.code);
            speaks.then(|| format!("{}\n{}", page.code, told(&found)))
        })
        .collect();
    assert!(speaking.is_empty(), "\n{}", speaking.join("\n"));
}

#[test]
fn no_code_has_two_pages_and_every_page_is_complete() {
    let mut codes = BTreeSet::new();
    for page in pipeline::pages() {
        assert!(codes.insert(page.code), "two pages for {}", page.code);
        for text in [page.what, page.why, page.mend, page.source, page.bad] {
            assert!(!text.trim().is_empty(), "{} has an empty part", page.code);
        }
    }
    assert!(codes.len() > 100, "{} codes", codes.len());
}
