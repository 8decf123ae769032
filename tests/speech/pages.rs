//! Pages of the examples in German: no sentence is left in English, and every number is that of the English page.

use super::data::is_citation;
use super::{english_in, none, numbers, root, words};
use jiff::civil::date;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::sync::OnceLock;
use tapeline::catalog::Catalog;
use tapeline::checks;
use tapeline::outputs::FILES;
use tapeline::pipeline::{self, Day};
use tapeline::report::Assumed;
use tapeline::speech::Language;

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
    let rounds = outcome.sheets_asked(&["all".to_owned()]).unwrap();
    let mut made = outcome.build(None).unwrap();
    made.extend(outcome.edition().sheets(&rounds).unwrap().into_iter().flatten());
    let plan = ("plan.txt".to_owned(), outcome.edition().plan(Assumed::default()));
    made.into_iter()
        .map(|made| (made.name, String::from_utf8(made.bytes).unwrap()))
        .chain(std::iter::once(plan))
        .collect()
}

const EXAMPLES: [&str; 5] = ["beginner", "bench-slats", "coach-door", "foredeck", "marked-cladding"];

/// Whatever the study says in its own words, the longest first.
fn own_words(folder: &str) -> Vec<String> {
    let home = root().join("examples").join(folder);
    let study = fs::read_to_string(home.join(format!("{folder}.study"))).unwrap();
    // A record says in its own words what departed from the plan; notes to oneself are read by nobody else.
    let record = fs::read_to_string(home.join("log.csv")).unwrap_or_default();
    let readings = fs::read_to_string(home.join("readings.csv")).unwrap_or_default();
    // Notes stand last in a row of readings.
    let notes = readings.lines().skip(1).filter_map(|row| row.rsplit(',').next());
    let notes: BTreeSet<&str> = notes.filter(|note| note.contains(' ')).collect();
    let study = notes.iter().fold(study, |text, note| format!("{text}# ,{note}\n"));
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
    // A map lists the sections of several racks by the names of these.
    let codes = study.sections.iter().map(|section| &section.code).filter(|code| code.contains(' '));
    own.extend(codes.cloned());
    own.extend(FILES.iter().map(|file| file.name.to_owned()));
    own.sort_by_key(|words| std::cmp::Reverse(words.len()));
    own
}

/// The pieces of a text that stand for themselves: cells, sentences, items.
fn pieces(text: &str, own: &[String]) -> BTreeSet<String> {
    let mut pieces = BTreeSet::new();
    for line in text.lines() {
        // Names are held together by a space that breaks no line.
        let line = line.replace('\u{a0}', " ");
        let line = own.iter().fold(line, |line, words| line.replace(words, " · "));
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

/// The pages that are printed for the bench.
const PAPERS: [&str; 3] = ["checklist.html", "safety-cards.html", "labels.html"];

/// What a page says: a report without its findings, a paper as a browser shows it, a plan without its broken lines and what
/// it quotes of the language.
fn text_of(made: &Made, name: &str) -> String {
    match name {
        "report.md" => without_findings(&made[name], "\n## "),
        "plan.txt" => {
            let whole = made[name].split("\n\n").map(|part| part.replace('\n', " "));
            whole.collect::<Vec<_>>().join("\n").split('`').step_by(2).collect()
        }
        paper => shown(&made[paper]),
    }
}

#[test]
fn a_german_page_has_no_sentence_of_the_english_one() {
    let citations: BTreeSet<String> = cited().iter().flat_map(|source| pieces(source, &[])).collect();
    let mut wrong = Vec::new();
    for (folder, english, german) in examples() {
        let own = own_words(folder);
        for name in ["report.md", "plan.txt"].into_iter().chain(PAPERS) {
            let told = |made: &Made| pieces(&text_of(made, name), &own);
            let (english, german) = (told(english), told(german));
            let both = english.intersection(&german).filter(|piece| words(piece) > 2);
            let both = both.filter(|piece| !citations.contains(*piece) && !piece.starts_with("NIOSH "));
            wrong.extend(both.map(|piece| format!("{folder}/{name}, in both: {piece}")));
            let left = german.iter().filter_map(|piece| Some((english_in(piece)?, piece)));
            wrong.extend(left.map(|(word, piece)| format!("{folder}/{name}, `{word}` in: {piece}")));
        }
    }
    none(&wrong);
}

/// The parts of sources that keep the words of what they cite.
fn cited() -> BTreeSet<String> {
    let catalog = Catalog::built_in();
    let sources = catalog.classes().iter().flat_map(|class| class.sources().collect::<Vec<_>>());
    let sources = sources.chain(catalog.pairs().iter().map(|pair| pair.source));
    let sources = sources.chain(catalog.limits().iter().map(|limit| limit.source));
    let sources = sources.chain(catalog.cautions().iter().map(|caution| caution.source));
    let sources = sources.chain(catalog.lines().iter().map(|line| line.source));
    let parts = sources.flat_map(|source| source.as_str().split("; "));
    parts.filter(|part| is_citation(part)).map(str::to_owned).collect()
}

/// The text that a page shows.
fn shown(page: &str) -> String {
    let mut out = String::new();
    // What holds a word together on its line parts no sentence.
    let whole = page.replace("<bdi class=\"held\">", "").replace("</bdi>", "");
    let mut rest = whole.as_str();
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
        .replace('\u{a0}', " ")
}

#[test]
fn german_pages_and_pictures_are_german() {
    let mut wrong = Vec::new();
    for (folder, english, german) in examples() {
        let own = own_words(folder);
        let pages = ["report.html", "index.html", "map.svg"].into_iter().chain(PAPERS);
        let sheets = german
            .keys()
            .map(String::as_str)
            .filter(|name| name.starts_with("sheet-") && name.ends_with("html"));
        for name in pages.chain(sheets) {
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
        for name in ["report.md", "report.html", "index.html"].into_iter().chain(PAPERS) {
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

#[test]
fn a_german_page_has_the_numbers_of_the_english_one() {
    let mut wrong = Vec::new();
    for (folder, english, german) in examples() {
        for name in ["report.md", "plan.txt"].into_iter().chain(PAPERS) {
            // The digest of the study is that of another text.
            let told = |made: &Made, language| {
                let text = if PAPERS.contains(&name) { shown(&made[name]) } else { made[name].clone() };
                let lines = text.lines().filter(|line| !line.contains(&format!("{folder}.study")));
                numbers(&lines.collect::<Vec<_>>().join("\n"), language)
            };
            let (english, german) = (told(english, Language::English), told(german, Language::German));
            for number in english.keys().chain(german.keys()).collect::<BTreeSet<_>>() {
                let (e, g) = (english.get(number).unwrap_or(&0), german.get(number).unwrap_or(&0));
                if e != g {
                    wrong.push(format!(
                        "{folder}/{name}: {number} stands {e} times in English, {g} times in German"
                    ));
                }
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
