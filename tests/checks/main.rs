//! Checks: each is held to its page, and the harder ones to cases from the bench.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::format_push_string,
    reason = "a test may stop at what it did not expect"
)]

mod map;
mod masonry;
mod names;
mod one_mistake;
mod pairs;
mod pages;
mod prep;
mod prep_readings;
mod record_against_plan;
mod record_file;
mod schedule;
mod some_sections;
mod strength;
mod taken;
mod waivers;

use tapeline::checks::{Example, example};
use tapeline::diag::Finding;
use tapeline::pipeline::{self, Day};

/// Completes a piece of a study with the frame and checks it; the study text and its findings.
fn findings(piece: &str) -> (String, Vec<Finding>) {
    let Example { study, files, date } = example(piece);
    let Ok(today) = date.parse() else { panic!("no day: {date}") };
    let outcome = pipeline::check("example.study", &study, &files, Day::Today(today));
    (study, outcome.findings)
}

/// The codes that a piece gives, each once for each finding.
fn codes(piece: &str) -> Vec<&'static str> {
    findings(piece).1.iter().map(|finding| finding.code).collect()
}

/// The first finding of a code; fails with everything that was found where there is none.
fn found(piece: &str, code: &str) -> Finding {
    let (study, findings) = findings(piece);
    match findings.iter().find(|finding| finding.code == code) {
        Some(first) => first.clone(),
        None => panic!("no {code} in\n{}", told(&study, &findings)),
    }
}

/// Findings with the line that they point at, for a message of a test that fails.
fn told(study: &str, findings: &[Finding]) -> String {
    let line = |finding: &Finding| {
        let before = study.get(..finding.place.span.start as usize).unwrap_or(study);
        let line = study.lines().nth(before.matches('\n').count()).unwrap_or("");
        format!("{} {}: {} | {line}", finding.severity.word(), finding.code, finding.message)
    };
    findings.iter().map(line).collect::<Vec<_>>().join("\n")
}
