//! The examples, built once into a temporary folder, as a user finds them there.

use jiff::civil::{Date, date};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use tapeline::pipeline::{self, Day, Outcome};

/// An example and its built pages.
pub(crate) struct Example {
    /// Name of its folder.
    pub(crate) name: &'static str,
    /// The question that the study asks, where it asks one.
    pub(crate) question: Option<String>,
    folder: PathBuf,
}

/// A page of an example.
pub(crate) struct Page {
    /// Example and file, for messages.
    pub(crate) name: String,
    /// Where it lies.
    pub(crate) path: PathBuf,
}

impl Example {
    pub(crate) fn page(&self, file: &str) -> Page {
        Page { name: format!("{}/{file}", self.name), path: self.folder.join(file) }
    }
}

/// Every picture of an example that is made to be passed on, by the names of its files.
pub(crate) fn shared(example: &Example) -> Vec<Page> {
    let entries = fs::read_dir(example.folder.join("share")).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names.iter().map(|name| example.page(&format!("share/{name}"))).collect()
}

/// Pages that people read in a browser.
pub(crate) const PAGES: [&str; 6] =
    ["index.html", "report.html", "checklist.html", "run-sheet.html", "safety-cards.html", "labels.html"];

/// Pages that people print.
pub(crate) const PRINTED: [&str; 5] =
    ["report.html", "checklist.html", "run-sheet.html", "safety-cards.html", "labels.html"];

/// All examples; the day is the one on which their golden files were made.
pub(crate) fn examples() -> &'static [Example] {
    static BUILT: OnceLock<Vec<Example>> = OnceLock::new();
    BUILT.get_or_init(|| {
        let day = date(2026, 11, 24);
        vec![
            build("coach-door", day),
            build("foredeck", day),
            build("bench-slats", day),
            build("marked-cladding", day),
            build("beginner", date(2027, 5, 1)),
        ]
    })
}

/// Every page of every example.
pub(crate) fn pages(files: &[&str]) -> Vec<Page> {
    examples().iter().flat_map(|example| files.iter().map(|file| example.page(file))).collect()
}

/// All examples in German, whose words are longer.
pub(crate) fn german() -> &'static [Example] {
    static BUILT: OnceLock<Vec<Example>> = OnceLock::new();
    let turn = |text: String| {
        let head = text.find("study \"").unwrap();
        let (before, after) = text.split_at(head + text[head..].find('\n').unwrap() + 1);
        format!("{before}    language    german\n{after}")
    };
    let names = ["coach-door", "foredeck", "bench-slats", "marked-cladding", "beginner"];
    let homes = names.into_iter().zip([
        "coach-door-german",
        "foredeck-german",
        "bench-slats-german",
        "marked-cladding-german",
        "beginner-german",
    ]);
    BUILT.get_or_init(|| homes.map(|names| built(names, date(2027, 5, 1), turn).0).collect())
}

fn build(name: &'static str, today: Date) -> Example {
    let (example, outcome) = built((name, name), today, |text| text);
    fs::create_dir_all(example.folder.join("share")).unwrap();
    let shared = outcome.edition().share().unwrap();
    for artifact in shared.into_iter().filter(|artifact| artifact.bytes.starts_with(b"<svg")) {
        fs::write(example.folder.join("share").join(artifact.name), &artifact.bytes).unwrap();
    }
    example
}

/// An example under a name, with its study turned into another.
fn built(
    (example, name): (&str, &'static str),
    today: Date,
    turn: impl FnOnce(String) -> String,
) -> (Example, Outcome) {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(example);
    let file = format!("{example}.study");
    let text = turn(fs::read_to_string(source.join(&file)).unwrap());
    let opened = pipeline::open(&file, &text, Day::Today(today));
    let files = opened.study.files().map(|name| fs::read(source.join(&name.value)).ok()).collect();
    let outcome = opened.check(files);
    let folder = folder(name);
    for artifact in outcome.build(None).unwrap() {
        fs::write(folder.join(artifact.name), &artifact.bytes).unwrap();
    }
    (Example { name, question: outcome.study.question.clone(), folder }, outcome)
}

/// An empty folder under `target/`, which stays after the run so that a failure can be looked at.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("browser").join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).unwrap();
    }
    fs::create_dir_all(&folder).unwrap();
    folder
}
