//! Wires the phases in memory: texts in, findings and artifacts out.

use crate::analysis::analyse;
use crate::catalog::{self, Catalog};
use crate::checks;
use crate::checks::waivers::{self, Waiving};
use crate::dealing;
pub use crate::dealing::{Deal, Order, Verdict};
use crate::diag::{self, Finding, Page, Waived};
use crate::hands;
use crate::outputs;
pub use crate::outputs::{Artifact, Fault, TemplateBlock, is_photo, template_blocks};
use crate::photos::{self, Photos};
use crate::readings::{self, Readings};
pub use crate::report::Assumed;
use crate::report::{self, Input, Material, PageBlock, SheetOf};
use crate::study::{self, RecordInput, Study};
use crate::syntax::{self, Tree};
pub use crate::text::NamedFile;
use crate::text::{self, FileId, SourceFile, Sources};
use jiff::civil::Date;
use std::panic::resume_unwind;
use std::thread;

/// A study file that was read; it names the files that it wants.
#[derive(Debug)]
pub struct Opened {
    /// The study as it was understood.
    pub study: Study,
    sources: Sources,
    tree: Tree,
    parsed: Vec<Finding>,
    resolved: Vec<Finding>,
    day: Day,
    photos: Option<Vec<NamedFile>>,
    pages: Option<Vec<NamedFile>>,
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
    /// The photos as they were placed.
    pub photos: Photos,
    /// Blocks of pages that the study changes.
    pub blocks: Vec<PageBlock>,
    /// Every finding on the day on which the study is looked at, in file order.
    pub findings: Vec<Finding>,
    /// The day on which the study is looked at.
    pub day: Day,
    /// What was found before any check.
    found: Vec<Finding>,
}

/// A map that was dealt out.
#[derive(Debug, Clone, PartialEq)]
pub struct Arranged {
    /// What goes where.
    pub deal: Deal,
    /// The seed that dealt it.
    pub seed: u32,
    /// The text of the study with it.
    pub text: String,
    /// The lines of it that changed, with the heads of their maps.
    pub rows: Vec<String>,
}

/// Five figures that belong to a text.
fn seed_of(text: &str) -> u32 {
    let digest = text::sha256(&[text.as_bytes()]);
    u32::from_str_radix(&digest[..8], 16).unwrap_or(0) % 100_000
}

/// The day on which a study is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Day {
    /// A day that was asked for. What was read, done and logged later is passed over, and every page
    /// bears this day.
    AsOf(Date),
    /// The clock's, which tells what is due or overdue. It reaches no output.
    Today(Date),
}

impl Day {
    /// The day itself.
    pub fn date(self) -> Date {
        let (Self::AsOf(date) | Self::Today(date)) = self;
        date
    }

    /// The day, if it was asked for.
    pub fn as_of(self) -> Option<Date> {
        if let Self::AsOf(date) = self { Some(date) } else { None }
    }
}

/// What outputs are made from: a study with its findings on the date that its pages bear.
///
/// That date is the one asked for, else the day of the last reading, so that the same files give the
/// same bytes on every day. Before the first reading there is none, and nothing is due.
#[derive(Debug)]
pub struct Edition<'o> {
    outcome: &'o Outcome,
    /// The date of every page.
    pub date: Option<Date>,
    /// Findings on that date in file order.
    pub findings: Vec<Finding>,
    /// Findings that the study waives, with the reasons; the method of the report prints them.
    pub waived: Vec<Waived>,
}

/// The papers that are printed for the work at the panel.
pub const PAPERS: &[&str] =
    &["map.svg", "checklist.html", "run-sheet.html", "safety-cards.html", "labels.html", "calendar.ics"];

/// The comparison, in both forms, with its map and what it was made from.
pub const REPORT: &[&str] = &["report.md", "report.html", "map.svg", "readings.csv", "findings.json"];

/// Version of the tool, as every page prints it.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// Reads a study file on a day.
pub fn open(name: &str, text: &str, day: Day) -> Opened {
    let sources = Sources::new(SourceFile::new(name, text));
    let text = sources.iter().next().map_or("", |file| file.text.as_str());
    let (tree, parsed) = syntax::parse(text);
    let (study, resolved) = study::resolve(&tree, Catalog::built_in(), day.as_of());
    Opened { study, sources, tree, parsed, resolved, day, photos: None, pages: None }
}

impl Opened {
    /// The same with the files of the folder of photos that the study names; without them the folder is not there.
    #[must_use]
    pub fn with_photos(self, files: Vec<NamedFile>) -> Self {
        Self { photos: Some(files), ..self }
    }

    /// The same with the files of the folder of pages that the study names; without them the folder is not there.
    #[must_use]
    pub fn with_pages(self, files: Vec<NamedFile>) -> Self {
        Self { pages: Some(files), ..self }
    }

    /// Checks the study with the files that it reads, in the order of [`Study::files`]; a file that is not there is
    /// `None`.
    pub fn check(self, files: Vec<Option<Vec<u8>>>) -> Outcome {
        let (mut sources, day) = (self.sources, self.day);
        let mut next = 0;
        let mut input = |bytes: &Option<Vec<u8>>| {
            bytes.as_ref().map(|_| {
                next += 1;
                FileId(next)
            })
        };
        let ids: Vec<Option<FileId>> = files.iter().map(&mut input).collect();
        let records: Vec<Option<RecordInput<'_>>> = ids
            .iter()
            .zip(&files)
            .skip(self.study.readings.len() + self.study.climate.len())
            .map(|(id, bytes)| Some(RecordInput { file: (*id)?, bytes: bytes.as_deref()? }))
            .collect();
        // What was done dates the rounds, so a study with a record is bound once more, now that the record is there.
        let (mut study, resolved) = if records.iter().all(Option::is_none) {
            (self.study, self.resolved)
        } else {
            study::resolve_with(&self.tree, &records, Catalog::built_in(), day.as_of())
        };
        // What counts from the last coat counts from the day on which hands have it on, as the run sheet and the calendar tell it.
        if let Some(last) = hands::later_last_coat(&study) {
            study::count_from_last_coat(&mut study, last);
        }
        let mut findings: Vec<Finding> = self.parsed.into_iter().chain(resolved).collect();
        let rows: Vec<Option<readings::Input<'_>>> = ids
            .iter()
            .zip(&files)
            .map(|(id, bytes)| Some(readings::Input { file: (*id)?, bytes: bytes.as_deref()? }))
            .collect();
        let (readings, more) = readings::read_as_of(&study, &rows, day.as_of());
        findings.extend(more);
        for (name, bytes) in study.files().zip(files) {
            if let Some(bytes) = bytes {
                sources.add(SourceFile::new(name.value.clone(), text_of(bytes)));
            }
        }
        let (photos, more) = photos::read(&study, self.photos.as_deref(), day.as_of());
        findings.extend(more);
        let (blocks, more) = outputs::read_blocks(&study, self.pages, &mut sources);
        findings.extend(more);
        let mut outcome =
            Outcome { study, sources, readings, photos, blocks, findings: Vec::new(), day, found: findings };
        outcome.findings = outcome.findings_on(Some(day.date())).findings;
        outcome.try_blocks();
        outcome
    }
}

impl Outcome {
    // A page can be printed only where the study has no error; then a block that does not fit it is found.
    fn try_blocks(&mut self) {
        if self.blocks.is_empty() || diag::has_errors(&self.findings) {
            return;
        }
        let found = self.edition().with_material(outputs::try_blocks);
        if !found.is_empty() {
            self.found.extend(found);
            self.findings = self.findings_on(Some(self.day.date())).findings;
        }
    }

    /// The sheets that words ask for: names of rounds, `prep 1` and on for readings of the preparation, `next` for what is
    /// due on the day on which the study is looked at, `left` for that and all that comes after it, `all` and `none`.
    ///
    /// # Errors
    /// A word that is none of them, with what to write instead.
    pub fn sheets_asked(&self, words: &[String]) -> Result<Vec<SheetOf>, String> {
        report::sheets_asked(&self.study, &self.readings, self.day.date(), words)
    }

    /// The readings file that a filled sheet may become or be added to: its name, and whether it is there.
    ///
    /// One that is not there goes first; of those that are there only sheets have the same columns.
    pub fn readings_file(&self) -> Option<(&str, bool)> {
        let files = || self.study.readings.iter().zip(&self.readings.files);
        let absent = files().find(|(_, state)| state.file.is_none()).map(|(file, _)| (file, false));
        let sheet = || files().find(|(_, state)| state.sheet).map(|(file, _)| (file, true));
        absent.or_else(sheet).map(|(file, there)| (file.name.value.as_str(), there))
    }

    /// Deals out the sections that the map leaves to chance: what goes where, and the text of the study with it. Without a
    /// seed the digest of the text gives one, so that the same study is dealt alike.
    ///
    /// # Errors
    /// Why it cannot be dealt out, with what to do.
    pub fn arrange(&self, seed: Option<u32>, each: Option<usize>) -> Result<Arranged, String> {
        let file = self.sources.iter().next();
        let text = file.map_or("", |file| file.text.as_str());
        let seed = seed.unwrap_or_else(|| seed_of(text));
        let order = Order { seed: u64::from(seed), each };
        let deal =
            dealing::deal(&self.study, &self.readings, order).map_err(|refusal| refusal.to_string())?;
        let drawing = dealing::drawn(text, &self.study, &deal, self.day.date(), order.seed);
        let mut text = drawing.text;
        if file.is_some_and(|file| file.marked) {
            text.insert(0, text::MARK);
        }
        Ok(Arranged { deal, seed, text, rows: drawing.shown })
    }

    /// What the study is published as.
    pub fn edition(&self) -> Edition<'_> {
        let date = self.day.as_of().or_else(|| self.readings.last_date());
        let Waiving { findings, waived } = self.findings_on(date);
        Edition { outcome: self, date, findings, waived }
    }

    /// How many rows of its files, and how many records and incidents, are of later days than the one
    /// that was asked for.
    pub fn passed_over(&self) -> (usize, usize) {
        (self.readings.later(), self.study.passed_over)
    }

    /// Makes outputs of the edition: those named, or all of them.
    ///
    /// # Errors
    /// As [`Edition::build`].
    pub fn build(&self, names: Option<&[&str]>) -> Result<Vec<Artifact>, Fault> {
        self.edition().build(names)
    }

    fn findings_on(&self, day: Option<Date>) -> Waiving {
        let checked = |today| {
            let (study, readings) = (&self.study, &self.readings);
            checks::run(&checks::Context { study, catalog: Catalog::built_in(), readings, today })
        };
        let mut findings = self.found.clone();
        findings.extend(checked(day));
        // Some findings wait for their day, so a waiver may stand there before them.
        let known = self.passed_over() == (0, 0);
        let to_come = (known && !self.study.waivers.is_empty()).then(|| checked(Some(Date::MAX)));
        let mut waiving = waivers::apply(&self.study, findings, to_come.as_deref());
        diag::sort(&mut waiving.findings);
        waiving.waived.sort_by_key(|waived| waived.finding.place);
        waiving
    }
}

impl Edition<'_> {
    /// Makes outputs: those named, or all of them.
    ///
    /// # Errors
    /// A template that does not fit its view, which is a fault of the tool.
    pub fn build(&self, names: Option<&[&str]>) -> Result<Vec<Artifact>, Fault> {
        self.with_material(|material| match names {
            None => outputs::build(material),
            Some(names) => outputs::build_some(names, material),
        })
    }

    /// Every output, with the inputs as they are and a description of them as an open data package. Names
    /// of files may lead into a folder, with `/` between.
    ///
    /// # Errors
    /// An input that does not lie in the folder of the study, with what to do; else as [`Edition::build`].
    pub fn bundle(&self) -> Result<Vec<Artifact>, Fault> {
        self.with_material(|material| outputs::bundle(material, self.outcome.day.as_of()))
    }

    /// Every picture of the report as files to pass on, in three formats.
    ///
    /// # Errors
    /// As [`Edition::build`].
    pub fn share(&self) -> Result<Vec<Artifact>, Fault> {
        self.with_material(outputs::share)
    }

    /// Empty sheets, two files for each: a table to fill in, and a page to write on.
    ///
    /// # Errors
    /// As [`Edition::build`].
    pub fn sheets(&self, sheets: &[SheetOf]) -> Result<Vec<[Artifact; 2]>, Fault> {
        self.with_material(|material| {
            sheets.iter().map(|&of| outputs::sheet(material, &report::sheet(material, of))).collect()
        })
    }

    /// The empty record of the study, to fill in while the work is done: one for each record file that the study names
    /// and that is not there yet, under its name without folders.
    ///
    /// # Errors
    /// A fault of the tool.
    pub fn empty_records(&self) -> Result<Vec<Artifact>, Fault> {
        let study = &self.outcome.study;
        let absent = study.records.iter().filter(|record| record.file.is_none());
        absent
            .map(|record| {
                outputs::empty_record(text::base_name(&record.name.value), &report::empty_record(study))
            })
            .collect()
    }

    /// What the layout of the study can tell apart, as text for a terminal.
    pub fn plan(&self, assumed: Assumed) -> String {
        self.with_material(|material| outputs::plan_text(&report::plan(material, assumed)))
    }

    fn with_material<T>(&self, make: impl FnOnce(&Material<'_>) -> T) -> T {
        let Outcome { study, sources, readings, photos, blocks, .. } = self.outcome;
        // The digests of large files take their time, and nothing asks for them before the report.
        let (analysis, inputs) = thread::scope(|scope| {
            let digests = scope.spawn(|| sources.iter().map(input).collect::<Vec<Input>>());
            let analysis = analyse(study, readings, self.date);
            (analysis, digests.join().unwrap_or_else(|panic| resume_unwind(panic)))
        });
        make(&Material {
            study,
            catalog: Catalog::built_in(),
            readings,
            photos,
            blocks,
            analysis: &analysis,
            findings: &self.findings,
            waived: &self.waived,
            sources,
            inputs: &inputs,
            date: self.date,
            version: VERSION,
        })
    }
}

/// An input with the digest over all bytes of its file.
fn input(file: &SourceFile) -> Input {
    Input { name: file.base_name().to_owned(), sha256: text::sha256(&file.bytes()) }
}

/// The text of a file for drawing findings; bytes that are no text show as a replacement character.
fn text_of(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).unwrap_or_else(|error| String::from_utf8_lossy(error.as_bytes()).into_owned())
}

/// Checks a study whose files and photos are at hand under the names that the study gives them.
pub fn check(name: &str, text: &str, files: &[(String, Vec<u8>)], day: Day) -> Outcome {
    let opened = open(name, text, day);
    let find = |wanted: &str| files.iter().find(|(name, _)| name == wanted).map(|(_, bytes)| bytes.clone());
    let read = opened.study.files().map(|name| find(&name.value)).collect();
    let inside = |folder: &Option<text::Located<String>>| {
        let folder = folder.as_ref().map(|folder| format!("{}/", folder.value));
        let files = files.iter().filter_map(|(name, bytes)| {
            let name = name.strip_prefix(folder.as_ref()?.as_str())?.to_owned();
            Some(NamedFile { name, bytes: bytes.clone() })
        });
        Some(files.collect::<Vec<_>>()).filter(|files| !files.is_empty())
    };
    let (photos, pages) = (inside(&opened.study.photos), inside(&opened.study.pages));
    Opened { photos, pages, ..opened }.check(read)
}

/// The words of the catalog that a study chooses from: `kinds`, `steps`, `measures` or `materials`.
pub fn words_of(list: &str) -> Option<String> {
    catalog::words_of(list)
}

/// The page of every code, in the order of the phases.
pub fn pages() -> impl Iterator<Item = &'static Page> {
    let checks = checks::CHECKS.iter().map(|check| &check.page);
    syntax::PAGES
        .iter()
        .chain(study::PAGES)
        .chain(readings::PAGES)
        .chain(photos::PAGES)
        .chain(outputs::PAGES)
        .chain(waivers::PAGES)
        .chain(checks)
}
