//! The documents are true: every study in them is read, and every example is sound.
//!
//! A block marked `study` is a piece of a study and is completed with the sound study of the checks; one
//! marked `study whole` is a file as it stands. Both must be read without an error of reading or binding.

#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test reads documents and examples")]

use jiff::civil::Date;
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::catalog::Catalog;
use tapeline::checks::example;
use tapeline::diag::{Finding, Severity};
use tapeline::pipeline::{self, Day};
use tapeline::{study, syntax};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A block of a document: the line on which it begins, how it is marked, and its text.
struct Fenced {
    line: usize,
    mark: String,
    text: String,
}

fn fenced(page: &str) -> Vec<Fenced> {
    let mut blocks: Vec<Fenced> = Vec::new();
    let mut open = false;
    for (at, line) in page.lines().enumerate() {
        match line.strip_prefix("```") {
            Some(_) if open => open = false,
            Some(mark) => {
                open = true;
                blocks.push(Fenced { line: at + 1, mark: mark.trim().to_owned(), text: String::new() });
            }
            None if open => {
                let block = blocks.last_mut().unwrap();
                block.text.push_str(line);
                block.text.push('\n');
            }
            None => {}
        }
    }
    assert!(!open, "a block is not closed");
    blocks
}

/// Errors of reading and binding.
fn errors(text: &str) -> Vec<Finding> {
    let (tree, mut findings) = syntax::parse(text);
    findings.extend(study::resolve(&tree, Catalog::built_in(), None).1);
    findings.retain(|finding| finding.severity == Severity::Error);
    findings
}

fn told(text: &str, finding: &Finding) -> String {
    let before = &text[..(finding.place.span.start as usize).min(text.len())];
    let line = text.lines().nth(before.matches('\n').count()).unwrap_or_default();
    format!("  {}: {} | {}", finding.code, finding.message, line.trim())
}

/// How many studies a document holds; fails with all that are broken.
fn studies_of(page: &str) -> usize {
    let Ok(text) = fs::read_to_string(root().join(page)) else { return 0 };
    let mut wrong = Vec::new();
    let mut count = 0;
    for block in fenced(&text) {
        let whole = match block.mark.as_str() {
            "study" => example(&block.text).study,
            "study whole" => block.text.clone(),
            _ => continue,
        };
        count += 1;
        let errors = errors(&whole);
        if !errors.is_empty() {
            let errors: Vec<String> = errors.iter().map(|error| told(&whole, error)).collect();
            wrong.push(format!("{page}:{}\n{}", block.line, errors.join("\n")));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    count
}

#[test]
fn the_studies_in_the_reference_of_the_language_are_read() {
    let count = studies_of("grammar/README.md");
    assert!(count >= 20, "only {count} studies");
}

#[test]
fn the_studies_in_the_readme_are_read() {
    assert!(studies_of("README.md") >= 1);
}

/// The reference names every word that a line may begin with, so that nothing is only in the code.
#[test]
fn the_reference_names_every_word_that_begins_a_line() {
    let page = fs::read_to_string(root().join("grammar/README.md")).unwrap();
    let blocks = fs::read_to_string(root().join("src/syntax/blocks.rs")).unwrap();
    let rules = blocks.split("pub(super) static SYNONYMS").next().unwrap();
    let words: Vec<&str> = rules.split('"').skip(1).step_by(2).collect();
    assert!(words.len() > 100, "{words:?}");
    let known = |word: &str| {
        page.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '|')).any(|found| found == word)
    };
    let missing: Vec<&&str> = words.iter().filter(|word| !known(word)).collect();
    assert!(missing.is_empty(), "the reference does not name {missing:?}");
}

#[test]
fn a_broken_study_in_a_document_is_seen() {
    let page = "Text.\n```study\nprep\n    wsh with soap\n```\n```sh\nls\n```\n";
    let blocks = fenced(page);
    assert_eq!((blocks.len(), blocks[0].line, blocks[0].mark.as_str()), (2, 2, "study"));
    assert_eq!(errors(&example(&blocks[0].text).study).len(), 1);
}

fn examples() -> Vec<PathBuf> {
    let mut found = Vec::new();
    for folder in fs::read_dir(root().join("examples")).unwrap() {
        let folder = folder.unwrap().path();
        if folder.is_dir() {
            let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
            found.extend(files.filter(|path| path.extension().is_some_and(|end| end == "study")));
        }
    }
    found.sort();
    found
}

#[test]
fn every_example_has_no_error_whatever_the_day() {
    let examples = examples();
    assert!(examples.len() >= 3, "{examples:?}");
    for path in examples {
        let text = fs::read_to_string(&path).unwrap();
        let plan = pipeline::open("example.study", &text, Day::Today(Date::MAX)).study;
        let folder = path.parent().unwrap();
        let files: Vec<Option<Vec<u8>>> =
            plan.files().map(|name| fs::read(folder.join(&name.value)).ok()).collect();
        let last = plan.last_round().and_then(|round| plan.round(round).date());
        let begins = plan.begins.as_ref().map(|begins| begins.value);
        // Where the readings are not there yet, the day lies before the first round.
        let day: Date = if files.iter().all(Option::is_some) { last } else { begins }
            .or_else(|| plan.apply.as_ref()?.on.as_ref().map(|on| on.value))
            .unwrap();
        let outcome = pipeline::open("example.study", &text, Day::Today(day)).check(files);
        let errors: Vec<String> = outcome
            .findings
            .iter()
            .filter(|finding| finding.severity == Severity::Error)
            .map(|finding| told(&text, finding))
            .collect();
        assert!(errors.is_empty(), "{}\n{}", path.display(), errors.join("\n"));
    }
}

/// A folder of examples has a page that says what it shows.
#[test]
fn every_example_says_what_it_shows() {
    for path in examples() {
        let page = path.parent().unwrap().join("README.md");
        assert!(page.exists(), "{} has no README.md", path.display());
    }
}
