//! Texts of tables of data, above all of the built-in catalog: none that can reach a page lacks its German.

use super::{english_in, files, is_word, none, numbers, root, table};
use std::collections::BTreeSet;
use std::fs;
use tapeline::outputs::FILES;
use tapeline::speech::Language;
use tapeline::units;
use toml::{Table, Value};

/// Where a text of the built-in catalog is only looked up or compared, or reaches nothing but findings.
const UNSEEN: [&str; 46] = [
    "a",
    "aliases",
    "b",
    "because",
    "class",
    "code",
    "colours",
    "displaced",
    "except_on",
    "family",
    "film_gauge",
    "first",
    "filter",
    "german",
    "group",
    "groups",
    "hazards",
    "id",
    "limits",
    "mixed_as",
    "needs",
    "needs_supply",
    "not",
    "not_on",
    "on",
    "phrases",
    "pictogram",
    "pictograms",
    "precautions",
    "raises",
    "reach",
    "severity",
    "sheet_severity",
    "signal",
    "standard",
    "statement",
    "statements",
    "surface",
    "then",
    "unless",
    "unless_breathing",
    "uses",
    "verb",
    "verbs",
    "when",
    "words",
];

/// Every text of the built-in catalog that can reach a page, as far as German writes it otherwise.
fn of_catalog() -> BTreeSet<String> {
    let mut texts = BTreeSet::new();
    for path in files(&root().join("src/catalog/data"), ".toml") {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let table: Table = fs::read_to_string(&path).unwrap().parse().unwrap();
        texts_of(&name, "", &Value::Table(table), &mut texts);
    }
    texts
}

fn texts_of(file: &str, key: &str, value: &Value, texts: &mut BTreeSet<String>) {
    // The measures of a study have names and notes of its own; notes on the strength of alcohol are for us.
    let unseen = match file {
        "measures" => !["limits_source", "seen_note", "kit"].contains(&key),
        "isopropanol" => ["note", "statement"].contains(&key),
        _ => UNSEEN.contains(&key),
    };
    match value {
        Value::Table(table) => {
            for (key, value) in table {
                // A gap that the regulation leaves to the supplier is printed as the catalog fills it.
                let filled = key == "text" && table.contains_key("filled");
                // Bare materials stand on the cards by their names, and so does a ground of which a cut takes a share.
                let named = key == "id" && (file == "surfaces" || table.contains_key("take_max_um"));
                if named {
                    texts.extend(value.as_str().map(str::to_owned));
                } else if !filled {
                    texts_of(file, key, value, texts);
                }
            }
        }
        Value::Array(values) if !unseen => values.iter().for_each(|value| texts_of(file, key, value, texts)),
        Value::Array(values) => {
            values
                .iter()
                .filter(|value| value.is_table())
                .for_each(|value| texts_of(file, key, value, texts));
        }
        Value::String(text) if !unseen && !text.is_empty() && !is_same_in_german(key, text) => {
            texts.insert(text.clone());
        }
        _ => {}
    }
}

/// Codes, values with their units, and citations of what was published in English.
fn is_same_in_german(key: &str, text: &str) -> bool {
    let only = |known: &[&str]| {
        text.split(|c: char| !c.is_alphanumeric()).all(|word| !is_word(word) || known.contains(&word))
    };
    match key {
        "category" => !text.contains(',') && english_in(text).is_none(),
        "rel" | "pel" | "idlh" => !text.contains('.') && only(&["ppm", "mg", "min"]),
        key if key.ends_with("source") => text.split("; ").all(is_citation),
        _ => false,
    }
}

/// `NIOSH Pocket Guide, acetone`: the entry as the publication has it.
pub(super) fn is_citation(part: &str) -> bool {
    const PUBLISHED: [&str; 7] =
        ["ASTM ", "ISO ", "ISO/CIE ", "J. Chem.", "NIOSH Pocket Guide", "OSHA 29 CFR", "phosphoric acid ("];
    PUBLISHED.iter().any(|issuer| part.starts_with(issuer))
        && english_in(part).is_none()
        && !["memory", "practice", "(dust)"].iter().any(|word| part.contains(word))
}

/// What stands in tables of data, and is looked up as it is.
fn given() -> BTreeSet<String> {
    let mut given: BTreeSet<String> =
        ["and", "or", "water", "marks", "carrier-only", "Danger", "Warning"].map(str::to_owned).into();
    given.extend(of_catalog());
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
    let (given, german) = (given(), table("given"));
    assert!(given.len() > 500, "{} texts were found", given.len());
    let known: BTreeSet<String> = german.keys().cloned().collect();
    let lacks = given.difference(&known).map(|key| format!("German lacks: {key}"));
    let spare = known.difference(&given).map(|key| format!("no table has: {key}"));
    let figures = |text: &str| numbers(text, Language::English);
    let moved = german.iter().filter(|(key, text)| figures(key) != figures(text));
    let moved = moved.map(|(key, text)| format!("other numbers than in English: {key} = {text}"));
    none(&lacks.chain(spare).chain(moved).collect::<Vec<_>>());
}

/// A sentence of the code that is a text of the data too would be said with the German of the one for both.
#[test]
fn no_key_stands_in_two_parts_of_the_catalogue() {
    let (sentences, given) = (table("sentences"), table("given"));
    let both = sentences.keys().filter(|key| given.contains_key(*key));
    none(&both.filter(|key| sentences[*key] != given[*key]).cloned().collect::<Vec<_>>());
}
