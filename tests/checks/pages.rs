//! Every check is held to its page: the bad example makes it speak, the good one keeps it silent.

use super::{findings, told};
use tapeline::checks::{CHECKS, Check};
use tapeline::diag::{Finding, Severity};

/// Runs a claim over every check and fails with all that break it, not with the first.
fn each(claim: impl Fn(&Check) -> Result<(), String>) {
    let broken: Vec<String> = CHECKS
        .iter()
        .filter_map(|check| claim(check).err().map(|why| format!("{}: {why}", check.page.code)))
        .collect();
    assert!(broken.is_empty(), "\n{}", broken.join("\n\n"));
}

#[test]
fn the_frame_is_sound() {
    let (study, findings) = findings("");
    assert!(findings.is_empty(), "\n{}", told(&study, &findings));
}

#[test]
fn a_bad_example_gives_its_finding_and_no_other_error() {
    each(|check| {
        let (study, findings) = findings(check.page.bad);
        let own: Vec<&Finding> = findings.iter().filter(|finding| finding.code == check.page.code).collect();
        let other = findings.iter().any(|f| f.severity == Severity::Error && f.code != check.page.code);
        let usual = own.iter().any(|finding| finding.severity == check.page.severity);
        if usual && !other { Ok(()) } else { Err(format!("got\n{}", told(&study, &findings))) }
    });
}

#[test]
fn one_mistake_is_one_finding() {
    each(|check| {
        let (study, findings) = findings(check.page.bad);
        let own = findings.iter().filter(|finding| finding.code == check.page.code).count();
        if own <= 1 { Ok(()) } else { Err(format!("speaks {own} times\n{}", told(&study, &findings))) }
    });
}

#[test]
fn a_good_example_is_silent_and_has_no_error() {
    each(|check| {
        let (study, findings) = findings(check.page.good);
        let speaks = findings.iter().any(|f| f.code == check.page.code || f.severity == Severity::Error);
        if speaks { Err(format!("got\n{}", told(&study, &findings))) } else { Ok(()) }
    });
}

#[test]
fn findings_point_at_a_place_and_say_what_to_do() {
    each(|check| {
        let (study, findings) = findings(check.page.bad);
        let own = findings.iter().filter(|finding| finding.code == check.page.code);
        for finding in own {
            let span = finding.place.span;
            if study.get(span.range()).is_none_or(str::is_empty) && finding.place.file.0 == 0 {
                return Err(format!("points at nothing: {}", finding.message));
            }
            if finding.help.is_empty() || finding.about.is_empty() {
                return Err(format!("lacks help, or a place for a waiver: {}", finding.message));
            }
            if finding.message.ends_with('.') || finding.message.contains('!') {
                return Err(format!("is not one plain sentence without its stop: {}", finding.message));
            }
        }
        Ok(())
    });
}

#[test]
fn pages_are_complete_and_codes_are_kebab_and_unique() {
    let mut codes: Vec<&str> = CHECKS.iter().map(|check| check.page.code).collect();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), CHECKS.len());
    each(|check| {
        let page = check.page;
        let texts = [page.what, page.why, page.mend, page.bad, page.good, page.source];
        let kebab =
            page.code.split('-').all(|word| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase()));
        let banned = ["best", "proved", "significant", "guaranteed", "!"];
        let plain = !texts[..3].iter().any(|text| banned.iter().any(|word| text.contains(word)));
        if kebab && plain && texts.iter().all(|text| !text.is_empty()) {
            Ok(())
        } else {
            Err(String::from("page"))
        }
    });
}
