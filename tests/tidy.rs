//! The house is in order: layers, first lines, sizes, forbidden words, and that documents and registries tell the truth.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test reads the source"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::checks::{CHECKS, example};
use tapeline::pipeline::{self, Day};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Files under a folder whose names end so, by their path from the root, with their text.
fn files(folder: &str, ends: &[&str]) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut folders: Vec<PathBuf> = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if ends.iter().any(|end| path.to_string_lossy().ends_with(end)) {
                let name = path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/");
                found.push((name, fs::read_to_string(&path).unwrap()));
            }
        }
    }
    found.sort();
    found
}

/// The pages and settings that stand in no folder.
fn at_the_root() -> impl Iterator<Item = (String, String)> {
    let names =
        ["README.md", "DEVELOPERS.md", "Cargo.toml", "build.rs", "clippy.toml", "rustfmt.toml", "LICENSE"];
    names.into_iter().map(|name| (name.to_owned(), fs::read_to_string(root().join(name)).unwrap()))
}

/// Fails with everything that is wrong, not with the first.
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Code without comments, texts and tests at the end of the file.
fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]\nmod ").next().unwrap_or(text);
    let (mut out, mut chars) = (String::new(), text.chars().peekable());
    let mut before = ' ';
    while let Some(c) = chars.next() {
        match c {
            '/' if chars.peek() == Some(&'/') => {
                chars.by_ref().take_while(|c| *c != '\n').for_each(drop);
                out.push('\n');
            }
            // A quote may stand as a character of its own.
            '"' if before != '\'' => {
                while let Some(c) = chars.next() {
                    match c {
                        '\\' => drop(chars.next()),
                        '"' => break,
                        _ => {}
                    }
                }
                out.push_str("\"\"");
            }
            _ => out.push(c),
        }
        before = c;
    }
    out
}

/// The first names behind each `prefix`, also those inside a group: `crate::{a::B, c}` gives `a` and `c`.
fn names_behind(code: &str, prefix: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for (at, _) in code.match_indices(prefix) {
        let rest = &code[at + prefix.len()..];
        match rest.strip_prefix('{') {
            Some(group) => {
                let (mut depth, mut fresh) = (0, true);
                for (at, c) in group.char_indices() {
                    match c {
                        '{' => depth += 1,
                        '}' if depth == 0 => break,
                        '}' => depth -= 1,
                        ',' if depth == 0 => fresh = true,
                        c if depth == 0 && fresh && c.is_alphabetic() => {
                            names.insert(word(&group[at..]));
                            fresh = false;
                        }
                        _ => {}
                    }
                }
            }
            None => drop(names.insert(word(rest))),
        }
    }
    names.remove("");
    names
}

fn word(text: &str) -> String {
    text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

/// The top-level module of a file under `src`.
fn module(path: &str) -> String {
    word(path.strip_prefix("src/").unwrap_or(path))
}

struct Layer {
    number: u32,
    uses: BTreeSet<String>,
}

fn layers() -> BTreeMap<String, Layer> {
    let page = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let table =
        page.split("| module | layer | may use |").nth(1).expect("DEVELOPERS.md has the table of layers");
    let rows = table.lines().skip(2).take_while(|line| line.starts_with('|'));
    rows.map(|row| {
        let places: Vec<&str> = row.split('|').map(str::trim).collect();
        let uses = places[3].split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty());
        (places[1].to_owned(), Layer { number: places[2].parse().unwrap(), uses: uses.collect() })
    })
    .collect()
}

/// What each module of the source uses.
fn edges() -> BTreeMap<String, BTreeSet<String>> {
    let mut edges: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (path, text) in files("src", &[".rs"]) {
        if path == "src/lib.rs" {
            continue;
        }
        let code = code(&text);
        let own = module(&path);
        let used = edges.entry(own.clone()).or_default();
        for prefix in ["crate::", "tapeline::"] {
            used.extend(names_behind(&code, prefix).into_iter().filter(|name| *name != own));
        }
    }
    edges
}

#[test]
fn paths_are_found_alone_and_in_groups() {
    let found = names_behind("use crate::{a::B, c, d::{e, f}};\nlet x = crate::g::h();", "crate::");
    assert_eq!(found.into_iter().collect::<Vec<_>>(), ["a", "c", "d", "g"]);
    assert_eq!(code("a // crate::b\n\"crate::c \\\" d\" '\"' e"), "a \n\"\" '\"' e");
}

#[test]
fn the_table_of_layers_is_what_the_source_does() {
    let (layers, edges) = (layers(), edges());
    let mut wrong = Vec::new();
    let lib = fs::read_to_string(root().join("src/lib.rs")).unwrap();
    let declared = lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'));
    let mut known: BTreeSet<&str> = declared.collect();
    known.insert("main");
    let told: BTreeSet<&str> = layers.keys().map(String::as_str).collect();
    for name in known.symmetric_difference(&told) {
        wrong.push(format!("module {name} is in one of src/lib.rs and the table only"));
    }
    for (module, layer) in &layers {
        let used = edges.get(module).cloned().unwrap_or_default();
        for name in used.difference(&layer.uses) {
            wrong.push(format!("{module} uses {name}, the table does not say so"));
        }
        for name in layer.uses.difference(&used) {
            wrong.push(format!("the table lets {module} use {name}, and it does not"));
        }
        for name in &used {
            if layers.get(name).is_none_or(|below| below.number >= layer.number) {
                wrong.push(format!(
                    "{module} (layer {}) uses {name}, which does not lie below it",
                    layer.number
                ));
            }
        }
    }
    none(&wrong);
}

/// Two files of one folder that use each other are one file in two places.
#[test]
fn no_two_files_of_a_folder_use_each_other() {
    let mut edges: BTreeSet<(String, String, String)> = BTreeSet::new();
    let all = files("src", &[".rs"]);
    for (path, text) in &all {
        let (folder, file) = path.rsplit_once('/').unwrap();
        if matches!(file, "mod.rs" | "lib.rs" | "main.rs") {
            continue;
        }
        let siblings = names_behind(&code(text), "super::");
        let own = file.trim_end_matches(".rs");
        edges.extend(siblings.into_iter().map(|other| (folder.to_owned(), own.to_owned(), other)));
    }
    let two_way = edges
        .iter()
        .filter(|(folder, a, b)| a < b && edges.contains(&(folder.clone(), b.clone(), a.clone())));
    none(&two_way.map(|(folder, a, b)| format!("{folder}: {a} and {b} use each other")).collect::<Vec<_>>());
}

#[test]
fn every_file_begins_with_what_it_is_for_and_is_short() {
    let mut wrong = Vec::new();
    for folder in ["src", "tests", "benches", "grammar"] {
        for (path, text) in files(folder, &[".rs", ".pest", ".toml"]) {
            let mark = match path.rsplit('.').next() {
                Some("rs") => "//! ",
                Some("pest") => "// ",
                _ => "# ",
            };
            let purpose = text.lines().next().and_then(|line| line.strip_prefix(mark)).unwrap_or_default();
            if purpose.split_whitespace().count() < 3 {
                wrong.push(format!("{path} does not begin with `{mark}` and what it is for"));
            }
            let lines = text.lines().count();
            if lines > 600 {
                wrong.push(format!("{path} has {lines} lines, of at most 600"));
            }
        }
    }
    none(&wrong);
}

#[test]
fn some_words_are_nowhere() {
    // Built from halves, so that this file does not find itself.
    let marks = [["TO", "DO"], ["FIX", "ME"], ["XX", "X:"]].map(|halves| halves.concat());
    let homes = [["/wo", "rk/"], ["/ho", "me/"], ["/Us", "ers/"], ["C:", "\\"]].map(|halves| halves.concat());
    let ends = [".rs", ".pest", ".toml", ".md", ".study", ".css", ".html", ".csv"];
    let folders = ["src", "tests", "benches", "grammar", "examples", "templates"];
    let mut wrong = Vec::new();
    for (path, text) in folders.into_iter().flat_map(|folder| files(folder, &ends)).chain(at_the_root()) {
        for (at, line) in text.lines().enumerate() {
            let found = marks.iter().chain(&homes).find(|word| line.contains(word.as_str()));
            wrong.extend(found.map(|word| format!("{path}:{}: {word}", at + 1)));
        }
    }
    none(&wrong);
}

/// Nothing is fetched from anywhere: the only addresses are the names of XML and hosts kept for examples (RFC 2606).
#[test]
fn no_address_of_another_host_is_written() {
    let ends = [".rs", ".pest", ".toml", ".md", ".study", ".css", ".html", ".svg"];
    let folders = ["src", "examples", "templates", "grammar", "tests/golden"];
    let mut wrong = Vec::new();
    for (path, text) in folders.into_iter().flat_map(|folder| files(folder, &ends)).chain(at_the_root()) {
        for scheme in ["http://", "https://"] {
            for (at, _) in text.match_indices(scheme) {
                let host: String = text[at + scheme.len()..]
                    .chars()
                    .take_while(|c| c.is_alphanumeric() || matches!(c, '.' | '-'))
                    .collect();
                // A scheme without a host is what a check looks for.
                if !host.is_empty() && host != "www.w3.org" && !host.ends_with(".example") {
                    wrong.push(format!("{path}: {scheme}{host}"));
                }
            }
        }
    }
    none(&wrong);
}

/// Every page is whole by itself: no style sheet, font or picture of another file, and no script but the report's own.
#[test]
fn no_page_asks_for_another_file() {
    let mut wrong = Vec::new();
    let own = format!("<script>{}</script>", fs::read_to_string(root().join("templates/report.js")).unwrap());
    for (path, text) in files("tests/golden", &[".html", ".svg"]) {
        let text = if path.ends_with("report.html") { text.replacen(&own, "", 1) } else { text };
        for word in ["<script", "<link", "@import", "@font-face", " src=", "<iframe", "<object"] {
            wrong.extend(text.contains(word).then(|| format!("{path}: {word}")));
        }
        let targets = text.match_indices("url(").map(|(at, _)| &text[at + 4..]);
        wrong.extend(
            targets
                .filter(|target| !target.starts_with('#'))
                .map(|target| format!("{path}: url({target:.20}")),
        );
    }
    none(&wrong);
}

/// A sentence that is put together from parts says nothing twice in a row: a part may bring words that another has.
#[test]
fn no_report_says_the_same_words_twice_in_a_row() {
    let mut wrong = Vec::new();
    for (path, text) in files("tests/golden", &["report.md"]) {
        for line in text.lines().filter(|line| !line.starts_with('|')) {
            // Where a link leads is no word of the sentence.
            let said: String = line.split("](").enumerate().fold(String::new(), |said, (at, part)| {
                said + if at == 0 { part } else { part.split_once(')').map_or("", |(_, rest)| rest) }
            });
            let words: Vec<&str> =
                said.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
            let twice = words.windows(6).find(|six| six[..3] == six[3..]);
            wrong.extend(twice.map(|six| format!("{path}: {}", six.join(" "))));
        }
    }
    none(&wrong);
}

/// A table that is searched and never walked through has no order that could reach a page.
#[test]
fn tables_without_an_order_are_only_searched() {
    let mut wrong = Vec::new();
    let mut seen = BTreeSet::new();
    for (path, text) in files("src", &[".rs"]) {
        let code = code(&text);
        if !code.contains("HashMap") && !code.contains("HashSet") {
            continue;
        }
        let before = |at: usize| {
            code[..at]
                .trim_end_matches([':', '=', '(', ' '])
                .rsplit(|c: char| !c.is_alphanumeric() && c != '_')
                .next()
        };
        let names = ["HashMap<", "HashMap::new", "HashSet<", "HashSet::new"]
            .into_iter()
            .flat_map(|word| code.match_indices(word));
        let names: BTreeSet<&str> =
            names.filter_map(|(at, _)| before(at)).filter(|name| !name.is_empty()).collect();
        for name in names {
            let walks = [
                ".iter",
                ".keys",
                ".values",
                ".drain",
                ".into_iter",
                ".retain",
                ".into_keys",
                ".into_values",
            ];
            wrong.extend(
                walks
                    .iter()
                    .filter(|walk| code.contains(&format!("{name}{walk}")))
                    .map(|walk| format!("{path}: {name}{walk}")),
            );
        }
        seen.insert(path);
    }
    none(&wrong);
    let known = ["src/readings/faults.rs", "src/readings/names.rs", "src/readings/stage.rs"];
    assert_eq!(
        seen.iter().map(String::as_str).collect::<Vec<_>>(),
        known,
        "a new place for such tables: see that none is walked through"
    );
}

/// What a study states with a unit stays a quantity. Bare are mm on the panel, values in the unit of their
/// measure, and what carries its unit in its name.
#[test]
fn lengths_times_and_money_of_a_study_are_quantities() {
    let of_a_measure = ["alike", "seen", "possible", "of", "from", "to", "words", "value"];
    let units = ["_deg", "_mm", "_m2", "_s"];
    let mut wrong = Vec::new();
    for file in ["mod", "things", "plan"] {
        let path = format!("src/study/{file}.rs");
        let text = fs::read_to_string(root().join(&path)).unwrap();
        for line in code(&text).lines().map(|line| line.trim().trim_start_matches("pub ")) {
            let Some((name, kind)) = line.trim_end_matches(',').split_once(": ") else { continue };
            let is_field = line.ends_with(',')
                && kind.contains("f64")
                && name.chars().all(|c| c.is_alphanumeric() || c == '_');
            if is_field && !of_a_measure.contains(&name) && !units.iter().any(|unit| name.ends_with(unit)) {
                wrong.push(format!("{path}: {line}"));
            }
        }
    }
    none(&wrong);
}

/// A measure is data: where code names one, it is a check about that one measure.
#[test]
fn no_measure_of_the_catalog_needs_code() {
    let mut found = Vec::new();
    for measure in tapeline::catalog::Catalog::built_in().measures() {
        for (path, text) in files("src", &[".rs"]) {
            let text = text.split("#[cfg(test)]").next().unwrap();
            if text.contains(&format!("\"{}\"", measure.id)) && !path.ends_with("/tests.rs") {
                found.push(format!("{path} {}", measure.id));
            }
        }
    }
    let known = [
        "src/checks/names/film_gauge_for_thin_coat.rs film",
        "src/checks/prep/film.rs film",
        "src/study/resolve/panel.rs film",
        "src/study/resolve/said_once.rs film",
        "src/syntax/blocks.rs film",
        "src/syntax/slips.rs film",
        "src/checks/prep/film.rs moisture",
        "src/syntax/blocks.rs moisture",
        "src/study/resolve/kinds.rs colour",
    ];
    assert_eq!(
        found, known,
        "all but the checks are words of the language: film and moisture of a surface, a colour change"
    );
}

/// What DEVELOPERS.md says that the lints hold is in their files.
#[test]
fn the_lints_that_are_promised_are_on() {
    let read = |name: &str| fs::read_to_string(root().join(name)).unwrap();
    let (clippy, cargo) = (read("clippy.toml"), read("Cargo.toml"));
    for line in ["too-many-lines-threshold = 80", "too-many-arguments-threshold = 6"] {
        assert!(clippy.contains(line), "clippy.toml lacks {line}");
    }
    for line in [
        "unsafe_code = \"forbid\"",
        "unwrap_used = \"deny\"",
        "expect_used = \"deny\"",
        "iter_over_hash_type = \"deny\"",
    ] {
        assert!(cargo.contains(line), "Cargo.toml lacks {line}");
    }
    let leftovers = ["util", "utils", "helper", "helpers", "common", "misc", "shared"];
    let all = files("src", &[".rs"]);
    let names = all.iter().filter(|(path, _)| path.split(['/', '.']).any(|name| leftovers.contains(&name)));
    none(
        &names.map(|(path, _)| format!("{path} has the name of a drawer for leftovers")).collect::<Vec<_>>(),
    );
}

#[test]
fn disk_clock_and_environment_are_touched_by_the_command_line_only() {
    let forbidden = [
        "std::fs",
        "std::env",
        "std::net",
        "std::process::Command",
        "SystemTime",
        "Instant::now",
        "Zoned::now",
        "Timestamp::now",
    ];
    let mut wrong = Vec::new();
    for (path, text) in files("src", &[".rs"]) {
        if path.starts_with("src/cli/") {
            continue;
        }
        let code = code(&text);
        for word in forbidden {
            // The binary hands its arguments to the command line.
            let arguments = path == "src/main.rs" && word == "std::env";
            if code.contains(word) && !arguments {
                wrong.push(format!("{path}: {word}"));
            }
        }
    }
    none(&wrong);
}

#[test]
fn the_parser_crate_is_named_in_one_module_only() {
    let mut wrong = Vec::new();
    for (path, text) in files("src", &[".rs"]) {
        let code = code(&text);
        if !path.starts_with("src/syntax/") && (code.contains("pest::") || code.contains("pest_derive")) {
            wrong.push(path);
        }
    }
    none(&wrong);
}

#[test]
fn own_modules_are_not_imported_whole() {
    let mut wrong = Vec::new();
    for (path, text) in files("src", &[".rs"]) {
        let code = code(&text);
        let whole = |line: &&str| {
            let line = line.trim_start();
            line.starts_with("use ") && line.contains("::*") && !line.starts_with("use super::*")
        };
        wrong.extend(code.lines().filter(whole).map(|line| format!("{path}: {line}")));
    }
    none(&wrong);
}

#[test]
fn every_path_that_a_document_names_is_there() {
    let mut wrong = Vec::new();
    let tops = ["src/", "tests/", "grammar/", "examples/", "templates/", "benches/", ".ci/"];
    for page in ["DEVELOPERS.md", "README.md", "grammar/README.md"] {
        let Ok(text) = fs::read_to_string(root().join(page)) else { continue };
        let folder = root().join(page).parent().unwrap().to_owned();
        let words = text.split(|c: char| c.is_whitespace() || "`(),;\"|".contains(c));
        for word in words.map(|word| word.trim_end_matches(['.', ':'])) {
            let named = tops.iter().any(|top| word.starts_with(top)) && !word.contains(['*', '<']);
            if named && !root().join(word).exists() {
                wrong.push(format!("{page} names {word}"));
            }
        }
        for (at, _) in text.match_indices("](") {
            let target = text[at + 2..].split([')', '#']).next().unwrap_or_default();
            if !target.is_empty() && !target.contains("://") && !folder.join(target).exists() {
                wrong.push(format!("{page} links to {target}"));
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    none(&wrong);
}

#[test]
fn every_check_is_in_the_registry_under_the_name_of_its_file() {
    let registered: BTreeSet<String> = CHECKS.iter().map(|check| check.page.code.to_owned()).collect();
    assert_eq!(registered.len(), CHECKS.len(), "a code is registered twice");
    let holds = |text: &str| text.contains("const CHECK: Check");
    let on_disk: BTreeSet<String> = files("src/checks", &[".rs"])
        .into_iter()
        .filter(|(_, text)| holds(text))
        .map(|(path, _)| path.rsplit('/').next().unwrap().trim_end_matches(".rs").replace('_', "-"))
        .collect();
    let apart = on_disk.symmetric_difference(&registered);
    none(&apart.map(|code| format!("{code} is a file or a registered check, not both")).collect::<Vec<_>>());
}

/// Codes as they stand in the source where a finding is made.
fn codes_raised() -> BTreeMap<String, String> {
    let mut codes = BTreeMap::new();
    let makers = [
        "Finding::error(",
        "Finding::warning(",
        "Finding::advice(",
        "Finding::new(",
        " error(\"",
        " warning(\"",
    ];
    for (path, text) in files("src", &[".rs"]) {
        let text = text.split("#[cfg(test)]\nmod ").next().unwrap();
        for maker in makers {
            for (at, _) in text.match_indices(maker) {
                let rest = text[at + maker.len()..].trim_start().trim_start_matches('"');
                let code: String = rest.chars().take_while(|c| c.is_ascii_lowercase() || *c == '-').collect();
                let quoted = text[at + maker.trim_end_matches('"').len()..].trim_start().starts_with('"');
                if quoted && rest[code.len()..].starts_with('"') {
                    codes.insert(code, path.clone());
                }
            }
        }
    }
    codes
}

#[test]
fn every_code_that_is_raised_has_a_page() {
    let pages: BTreeSet<&str> = pipeline::pages().map(|page| page.code).collect();
    assert_eq!(pages.len(), pipeline::pages().count(), "a code has two pages");
    let raised = codes_raised();
    assert!(raised.len() > 30, "the search for codes finds only {}", raised.len());
    let without = raised.iter().filter(|(code, _)| !pages.contains(code.as_str()));
    none(&without.map(|(code, path)| format!("{path} raises {code}, which has no page")).collect::<Vec<_>>());
}

/// The bad example of a page raises its code, and the good one does not.
#[test]
fn every_page_has_something_that_raises_it() {
    let codes = |piece: &str| -> BTreeSet<&'static str> {
        let example = example(piece);
        let day = example.date.parse().unwrap();
        let outcome = pipeline::check("example.study", &example.study, &example.files, Day::Today(day));
        outcome.findings.into_iter().map(|finding| finding.code).collect()
    };
    let mut wrong = Vec::new();
    for page in pipeline::pages() {
        let (bad, good) = (codes(page.bad), codes(page.good));
        if !bad.contains(page.code) {
            wrong.push(format!("{}: its bad example gives {bad:?}", page.code));
        }
        if good.contains(page.code) {
            wrong.push(format!("{}: its good example raises it", page.code));
        }
        for code in bad.union(&good) {
            if !pipeline::pages().any(|page| page.code == *code) {
                wrong.push(format!("{code} is found and has no page"));
            }
        }
    }
    none(&wrong);
}
