//! Sentences of the code and the templates: none stands outside of `say`, and none lacks its German.

use super::{catalogue, files, none, numbers, root, table, words};
use std::collections::BTreeSet;
use std::fs;
use tapeline::speech::Language;

/// The text that begins behind an opening quote, as Rust means it.
fn literal(rest: &str) -> String {
    let (mut out, mut chars) = (String::new(), rest.chars().peekable());
    while let Some(c) = chars.next() {
        match c {
            '"' => return out,
            '\\' => match chars.next() {
                // A line that is broken off goes on with its next word.
                Some('\n') => while chars.next_if(|c| c.is_whitespace()).is_some() {},
                Some('n') => out.push('\n'),
                Some(other) => out.push(other),
                None => {}
            },
            c => out.push(c),
        }
    }
    out
}

/// The first texts behind each `prefix`.
fn texts_behind(code: &str, prefix: &str) -> Vec<String> {
    let found = code.match_indices(prefix).filter_map(|(at, _)| {
        let rest = code[at + prefix.len()..].trim_start();
        rest.strip_prefix('"').map(literal)
    });
    found.collect()
}

/// Every sentence that the code and the templates say.
fn said() -> BTreeSet<String> {
    let mut said = BTreeSet::new();
    for path in files(&root().join("src"), ".rs") {
        let text = fs::read_to_string(&path).unwrap();
        let code: Vec<&str> = text
            .split("#[cfg(test)]\nmod ")
            .next()
            .unwrap()
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"))
            .collect();
        said.extend(texts_behind(&code.join("\n"), "say!("));
    }
    for end in [".html", ".md"] {
        for path in files(&root().join("templates"), end) {
            said.extend(texts_behind(&fs::read_to_string(&path).unwrap(), "say("));
        }
    }
    said
}

/// Every noun that is counted where the language may be another: the texts in calls of `count` and `plural`.
fn counted() -> BTreeSet<String> {
    let mut nouns = BTreeSet::new();
    for path in files(&root().join("src"), ".rs") {
        let text = fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]\nmod ").next().unwrap();
        let line = code.lines().find(|line| line.starts_with("use crate::speech::")).unwrap_or_default();
        for name in ["count", "plural"].into_iter().filter(|name| line.contains(name)) {
            for (at, _) in code.match_indices(&format!("{name}(")) {
                let mut depth = 0;
                let end = code[at..].find(|c| {
                    depth += i32::from(c == '(') - i32::from(c == ')');
                    c == ')' && depth == 0
                });
                let call = &code[at..at + end.unwrap()];
                nouns.extend(call.split('"').skip(1).step_by(2).map(str::to_owned));
            }
        }
    }
    nouns
}

/// Parts that are English in every language: faults of a command, and what machines read.
const ENGLISH_ONLY: [&str; 4] = ["due.rs", "empty_record.rs", "package.rs", "table.rs"];

/// Names of people and of what has no other name.
const NAMES: [&str; 4] = ["Dunnett", "Games-Howell", "Tukey-Kramer", "SHA-256"];

/// Texts of a file of code with what stands before and after each.
fn texts(code: &str) -> Vec<(String, &str, &str)> {
    let (mut texts, mut at) = (Vec::new(), 0);
    while let Some(found) = code[at..].find('"') {
        let start = at + found + 1;
        // A quote may stand as a character of its own.
        if code[..start - 1].ends_with('\'') && code[start..].starts_with('\'') {
            at = start;
            continue;
        }
        // A quote behind an odd number of backslashes belongs to the text.
        let slashes =
            |end: usize| code.as_bytes()[start..end].iter().rev().take_while(|byte| **byte == b'\\').count();
        let end = (start..code.len()).find(|&end| code.as_bytes()[end] == b'"' && slashes(end) % 2 == 0);
        let end = end.unwrap();
        texts.push((literal(&code[start..]), code[..start - 1].trim_end(), code[end + 1..].trim_start()));
        at = end + 1;
    }
    texts
}

#[test]
fn no_sentence_of_the_report_stands_outside_of_say() {
    let nouns = counted();
    let mut wrong = Vec::new();
    for path in files(&root().join("src/report"), ".rs") {
        let name = path.strip_prefix(root().join("src/report")).unwrap().to_string_lossy().replace('\\', "/");
        if ENGLISH_ONLY.iter().any(|part| name.starts_with(part)) {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]\nmod ").next().unwrap();
        let code: Vec<&str> = code.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
        for (text, before, after) in texts(&code.join("\n")) {
            let bare: String =
                text.split('{').map(|part| part.split_once('}').map_or(part, |(_, rest)| rest)).collect();
            let words = words(&bare);
            let sentence = words > 1 || words == 1 && bare.trim_start().starts_with(char::is_uppercase);
            let pattern = after.starts_with("=>") || after.starts_with('|');
            let exempt =
                before.ends_with("say!(") || pattern || before.ends_with("= ") && after.starts_with(')');
            if sentence && !exempt && !nouns.contains(&text) && !NAMES.contains(&text.as_str()) {
                wrong.push(format!("{name}: {text}"));
            }
        }
    }
    none(&wrong);
}

/// A text without what stands between two marks.
fn without(text: &str, open: &str, close: &str) -> String {
    let mut parts = text.split(open);
    let first = parts.next().unwrap_or_default().to_owned();
    first + &parts.filter_map(|part| Some(part.split_once(close)?.1)).collect::<String>()
}

/// Pages that speak; `n/a` is what the reader of readings takes, and a file has one name.
#[test]
fn no_word_of_a_page_stands_outside_of_say() {
    let mut wrong = Vec::new();
    for name in [
        "report.md",
        "index.html",
        "photos.html",
        "sheet.html",
        "frame.html",
        "checklist.html",
        "safety-cards.html",
        "labels.html",
    ] {
        let text = fs::read_to_string(root().join("templates").join(name)).unwrap();
        let marks = [
            ("{#", "#}"),
            ("{{", "}}"),
            ("{%", "%}"),
            ("<code>", "</code>"),
            ("<style>", "</style>"),
            ("<", ">"),
        ];
        let text = marks.iter().fold(text, |text, (open, close)| without(&text, open, close));
        let words = text.split(|c: char| !c.is_alphabetic() && c != '.').filter(|word| word.len() > 2);
        wrong.extend(
            words
                .filter(|word| !["map.svg", "tapeline", ".csv"].contains(word))
                .map(|word| format!("{name}: {word}")),
        );
    }
    none(&wrong);
}

/// Holes of a sentence, without what is done to them.
fn holes(sentence: &str) -> BTreeSet<&str> {
    let holes = sentence.split('{').skip(1).filter_map(|rest| Some(rest.split_once('}')?.0));
    holes.map(|hole| hole.split(':').next().unwrap_or(hole)).collect()
}

#[test]
fn every_sentence_has_its_german_and_nothing_else_has() {
    let (german, said) = (table("sentences"), said());
    assert!(said.len() > 700, "{} sentences were found", said.len());
    let known: BTreeSet<String> = german.keys().cloned().collect();
    let lacks = said.difference(&known).map(|key| format!("German lacks: {key}"));
    let spare = known.difference(&said).map(|key| format!("nobody says: {key}"));
    let other = german.iter().filter(|(key, text)| holes(key) != holes(text));
    let other = other.map(|(key, _)| format!("other holes than in English: {key}"));
    let figures = |text: &str| numbers(text, Language::English);
    let moved = german.iter().filter(|(key, text)| figures(key) != figures(text));
    let moved = moved.map(|(key, _)| format!("other numbers than in English: {key}"));
    none(&lacks.chain(spare).chain(other).chain(moved).collect::<Vec<_>>());
}

#[test]
fn every_noun_that_is_counted_has_its_german() {
    let german: BTreeSet<String> =
        catalogue()["nouns"].as_table().unwrap().keys().map(ToOwned::to_owned).collect();
    let counted = counted();
    let lacks = counted.difference(&german).map(|noun| format!("German lacks: {noun}"));
    let spare = german.difference(&counted).map(|noun| format!("nobody counts: {noun}"));
    none(&lacks.chain(spare).collect::<Vec<_>>());
}
