//! Codes have texts; signal words, pictograms and sheet severity follow from the statements.

use std::collections::BTreeSet;

use tapeline::catalog::{SheetSeverity, Signal};

use crate::catalog;

#[test]
fn every_code_that_a_class_names_has_a_text() {
    let c = catalog();
    for class in c.classes() {
        for code in &class.hazards.statements {
            assert!(c.hazard(code).is_some(), "{}: {code}", class.id);
        }
        for code in &class.hazards.precautions {
            assert!(c.precaution(code).is_some(), "{}: {code}", class.id);
        }
        for code in &class.hazards.pictograms {
            assert!(c.pictogram(code).is_some(), "{}: {code}", class.id);
        }
    }
}

#[test]
fn every_code_in_a_note_has_a_text() {
    for class in catalog().classes() {
        let words = class.hazards.note.split(|c: char| !c.is_ascii_alphanumeric());
        let is_code = |word: &&str| {
            let digits = word.trim_start_matches("EUH").trim_start_matches('H');
            digits.len() == 3 && digits != *word && digits.bytes().all(|b| b.is_ascii_digit())
        };
        for code in words.filter(is_code) {
            assert!(catalog().hazard(code).is_some(), "{}: {code}", class.id);
        }
    }
}

#[test]
fn every_precaution_is_used() {
    let classes = catalog().classes();
    for precaution in catalog().precautions() {
        let used = classes.iter().any(|c| c.hazards.precautions.contains(&precaution.code));
        assert!(used, "{}", precaution.code);
    }
}

#[test]
fn the_signal_word_is_the_gravest_of_the_statements() {
    for class in catalog().classes() {
        let of = |code: &&str| catalog().hazard(code).expect("a text").signal;
        let gravest = class.hazards.statements.iter().map(of).max().unwrap_or(Signal::None);
        assert_eq!(class.hazards.signal, gravest, "{}", class.id);
    }
}

/// CLP Article 26: the skull and the corrosion sign displace the exclamation mark of like hazards.
fn displaced(code: &str, pictograms: &[&str]) -> bool {
    let skull = pictograms.contains(&"GHS06") && ["H302", "H312", "H332"].contains(&code);
    let burns = pictograms.contains(&"GHS05") && ["H315", "H319"].contains(&code);
    skull || burns
}

#[test]
fn the_pictograms_are_those_of_the_statements() {
    for class in catalog().classes() {
        let pictograms = &class.hazards.pictograms;
        let statements = class.hazards.statements.iter();
        let needed: BTreeSet<&str> = statements
            .filter(|code| !displaced(code, pictograms))
            .filter_map(|code| catalog().hazard(code).expect("a text").pictogram)
            .collect();
        assert_eq!(pictograms.iter().copied().collect::<BTreeSet<_>>(), needed, "{}", class.id);
    }
}

#[test]
fn a_missing_sheet_is_an_error_for_the_grave_classes_only() {
    const GRAVE: [&str; 7] = ["H300", "H301", "H310", "H311", "H314", "H330", "H331"];
    const GROUPS: [&str; 4] = ["fluoride", "isocyanate", "hypochlorite", "peroxide"];
    for class in catalog().classes() {
        let by_label = class.hazards.statements.iter().any(|code| GRAVE.contains(code));
        let grave = by_label || GROUPS.iter().any(|group| class.is_in(group));
        let wanted = if grave { SheetSeverity::Error } else { SheetSeverity::Advice };
        assert_eq!(class.sheet_severity, wanted, "{}", class.id);
    }
}

#[test]
fn the_wording_is_that_of_the_regulation() {
    let text = |code| catalog().hazard(code).expect("a text").text;
    assert_eq!(text("H225"), "Highly flammable liquid and vapour.");
    assert_eq!(text("H314"), "Causes severe skin burns and eye damage.");
    assert_eq!(text("EUH031"), "Contact with acids liberates toxic gas.");
    assert!(text("EUH206").contains("Do not use together with other products."));
    assert_eq!(catalog().pictogram("GHS02").expect("a pictogram").name, "Flame");
    assert_eq!(Signal::Danger.word(), "Danger");
}
