//! Wires the phases in memory: texts in, findings and artifacts out.

use crate::catalog::Catalog;
use crate::checks;
use crate::diag::{self, Finding, Page};
use crate::readings::{self, Readings};
use crate::study::{self, Study};
use crate::syntax;
use crate::text::{FileId, SourceFile, Sources};
use jiff::civil::Date;

/// A study file that was read; it names the readings files that it wants.
#[derive(Debug)]
pub struct Opened {
    /// The study as it was understood.
    pub study: Study,
    sources: Sources,
    findings: Vec<Finding>,
}

/// What a check of a study gives.
#[derive(Debug)]
pub struct Outcome {
    /// The study as it was understood.
    pub study: Study,
    /// The inputs, for drawing findings.
    pub sources: Sources,
    /// The readings as they were placed.
    pub readings: Readings,
    /// Every finding in file order.
    pub findings: Vec<Finding>,
}

/// Reads a study file.
pub fn open(name: &str, text: &str) -> Opened {
    let sources = Sources::new(SourceFile::new(name, text));
    let text = sources.iter().next().map_or("", |file| file.text.as_str());
    let (tree, mut findings) = syntax::parse(text);
    let (study, more) = study::resolve(&tree, Catalog::built_in());
    findings.extend(more);
    Opened { study, sources, findings }
}

impl Opened {
    /// Checks the study with its readings files, in the order in which the study names them; a file
    /// that is not there is `None`. `today` is the day on which the study is looked at.
    pub fn check(self, files: Vec<Option<Vec<u8>>>, today: Date) -> Outcome {
        let Self { study, mut sources, mut findings } = self;
        let mut next = 0;
        let mut input = |bytes: &Option<Vec<u8>>| {
            bytes.as_ref().map(|_| {
                next += 1;
                FileId(next)
            })
        };
        let ids: Vec<Option<FileId>> = files.iter().map(&mut input).collect();
        let inputs: Vec<Option<readings::Input<'_>>> = ids
            .iter()
            .zip(&files)
            .map(|(id, bytes)| Some(readings::Input { file: (*id)?, bytes: bytes.as_deref()? }))
            .collect();
        let (readings, more) = readings::read(&study, &inputs);
        findings.extend(more);
        let context =
            checks::Context { study: &study, catalog: Catalog::built_in(), readings: &readings, today };
        findings.extend(checks::run(&context));
        for (file, bytes) in study.readings.iter().zip(files) {
            if let Some(bytes) = bytes {
                sources.add(SourceFile::new(file.name.value.clone(), text_of(bytes)));
            }
        }
        diag::sort(&mut findings);
        Outcome { study, sources, readings, findings }
    }
}

/// The text of a file for drawing findings; bytes that are no text show as a replacement character.
fn text_of(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).unwrap_or_else(|error| String::from_utf8_lossy(error.as_bytes()).into_owned())
}

/// Checks a study whose readings files are at hand under the names that the study gives them.
pub fn check(name: &str, text: &str, files: &[(String, Vec<u8>)], today: Date) -> Outcome {
    let opened = open(name, text);
    let find = |wanted: &str| files.iter().find(|(name, _)| name == wanted).map(|(_, bytes)| bytes.clone());
    let files = opened.study.readings.iter().map(|file| find(&file.name.value)).collect();
    opened.check(files, today)
}

/// The page of every code, in the order of the phases.
pub fn pages() -> impl Iterator<Item = &'static Page> {
    let checks = checks::CHECKS.iter().map(|check| &check.page);
    syntax::PAGES.iter().chain(study::PAGES).chain(readings::PAGES).chain(checks)
}
