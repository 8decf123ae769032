//! The languages of the pages: nothing that is said lacks its translation, and a translated report says the same.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test reads the source and the examples"
)]

use jiff::ToSpan;
use jiff::civil::{Date, date};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::catalog::Catalog;
use tapeline::outputs::FILES;
use tapeline::pipeline::{self, Day};
use tapeline::speech::{Language, day, speak};
use tapeline::units;
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

fn catalogue() -> Table {
    let path = root().join("templates/language/german.toml");
    fs::read_to_string(path).unwrap().parse().unwrap()
}

fn table(name: &str) -> BTreeMap<String, String> {
    let entries = catalogue()[name].as_table().unwrap().clone();
    let text = |value: Value| value.as_str().unwrap().to_owned();
    entries.into_iter().map(|(key, value)| (key, text(value))).collect()
}

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

/// Every noun that is counted where the language may be another.
fn counted() -> BTreeSet<String> {
    let mut nouns = BTreeSet::new();
    for path in files(&root().join("src"), ".rs") {
        let text = fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]\nmod ").next().unwrap();
        let counts =
            code.lines().any(|line| line.starts_with("use crate::speech::") && line.contains("count"));
        for (at, _) in code.match_indices("count(").filter(|_| counts) {
            let mut depth = 0;
            let end = code[at..].find(|c| {
                depth += i32::from(c == '(') - i32::from(c == ')');
                c == ')' && depth == 0
            });
            let call = &code[at..at + end.unwrap()];
            let noun = call.rsplit_once(", \"").and_then(|(_, rest)| rest.strip_suffix('"'));
            nouns.extend(noun.map(str::to_owned));
        }
    }
    nouns
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
    none(&lacks.chain(spare).chain(other).collect::<Vec<_>>());
}

#[test]
fn every_noun_that_is_counted_has_its_german() {
    let german: BTreeSet<String> =
        catalogue()["nouns"].as_table().unwrap().keys().map(ToOwned::to_owned).collect();
    // What is bare is counted through its unit, by a name that the scan cannot see.
    assert_eq!(counted(), german);
}

/// What stands in tables of data, and is looked up as it is.
fn given() -> BTreeSet<String> {
    let catalog = Catalog::built_in();
    let mut given: BTreeSet<String> =
        ["and", "or", "water", "marks", "carrier-only", "Danger", "Warning"].map(str::to_owned).into();
    for class in catalog.classes() {
        given.insert(class.name.to_owned());
        if class.hazards.statements.is_empty() {
            given.insert(class.hazards.note.to_owned());
        }
    }
    let unknown = catalog.lines().iter().filter(|line| line.id == "unknown-class");
    given.extend(unknown.map(|line| line.text.to_owned()));
    for measure in catalog.measures() {
        given.insert(measure.limits_source.as_str().to_owned());
        given.extend(measure.seen_note.map(str::to_owned));
    }
    given.extend(FILES.iter().map(|file| file.what.to_owned()));
    given.insert("Every section at every round, photo beside photo, and what is missing.".to_owned());
    let worded = |symbol: &&str| symbol.contains(' ') || symbol.ends_with('s') && symbol.len() > 3;
    for symbol in units::symbols().filter(worded) {
        given.insert(symbol.to_owned());
        given.extend(symbol.strip_suffix('s').filter(|_| !symbol.contains(' ')).map(str::to_owned));
    }
    given
}

#[test]
fn every_text_of_the_tables_of_data_has_its_german_and_nothing_else_has() {
    let german: BTreeSet<String> = table("given").into_keys().collect();
    assert_eq!(given(), german);
}

/// An example, and the same in German.
fn built(folder: &str, language: Language) -> BTreeMap<String, String> {
    let home = root().join("examples").join(folder);
    let name = format!("{folder}.study");
    let text = fs::read_to_string(home.join(&name)).unwrap();
    let word = if language == Language::German { "german" } else { "english" };
    let head = text.lines().position(|line| line.starts_with("study ")).unwrap();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    lines.insert(head + 1, format!("    language {word}"));
    let text = lines.join("\n") + "\n";
    let opened = pipeline::open(&name, &text, Day::Today(date(2027, 5, 1)));
    assert_eq!(opened.study.language, language);
    let files = opened.study.files().map(|name| fs::read(home.join(&name.value)).ok()).collect();
    let made = opened.check(files).build(None).unwrap();
    made.into_iter().map(|made| (made.name, String::from_utf8(made.bytes).unwrap())).collect()
}

const EXAMPLES: [&str; 5] = ["beginner", "bench-slats", "coach-door", "foredeck", "marked-cladding"];

/// Whatever the study says in its own words, the longest first.
fn own_words(folder: &str) -> Vec<String> {
    let path = root().join("examples").join(folder).join(format!("{folder}.study"));
    let text = fs::read_to_string(path).unwrap();
    let mut own: BTreeSet<String> = BTreeSet::new();
    let mut prose = String::new();
    for line in text.lines() {
        match line.trim_start().strip_prefix('>') {
            Some(more) => {
                own.insert(more.trim().to_owned());
                prose += &format!(" {}", more.trim());
            }
            None => drop(own.insert(std::mem::take(&mut prose).trim().to_owned())),
        }
        own.extend(line.split('"').skip(1).step_by(2).map(str::to_owned));
        let words: Vec<&str> = line.split_whitespace().collect();
        own.insert(words.join(" "));
        own.extend(words.split_first().map(|(_, rest)| rest.join(" ")));
        // A kind or a place in a few words ends before a comma or a wide gap.
        own.extend(line.split("  ").chain(line.split(',')).map(|part| part.trim().to_owned()));
    }
    let mut own: Vec<String> = own.into_iter().filter(|words| words.contains(' ')).collect();
    let study = pipeline::open(folder, &text, Day::Today(date(2027, 5, 1))).study;
    let capital = |name: &str| name[..1].to_uppercase() + &name[1..];
    let measures = study.measures.iter().map(|measure| &measure.name.value);
    own.extend(measures.flat_map(|name| [name.clone(), capital(name)]));
    let kinds =
        study.supplies.iter().filter_map(|one| Some((&one.name.value, &one.kind.as_ref()?.words.value)));
    own.extend(kinds.map(|(name, kind)| format!("{name}, {kind}")));
    own.extend(FILES.iter().map(|file| file.name.to_owned()));
    own.sort_by_key(|words| std::cmp::Reverse(words.len()));
    own
}

/// The pieces of a text that stand for themselves: cells, sentences, items.
fn pieces(text: &str, own: &[String]) -> BTreeSet<String> {
    let mut pieces = BTreeSet::new();
    for line in text.lines() {
        let line = own.iter().fold(line.to_owned(), |line, words| line.replace(words, " · "));
        let cut = line.split(['|', '·', ';', ':', '.', '(', ')', '[', ']', '“', '”', '„', '<', '>']);
        pieces.extend(cut.map(|piece| piece.trim_matches([' ', '#', '-', ',']).to_owned()));
    }
    pieces
}

/// Without the findings, which are quoted as they are. A part begins at `cut`.
fn without_findings(report: &str, cut: &str) -> String {
    let of_findings = |part: &&str| {
        let head = part.lines().next().unwrap_or_default();
        ["finding is", "findings are", "Befund ist", "Befunde sind", " of the study ", " der Studie "]
            .iter()
            .any(|words| head.contains(words))
    };
    report.split(cut).filter(|part| !of_findings(part)).collect::<Vec<_>>().join(cut)
}

fn words(piece: &str) -> usize {
    piece.split_whitespace().filter(|word| word.chars().filter(|c| c.is_alphabetic()).count() > 1).count()
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

#[test]
fn a_german_report_has_no_sentence_of_the_english_one() {
    let mut wrong = Vec::new();
    for folder in EXAMPLES {
        let own = own_words(folder);
        let (english, german) = (built(folder, Language::English), built(folder, Language::German));
        let told =
            |made: &BTreeMap<String, String>| pieces(&without_findings(&made["report.md"], "\n## "), &own);
        let (english, german) = (told(&english), told(&german));
        let both = english.intersection(&german).filter(|piece| words(piece) > 2);
        wrong.extend(both.map(|piece| format!("{folder}, in both: {piece}")));
        let left = german.iter().filter_map(|piece| Some((english_in(piece)?, piece)));
        wrong.extend(left.map(|(word, piece)| format!("{folder}, `{word}` in: {piece}")));
    }
    none(&wrong);
}

/// The text that a page shows.
fn shown(page: &str) -> String {
    let mut out = String::new();
    let mut rest = page;
    while let Some((text, tag)) = rest.split_once('<') {
        out += text;
        out.push('\n');
        let end = ["style", "script"].iter().find(|name| tag.starts_with(**name));
        rest = match end {
            Some(name) => tag.split_once(&format!("</{name}>")).map_or("", |(_, after)| after),
            None => {
                let (inside, after) = tag.split_once('>').unwrap_or((tag, ""));
                for name in ["aria-label=\"", "alt=\"", "data-name=\""] {
                    let label = inside.split_once(name).and_then(|(_, rest)| rest.split_once('"'));
                    out.extend(label.map(|(words, _)| format!("{words}\n")));
                }
                after
            }
        };
    }
    (out + rest)
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

#[test]
fn german_pages_and_pictures_are_german() {
    let mut wrong = Vec::new();
    for folder in EXAMPLES {
        let own = own_words(folder);
        let (english, german) = (built(folder, Language::English), built(folder, Language::German));
        for name in ["report.html", "index.html", "map.svg"] {
            let page = &german[name];
            assert!(name == "map.svg" || page.contains("<html lang=\"de\">"), "{folder}/{name}");
            let told = pieces(&shown(&without_findings(page, "<h2")), &own);
            let left = told.iter().filter_map(|piece| Some((english_in(piece)?, piece)));
            wrong.extend(left.map(|(word, piece)| format!("{folder}/{name}, `{word}` in: {piece}")));
        }
        for name in ["readings.csv", "findings.json"] {
            assert!(name == "findings.json" || english[name] == german[name], "{folder}/{name}");
        }
    }
    none(&wrong);
}

/// Every number of a text in the order of their size, a day as year, month and day.
fn numbers(text: &str, language: Language) -> BTreeMap<String, usize> {
    // Markdown keeps a number that ends with a point from being a list.
    let mut text = text.replace('\\', "");
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

#[test]
fn a_german_report_has_the_numbers_of_the_english_one() {
    let mut wrong = Vec::new();
    for folder in EXAMPLES {
        let (english, german) = (built(folder, Language::English), built(folder, Language::German));
        // The digest of the study is that of another text.
        let told = |made: &BTreeMap<String, String>, language| {
            let lines = made["report.md"].lines().filter(|line| !line.contains(&format!("{folder}.study")));
            numbers(&lines.collect::<Vec<_>>().join("\n"), language)
        };
        let (english, german) = (told(&english, Language::English), told(&german, Language::German));
        for number in english.keys().chain(german.keys()).collect::<BTreeSet<_>>() {
            let (e, g) = (english.get(number).unwrap_or(&0), german.get(number).unwrap_or(&0));
            if e != g {
                wrong.push(format!("{folder}: {number} stands {e} times in English, {g} times in German"));
            }
        }
    }
    none(&wrong);
}
