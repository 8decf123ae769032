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
use std::sync::OnceLock;
use tapeline::catalog::Catalog;
use tapeline::checks;
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

/// Parts of the report that are English in every language: papers for the bench, the plan, and what machines read.
const ENGLISH_ONLY: [&str; 7] =
    ["checklist/", "safety/", "due.rs", "empty_record.rs", "package.rs", "plan.rs", "table.rs"];

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
    for name in ["report.md", "index.html", "photos.html", "sheet.html", "frame.html"] {
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
    given.extend(catalog.aerosol().map(|pack| pack.called.to_owned()));
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
    let (given, german) = (given(), table("given").into_keys().collect::<BTreeSet<String>>());
    let lacks = given.difference(&german).map(|key| format!("German lacks: {key}"));
    let spare = german.difference(&given).map(|key| format!("no table has: {key}"));
    none(&lacks.chain(spare).collect::<Vec<_>>());
}

/// The files of an example by their names.
type Made = BTreeMap<String, String>;

/// Every example, in English and in German, built once for all tests.
fn examples() -> &'static [(&'static str, Made, Made)] {
    static BUILT: OnceLock<Vec<(&'static str, Made, Made)>> = OnceLock::new();
    let both = |folder| (folder, built(folder, Language::English), built(folder, Language::German));
    BUILT.get_or_init(|| EXAMPLES.into_iter().map(both).collect())
}

/// An example with a line that says its language.
fn built(folder: &str, language: Language) -> Made {
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
    let outcome = opened.check(files);
    let rounds = outcome.rounds_asked(&["all".to_owned()]).unwrap();
    let mut made = outcome.build(None).unwrap();
    made.extend(outcome.edition().sheets(&rounds).unwrap().into_iter().flatten());
    made.into_iter().map(|made| (made.name, String::from_utf8(made.bytes).unwrap())).collect()
}

const EXAMPLES: [&str; 5] = ["beginner", "bench-slats", "coach-door", "foredeck", "marked-cladding"];

/// Whatever the study says in its own words, the longest first.
fn own_words(folder: &str) -> Vec<String> {
    let home = root().join("examples").join(folder);
    let study = fs::read_to_string(home.join(format!("{folder}.study"))).unwrap();
    // A record says in its own words what departed from the plan; notes to oneself are read by nobody else.
    let record = fs::read_to_string(home.join("log.csv")).unwrap_or_default();
    own_words_of(&record.lines().fold(study, |text, row| text + "# ," + row + "\n"))
}

fn own_words_of(text: &str) -> Vec<String> {
    let mut own: BTreeSet<String> = BTreeSet::new();
    let mut prose = String::new();
    for line in text.lines() {
        match line.trim_start().strip_prefix('>') {
            Some(more) => {
                own.insert(more.trim().to_owned());
                prose = format!("{prose} {}", more.trim());
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
    let study = pipeline::open("own.study", text, Day::Today(date(2027, 5, 1))).study;
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
    for (folder, english, german) in examples() {
        let own = own_words(folder);
        let told =
            |made: &BTreeMap<String, String>| pieces(&without_findings(&made["report.md"], "\n## "), &own);
        let (english, german) = (told(english), told(german));
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
        if let Some(name) = end {
            rest = tag.split_once(&format!("</{name}>")).map_or("", |(_, after)| after);
            continue;
        }
        let (inside, after) = tag.split_once('>').unwrap_or((tag, ""));
        for name in ["aria-label=\"", "alt=\"", "data-name=\""] {
            let label = inside.split_once(name).and_then(|(_, rest)| rest.split_once('"'));
            out.extend(label.map(|(words, _)| format!("{words}\n")));
        }
        rest = after;
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
    for (folder, english, german) in examples() {
        let own = own_words(folder);
        let pages = ["report.html", "index.html", "map.svg"];
        let sheets = german
            .keys()
            .map(String::as_str)
            .filter(|name| name.starts_with("sheet-") && name.ends_with("html"));
        for name in pages.into_iter().chain(sheets) {
            let page = &german[name];
            assert!(name == "map.svg" || page.contains("<html lang=\"de\">"), "{folder}/{name}");
            let told = pieces(&shown(&without_findings(page, "<h2")), &own);
            let left = told.iter().filter_map(|piece| Some((english_in(piece)?, piece)));
            wrong.extend(left.map(|(word, piece)| format!("{folder}/{name}, `{word}` in: {piece}")));
        }
        for (name, text) in english.iter().filter(|(name, _)| name.contains(".csv")) {
            assert!(*text == german[name], "{folder}/{name}");
        }
    }
    none(&wrong);
}

/// `month 6` is a word of the language of studies and `Monat 6` one of the page. Only prose of the study's own may have the first.
#[test]
fn german_pages_name_rounds_in_german() {
    let mut wrong = Vec::new();
    for (folder, english, german) in examples() {
        let path = root().join("examples").join(folder).join(format!("{folder}.study"));
        let text = fs::read_to_string(path).unwrap();
        let rounds = pipeline::open("own.study", &text, Day::Today(date(2027, 5, 1))).study.rounds;
        assert!(english["report.md"].contains("baseline") && german["report.md"].contains("Ausgangsmessung"));
        let prose: String = text.split('"').skip(1).step_by(2).chain(text.split("> ").skip(1)).collect();
        for name in ["report.md", "report.html", "index.html"] {
            let page = without_findings(&german[name], if name == "report.md" { "\n## " } else { "<h2" });
            let page = if name == "report.md" { page } else { shown(&page) };
            for round in rounds.iter().map(|round| &round.name.value).filter(|name| !prose.contains(*name)) {
                let told = page.lines().find(|line| line.contains(round.as_str()));
                wrong.extend(told.map(|line| format!("{folder}/{name}, `{round}` in: {line}")));
            }
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
    for (folder, english, german) in examples() {
        // The digest of the study is that of another text.
        let told = |made: &Made, language| {
            let lines = made["report.md"].lines().filter(|line| !line.contains(&format!("{folder}.study")));
            numbers(&lines.collect::<Vec<_>>().join("\n"), language)
        };
        let (english, german) = (told(english, Language::English), told(german, Language::German));
        for number in english.keys().chain(german.keys()).collect::<BTreeSet<_>>() {
            let (e, g) = (english.get(number).unwrap_or(&0), german.get(number).unwrap_or(&0));
            if e != g {
                wrong.push(format!("{folder}: {number} stands {e} times in English, {g} times in German"));
            }
        }
    }
    none(&wrong);
}

/// No example has photos.
#[test]
fn the_contact_sheet_is_german() {
    const GREY: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\0\x04\0\0\0\x03\x08\0\0\0\0\x91\x9f\xf1\x1a\0\0\0\x10IDATx\x9cc\xac````b\x80\x11\0\x06\xcc\0~\xbdu2\xe2\0\0\0\0IEND\xaeB`\x82";
    let study = checks::example("photos \"photos\"\n").study;
    let study = study.replacen("\n    begins", "\n    language german\n    begins", 1);
    let readings = b"date,round,section,measure,value\n2026-06-03,month 3,A1,gloss-20,88.4\n".to_vec();
    let files = [("readings.csv".to_owned(), readings), ("photos/A1 fresh.png".to_owned(), GREY.to_vec())];
    let outcome = pipeline::check("door.study", &study, &files, Day::Today(date(2026, 7, 1)));
    assert_eq!((outcome.study.language, outcome.photos.all.len()), (Language::German, 1));
    let made = outcome.build(None).unwrap();
    let page = made.into_iter().find(|made| made.name == "photos.html").unwrap();
    let page = String::from_utf8(page.bytes).unwrap();
    assert!(
        page.contains("<html lang=\"de\">") && page.contains("1 Foto, von 1 von 12 Abschnitten bei 1 Runde"),
        "{page}"
    );
    let told = pieces(&shown(&page), &own_words_of(&study));
    let left = told.iter().filter_map(|piece| Some(format!("`{}` in: {piece}", english_in(piece)?)));
    none(&left.collect::<Vec<_>>());
}
