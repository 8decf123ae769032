//! The language by example: each file under `tests/language` is a study, or a piece of one, with what is found in it.
//!
//! Lines that begin with `#!` are expectations, and comments to the language. Carets stand under the
//! place of a finding; then follow its severity, its name and its message, and on the lines below it
//! what to write instead and the other places that belong to it. Carets right behind `#!` mean the
//! left margin. A new case is a new file; `UPDATE_EXPECT=1 cargo test --test language` writes the expectations.
//!
//! `#! as` lines at the top say how the file is read: `piece` completes it with the sound study that
//! the examples of the findings use, `crlf` and `cr` change its line ends, `bom` puts a byte order mark before it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test reads and writes its expectations"
)]

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::catalog::Catalog;
use tapeline::checks::example;
use tapeline::diag::{self, Finding};
use tapeline::study::{self, Study};
use tapeline::syntax;
use tapeline::text::SourceFile;

/// How a case is turned into a study file.
#[derive(Debug, Clone, Copy, Default)]
struct As {
    piece: bool,
    bom: bool,
    line_end: Option<&'static str>,
}

impl As {
    fn read(lines: &[&str]) -> Self {
        let mut told = Self::default();
        for word in lines.iter().flat_map(|line| line.split_whitespace().skip(2)) {
            match word {
                "piece" => told.piece = true,
                "bom" => told.bom = true,
                "crlf" => told.line_end = Some("\r\n"),
                "cr" => told.line_end = Some("\r"),
                _ => panic!("`#! as {word}` is not known"),
            }
        }
        told
    }
}

fn understood(text: &str) -> (Study, Vec<Finding>) {
    let file = SourceFile::new("case.study", text);
    let (tree, mut findings) = syntax::parse(&file.text);
    let (study, more) = study::resolve(&tree, Catalog::built_in(), None);
    findings.extend(more);
    diag::sort(&mut findings);
    (study, findings)
}

/// The case with its expectations written anew.
fn annotated(case: &str) -> String {
    let directives: Vec<&str> = case.lines().filter(|line| line.starts_with("#! as ")).collect();
    let own: Vec<&str> = case.lines().filter(|line| !line.starts_with("#!")).collect();
    let told = As::read(&directives);
    let body = joined(&own);
    let whole = if told.piece { example(&body).study } else { body.clone() };
    let before = whole.strip_suffix(&body).expect("a case is the end of its study").lines().count();
    let end = told.line_end.unwrap_or("\n");
    let mark = if told.bom { "\u{feff}" } else { "" };
    let (study, findings) = understood(&format!("{mark}{}", whole.replace('\n', end)));

    for finding in &findings {
        let told = tapeline::pipeline::pages().any(|page| page.code == finding.code);
        assert!(told, "{} has no page", finding.code);
    }
    let starts = starts(&whole, end);
    let lines: Vec<&str> = whole.lines().collect();
    let place = |at: u32| {
        let line = starts.partition_point(|start| *start <= at as usize).max(1) - 1;
        (line, at as usize - starts[line])
    };
    let mut below: Vec<String> = vec![String::new(); own.len()];
    let mut elsewhere = String::new();
    for finding in &findings {
        let (line, column) = place(finding.place.span.start);
        let length = (finding.place.span.end - finding.place.span.start) as usize;
        if let Some(at) = line.checked_sub(before).filter(|at| *at < own.len()) {
            below[at] += &told_below(finding, own[at], column, length, &place, before);
        } else {
            let text = lines.get(line).copied().unwrap_or_default();
            writeln!(elsewhere, "#! in `{}`: {}", text.trim(), sentence(finding)).unwrap();
        }
    }
    let mut out = joined(&directives);
    for (line, below) in own.iter().zip(below) {
        write!(out, "{line}\n{below}").unwrap();
    }
    out += &elsewhere;
    if findings.is_empty() {
        out += "#! nothing is found\n";
    }
    for assumed in &study.assumed {
        writeln!(out, "#! assumed: {assumed}").unwrap();
    }
    out
}

fn joined(lines: &[&str]) -> String {
    lines.iter().flat_map(|line| [line, "\n"]).collect()
}

/// Where each line of the text begins once its line ends are these.
fn starts(text: &str, end: &str) -> Vec<usize> {
    let mut starts = vec![0];
    for line in text.lines() {
        starts.push(starts.last().unwrap() + line.len() + end.len());
    }
    starts
}

fn sentence(finding: &Finding) -> String {
    format!("{} {}: {}", finding.severity.word(), finding.code, finding.message)
}

fn told_below(
    finding: &Finding,
    line: &str,
    column: usize,
    length: usize,
    place: &dyn Fn(u32) -> (usize, usize),
    before: usize,
) -> String {
    let column = column.min(line.len());
    let shown = line.get(column..(column + length).min(line.len())).unwrap_or_default();
    // A tab counts four columns, so that carets stand right in an editor with that setting.
    let width = |text: &str| text.chars().map(|c| if c == '\t' { 4 } else { 1 }).sum::<usize>();
    let indent = width(&line[..column]).saturating_sub(2);
    let carets = "^".repeat(width(shown).max(1));
    let mut out = format!("#!{}{carets} {}\n", " ".repeat(indent), sentence(finding));
    let mut more = |kind: &str, words: &str| {
        writeln!(out, "#!{}{kind}: {words}", " ".repeat(indent.max(1))).unwrap();
    };
    if !finding.label.is_empty() {
        more("here", &finding.label);
    }
    for help in &finding.help {
        more("help", help);
    }
    for (place_of, words) in &finding.related {
        let (line, _) = place(place_of.span.start);
        // Expectations move lines, so a place is told by its distance.
        let (here, _) = place(finding.place.span.start);
        let there = if line < before {
            "in the frame".to_owned()
        } else {
            match line.checked_sub(here) {
                Some(down) if down > 0 => format!("{down} lines down"),
                _ => format!("{} lines up", here - line),
            }
        };
        more("also", &format!("{words} ({there})"));
    }
    out
}

fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/language");
    let mut cases: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    cases.retain(|path| path.extension().is_some_and(|end| end == "study"));
    cases.sort();
    cases
}

#[test]
fn every_case_finds_what_it_says() {
    let update = std::env::var("UPDATE_EXPECT").is_ok();
    let mut wrong = String::new();
    for path in cases() {
        let case = fs::read_to_string(&path).unwrap();
        let now = annotated(&case);
        if update && now != case {
            fs::write(&path, &now).unwrap();
        } else if now != case {
            writeln!(wrong, "--- {}\n{now}", path.display()).unwrap();
        }
    }
    assert!(wrong.is_empty(), "these cases find something else; see the head of this test\n{wrong}");
}

#[test]
fn every_case_says_what_it_shows_and_there_are_many() {
    let cases = cases();
    assert!(cases.len() >= 40, "{} cases", cases.len());
    for path in cases {
        let case = fs::read_to_string(&path).unwrap();
        let first = case.lines().find(|line| !line.starts_with("#! as ")).unwrap_or_default();
        assert!(first.starts_with("# "), "{} begins with no sentence", path.display());
    }
}

/// The whole lines that a help tells to write, for a line that begins with `word`: those that it quotes behind its first "write".
fn told_to_write(help: &str, word: &str) -> Vec<String> {
    let Some((_, told)) = help.split_once("write `") else { return Vec::new() };
    let plain = |word: &str| word.trim_end_matches([':', ',']).to_lowercase();
    let same = |line: &&str| {
        let first = plain(line.split_whitespace().next().unwrap_or_default());
        first == plain(word) || format!("{first}s") == plain(word)
    };
    // One word alone is said of the line, as in "`flat` in place of `faces`".
    told.split('`').step_by(2).filter(same).filter(|line| line.contains(' ')).map(str::to_owned).collect()
}

/// Whoever follows a help is not sent into the next error: the line that it tells can be read.
#[test]
fn every_line_that_a_help_tells_to_write_is_read() {
    let (mut tried, mut wrong) = (0, String::new());
    for path in cases() {
        let case = fs::read_to_string(&path).unwrap();
        let directives: Vec<&str> = case.lines().filter(|line| line.starts_with("#! as ")).collect();
        let own: Vec<&str> = case.lines().filter(|line| !line.starts_with("#!")).collect();
        let body = joined(&own);
        let whole = if As::read(&directives).piece { example(&body).study } else { body };
        let starts = starts(&whole, "\n");
        let at = |span: u32| starts.partition_point(|start| *start <= span as usize).max(1) - 1;
        let lines: Vec<&str> = whole.lines().collect();
        for finding in understood(&whole).1 {
            let line = at(finding.place.span.start);
            let Some(old) = lines.get(line) else { continue };
            let indent = &old[..old.len() - old.trim_start().len()];
            let word = old.split_whitespace().next().unwrap_or_default();
            for told in finding.help.iter().flat_map(|help| told_to_write(help, word)) {
                let new = format!("{indent}{told}");
                let mut mended = lines.clone();
                mended[line] = &new;
                tried += 1;
                let mended = joined(&mended);
                let place = |at: usize| u32::try_from(at).unwrap();
                let (from, to) = (place(starts[line]), place(starts[line] + new.len()));
                let here = |one: &&Finding| (from..=to).contains(&one.place.span.start);
                let found = understood(&mended).1;
                let bad =
                    |one: &&Finding| matches!(one.code, "unreadable-line" | "unknown-word" | "odd-character");
                if let Some(again) = found.iter().filter(here).find(bad) {
                    writeln!(wrong, "{}: `{}` -> `{told}`: {}", path.display(), old.trim(), again.message)
                        .unwrap();
                }
            }
        }
    }
    assert!(wrong.is_empty(), "what these tell to write cannot be read\n{wrong}");
    assert!(tried > 100, "{tried} lines were tried");
}

/// Expectations that are wrong must be told, or every case would pass.
#[test]
fn a_wrong_expectation_is_seen() {
    let case =
        "#! as piece\n# A slip.\nbenchmark baay\n#!        ^^^^ error undefined-name: something else\n";
    let now = annotated(case);
    assert_ne!(now, case);
    assert_eq!(annotated(&now), now);
    assert!(now.contains("\n#!        ^^^^ error undefined-name: no product is called `baay`\n"), "{now}");
}

const FRAME: &str = include_str!("../src/checks/frame.study");

/// Pseudo-random numbers by Marsaglia's xorshift (2003), so that a failing seed can be run again.
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % limit.max(1) as u64).unwrap()
    }
}

/// Bits of the language and of other things, thrown into a study.
const SCRAPS: &[&str] = &[
    "|",
    "\"",
    "#",
    ">",
    ",",
    ":",
    "\t",
    "\r",
    "\n",
    "\n    ",
    "\u{0}",
    "\u{a0}",
    "\u{200b}",
    "%",
    "% of fresh",
    " x ",
    " to ",
    "..",
    "-",
    "999999999999999999999",
    "1e308",
    "0",
    "2026-02-30",
    "31/12/2026",
    " mm",
    " min",
    "neat",
    "because \"",
    "é",
    "日本",
    "🦀",
    "“",
    "”",
    "prep\n",
    "map\n",
    "products\n",
    "rounds",
    " with ",
    " for ",
    "((((",
    "````",
    "\\",
    "month 6",
    "bare",
    "?",
    ".",
];

fn mutated(seed: u64) -> String {
    let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let mut text: Vec<char> = FRAME.chars().collect();
    for _ in 0..=chance.below(12) {
        let at = chance.below(text.len() + 1);
        let to = (at + chance.below(30)).min(text.len());
        match chance.below(4) {
            0 => drop(text.drain(at..to)),
            1 => drop(text.splice(at..at, SCRAPS[chance.below(SCRAPS.len())].chars())),
            2 => drop(text.splice(at..to, SCRAPS[chance.below(SCRAPS.len())].chars())),
            _ => {
                let copy: Vec<char> = text[at..to].to_vec();
                let into = chance.below(text.len() + 1);
                drop(text.splice(into..into, copy));
            }
        }
    }
    text.into_iter().collect()
}

#[test]
fn two_thousand_damaged_studies_are_read_without_a_panic() {
    for seed in 1..=2000 {
        let text = mutated(seed);
        let file = SourceFile::new("damaged.study", text.as_str());
        let (_, findings) = understood(&text);
        for finding in &findings {
            let span = finding.place.span;
            let whole = span.start <= span.end && file.text.get(span.start as usize..).is_some();
            assert!(whole, "seed {seed}: {} points outside: {span:?}", finding.code);
            assert!(
                !finding.message.is_empty() && finding.message.len() < 2000,
                "seed {seed}: {}",
                finding.code
            );
        }
    }
}

#[test]
fn bytes_that_are_no_study_are_read_without_a_panic() {
    let mut chance = Chance(0x2545_F491_4F6C_DD1D);
    for round in 0..200 {
        let bytes: Vec<u8> =
            (0..chance.below(4000)).map(|_| u8::try_from(chance.below(256)).unwrap()).collect();
        let (_, findings) = understood(&String::from_utf8_lossy(&bytes));
        assert!(!findings.is_empty(), "round {round}");
    }
}

#[test]
fn a_line_of_a_million_characters_is_one_finding_of_one_line() {
    let line = "y".repeat(1_000_000);
    for text in
        [format!("{FRAME}{line}\n"), format!("{FRAME}benchmark {line}\n"), format!("{FRAME}log {line}\n")]
    {
        let (_, findings) = understood(&text);
        assert_eq!(findings.len(), 1, "{findings:?}");
        let longest = findings[0].help.iter().chain([&findings[0].message]).map(String::len).max();
        assert!(longest < Some(1000), "{longest:?}");
    }
    let comment = format!("{FRAME}# {line}\n");
    assert_eq!(understood(&comment).1, []);
}

#[test]
fn a_file_of_nothing_asks_for_the_four_blocks() {
    for text in ["", "\n\n", "   ", "# only a note\n", "\u{feff}"] {
        let codes: Vec<&str> = understood(text).1.iter().map(|finding| finding.code).collect();
        assert_eq!(codes, ["block-missing"; 4], "{text:?}");
    }
}

#[test]
fn ten_thousand_sections_are_bound() {
    let row = format!("    | {} |\n", "bay clove cumin bare ".repeat(25));
    let head = "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n";
    let text = example(&format!("{head}{}", row.repeat(100))).study;
    let (study, findings) = understood(&text);
    assert_eq!(findings, []);
    assert_eq!(study.sections.len(), 10_000);
    assert_eq!(study.sections.last().map(|section| section.code.as_str()), Some("CV100"));
}
