//! The languages of the pages: nothing that is said lacks its translation, and a translated report says the same.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test reads the source and the examples"
)]

mod data;
mod keys;
mod pages;

use jiff::ToSpan;
use jiff::civil::{Date, date};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::speech::{Language, day, speak};
use toml::{Table, Value};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Files under a folder, by their ending.
fn files(folder: &Path, end: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path, end));
        } else if path.to_string_lossy().ends_with(end) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The parts of the catalogue as one, as the build joins them.
fn catalogue() -> Table {
    let mut all = Table::new();
    for path in files(&root().join("templates/language"), ".toml") {
        let part: Table = fs::read_to_string(path).unwrap().parse().unwrap();
        for (name, entries) in part {
            let known = all.entry(name).or_insert_with(|| Value::Table(Table::new()));
            known.as_table_mut().unwrap().extend(entries.as_table().unwrap().clone());
        }
    }
    all
}

fn table(name: &str) -> BTreeMap<String, String> {
    let entries = catalogue()[name].as_table().unwrap().clone();
    let text = |value: Value| value.as_str().unwrap().to_owned();
    entries.into_iter().map(|(key, value)| (key, text(value))).collect()
}

fn words(piece: &str) -> usize {
    piece.split_whitespace().filter(|word| is_word(word) && !is_code(word)).count()
}

fn is_word(word: &str) -> bool {
    word.chars().filter(|c| c.is_alphabetic()).count() > 1
}

/// `GHS07`, `P301+P310`: what the regulation names by letters and figures.
fn is_code(word: &str) -> bool {
    word.chars().any(|c| c.is_ascii_digit()) && !word.chars().any(char::is_lowercase)
}

/// Words that English needs and German does not have.
const ENGLISH: [&str; 30] = [
    "the", "of", "and", "is", "are", "were", "with", "that", "which", "each", "this", "from", "by", "on",
    "at", "to", "no", "or", "sections", "section", "readings", "reading", "bare", "products", "between",
    "after", "before", "day", "days", "weeks",
];

fn english_in(piece: &str) -> Option<&'static str> {
    let mut words = piece.split(|c: char| !c.is_alphanumeric() && c != '-').map(str::to_lowercase);
    words.find_map(|word| ENGLISH.into_iter().find(|known| *known == word))
}

/// Every number of a text in the order of their size, a day as year, month and day.
fn numbers(text: &str, language: Language) -> BTreeMap<String, usize> {
    // Markdown keeps a number that ends with a point from being a list.
    let mut text = text.replace('\\', "").replace("m²", "m2");
    if language == Language::German {
        let _speech = speak(Language::German);
        let all = date(2020, 1, 1).series(1.day()).take(4000);
        // The second of a month ends as the twelfth does.
        let (long, short): (Vec<Date>, Vec<Date>) = all.partition(|date| date.day() > 9);
        for date in long.into_iter().chain(short) {
            text = text.replace(&day(date), &date.to_string());
        }
    }
    let mut found = BTreeMap::new();
    let chars: Vec<char> = text.chars().collect();
    let mut at = 0;
    while at < chars.len() {
        if !chars[at].is_ascii_digit() {
            at += 1;
            continue;
        }
        let start = at;
        let digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
        while digit(at) || matches!(chars.get(at), Some('.' | ',')) && digit(at + 1) {
            at += 1;
        }
        let number: String = chars[start..at].iter().collect();
        *found.entry(number.replace(',', ".")).or_insert(0) += 1;
    }
    found
}
