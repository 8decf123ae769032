//! Wires the phases in memory: texts in, findings and artifacts out.

use crate::analysis::analyse;
use crate::catalog::Catalog;
use crate::checks;
use crate::checks::waivers::{self, Waiving};
use crate::diag::{self, Finding, Page, Waived};
use crate::outputs::{self, Artifact, Fault};
use crate::readings::{self, Readings};
pub use crate::report::Assumed;
use crate::report::{self, Input, Material};
use crate::study::{self, Study};
use crate::syntax;
use crate::text::{FileId, MARK, SourceFile, Sources};
use jiff::civil::Date;
use sha2::{Digest, Sha256};

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
    /// Findings that the study waives, with the reasons; the method of the report prints them.
    pub waived: Vec<Waived>,
    /// The day on which the study was looked at.
    pub today: Date,
}

/// The papers that are printed for the work at the panel.
pub const PAPERS: &[&str] = &["map.svg", "checklist.html", "safety-cards.html"];

/// The comparison, in both forms, with its map and what it was made from.
pub const REPORT: &[&str] = &["report.md", "report.html", "map.svg", "readings.csv", "findings.json"];

/// Version of the tool, as every page prints it.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

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
        let rows: Vec<Option<readings::Input<'_>>> = ids
            .iter()
            .zip(&files)
            .map(|(id, bytes)| Some(readings::Input { file: (*id)?, bytes: bytes.as_deref()? }))
            .collect();
        let (readings, more) = readings::read(&study, &rows);
        findings.extend(more);
        let context =
            checks::Context { study: &study, catalog: Catalog::built_in(), readings: &readings, today };
        findings.extend(checks::run(&context));
        for (file, bytes) in study.readings.iter().zip(files) {
            if let Some(bytes) = bytes {
                sources.add(SourceFile::new(file.name.value.clone(), text_of(bytes)));
            }
        }
        let Waiving { mut findings, mut waived } = waivers::apply(&study, findings);
        diag::sort(&mut findings);
        waived.sort_by_key(|waived| waived.finding.place);
        Outcome { study, sources, readings, findings, waived, today }
    }
}

impl Outcome {
    /// The first day that the study names, for pages that are printed before any reading.
    fn first_day(&self) -> Option<Date> {
        let begins = self.study.begins.as_ref().map(|begins| begins.value);
        let apply = self.study.apply.as_ref().and_then(|apply| apply.on.as_ref()).map(|on| on.value);
        begins.or(apply).or_else(|| self.study.rounds.iter().filter_map(study::Round::date).min())
    }

    /// Makes outputs: those named, or all of them. The pages carry the day `as_of` if it is given, else
    /// that of the last reading, else the first day that the study names.
    ///
    /// # Errors
    /// A template that does not fit its view, which is a fault of the tool.
    pub fn build(&self, names: Option<&[&str]>, as_of: Option<Date>) -> Result<Vec<Artifact>, Fault> {
        self.with_material(as_of, |material| match names {
            None => outputs::build(material),
            Some(names) => names.iter().filter_map(|name| outputs::build_one(name, material)).collect(),
        })
    }

    /// What the layout of the study can tell apart, as text for a terminal.
    pub fn plan(&self, assumed: Assumed, as_of: Option<Date>) -> String {
        self.with_material(as_of, |material| outputs::plan_text(&report::plan(material, assumed)))
    }

    fn with_material<T>(&self, as_of: Option<Date>, make: impl FnOnce(&Material<'_>) -> T) -> T {
        let date =
            as_of.or_else(|| self.readings.last_date()).or_else(|| self.first_day()).unwrap_or(self.today);
        let analysis = analyse(&self.study, &self.readings, date);
        let inputs: Vec<Input> = self.sources.iter().map(input).collect();
        make(&Material {
            study: &self.study,
            catalog: Catalog::built_in(),
            readings: &self.readings,
            analysis: &analysis,
            findings: &self.findings,
            waived: &self.waived,
            sources: &self.sources,
            inputs: &inputs,
            date,
            version: VERSION,
        })
    }
}

/// An input with its SHA-256 (FIPS 180-4), over the bytes of the file: those of the text, and the mark before it.
fn input(file: &SourceFile) -> Input {
    use std::fmt::Write;
    let mut hash = Sha256::new();
    if file.marked {
        hash.update(MARK.to_string());
    }
    hash.update(&file.text);
    let sha256 = hash.finalize().iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    });
    Input { name: file.base_name().to_owned(), sha256 }
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
    syntax::PAGES.iter().chain(study::PAGES).chain(readings::PAGES).chain(waivers::PAGES).chain(checks)
}
