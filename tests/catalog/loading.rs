//! Every table loads, and every entry names a source of an allowed form.

use tapeline::catalog::{Source, Support};

use crate::catalog;

#[test]
fn every_table_loads() {
    let faults: Vec<String> = catalog().faults().iter().map(ToString::to_string).collect();
    assert_eq!(faults, Vec::<String>::new());
    assert!(!catalog().classes().is_empty());
    assert!(!catalog().pairs().is_empty());
    assert!(!catalog().hazards().is_empty());
    assert!(!catalog().precautions().is_empty());
    assert_eq!(catalog().pictograms().len(), 9);
    assert!(!catalog().steps().is_empty());
    assert!(!catalog().measures().is_empty());
    assert!(!catalog().surfaces().is_empty());
    assert!(!catalog().lines().is_empty());
    assert!(catalog().climate().is_some());
    assert!(catalog().isopropanol().is_some());
    assert!(!catalog().limits().is_empty());
    assert!(!catalog().cautions().is_empty());
    assert!(catalog().aerosol().is_some());
    assert!(!catalog().gear().is_empty());
}

#[test]
fn a_source_has_one_of_the_allowed_forms() {
    let support = |text| Source::new(text).map(|source| source.support());
    assert_eq!(support("common practice, no source"), Some(Support::Practice));
    assert_eq!(support("from memory, follow the data sheet"), Some(Support::Memory));
    assert_eq!(support("ISO 2178"), Some(Support::Published));
    assert_eq!(support("model: modified UNIFAC"), Some(Support::Model));
    for refused in ["", " ", "model: ", "somebody said so", "ISO 2178, https://example.org"] {
        assert_eq!(support(refused), None, "{refused}");
    }
}

/// Every source of the catalog, with a name for the message.
fn sources() -> Vec<(&'static str, Source)> {
    let c = catalog();
    let mut all: Vec<(&'static str, Source)> = Vec::new();
    all.extend(c.classes().iter().flat_map(|x| x.sources().map(|s| (x.id, s))));
    all.extend(c.limits().iter().map(|x| (x.id, x.source)));
    all.extend(c.cautions().iter().map(|x| (x.id, x.source)));
    all.extend(c.pairs().iter().map(|x| (x.a, x.source)));
    all.extend(c.hazards().iter().map(|x| (x.code, x.source)));
    all.extend(c.precautions().iter().map(|x| (x.code, x.source)));
    all.extend(c.pictograms().iter().map(|x| (x.code, x.source)));
    all.extend(c.steps().iter().map(|x| (x.id, x.source)));
    all.extend(c.orders().iter().map(|x| (x.first, x.source)));
    all.extend(c.measures().iter().flat_map(|x| x.sources().map(|s| (x.id, s))));
    all.extend(c.surfaces().iter().map(|x| (x.id, x.source)));
    all.extend(c.surfaces().iter().flat_map(|x| x.harmed_by.iter().map(|h| (x.id, h.source))));
    all.extend(c.packings().iter().map(|x| (x.id, x.source)));
    all.extend(c.gear().iter().map(|x| (x.id, x.source)));
    all.extend(c.lines().iter().map(|x| (x.id, x.source)));
    all.extend(c.climate().map(|x| ("climate", x.source)));
    if let Some(table) = c.isopropanol() {
        all.extend(table.shares.iter().map(|x| (x.statement, x.source)));
        all.extend(table.sources().map(|source| ("isopropanol", source)));
    }
    all
}

#[test]
fn every_entry_has_a_source_that_can_be_cited() {
    const CAPITALS: [&str; 7] = ["ASTM", "IARC", "NIOSH", "OSHA", "REACH", "UNIFAC", "XVII"];
    let all = sources();
    assert!(all.len() > 250, "{}", all.len());
    for (entry, source) in all {
        let text = source.as_str();
        assert!(!text.trim().is_empty(), "{entry}");
        assert!(!text.contains("://") && !text.contains("www."), "{entry}: {text}");
        // Working notes shout; a citation shouts only where its issuer does.
        let words = text.split(|c: char| !c.is_ascii_alphanumeric());
        let shouts = |word: &&str| word.len() > 3 && word.bytes().all(|b| b.is_ascii_uppercase());
        for word in words.filter(shouts) {
            assert!(CAPITALS.contains(&word), "{entry}: {text}");
        }
    }
}

#[test]
fn every_data_file_says_what_it_is_for() {
    for text in [
        include_str!("../../src/catalog/data/chemicals-1-cleaners.toml"),
        include_str!("../../src/catalog/data/chemicals-2-abrasives-wipes.toml"),
        include_str!("../../src/catalog/data/chemicals-3-coatings.toml"),
        include_str!("../../src/catalog/data/pairs.toml"),
        include_str!("../../src/catalog/data/statements.toml"),
        include_str!("../../src/catalog/data/steps.toml"),
        include_str!("../../src/catalog/data/measures.toml"),
        include_str!("../../src/catalog/data/surfaces.toml"),
        include_str!("../../src/catalog/data/safety.toml"),
        include_str!("../../src/catalog/data/isopropanol.toml"),
        include_str!("../../src/catalog/data/exposure.toml"),
        include_str!("../../src/catalog/data/cautions.toml"),
        include_str!("../../src/catalog/data/packings.toml"),
        include_str!("../../src/catalog/data/gear.toml"),
    ] {
        let first = text.lines().next().expect("a line");
        assert!(first.starts_with("# ") && first.ends_with('.'), "{first}");
        // Signs of units go to pages as they stand; other letters of a kind would be slips.
        assert!(text.chars().all(|letter| letter.is_ascii() || "°³".contains(letter)), "{first}");
    }
}
