//! Codes have texts; signal words, pictograms and sheet severity follow from the statements.

use std::collections::BTreeSet;

use tapeline::catalog::{SheetSeverity, Signal, on_label};

use crate::{catalog, class};

#[test]
fn every_code_that_a_class_names_has_a_text() {
    let c = catalog();
    for class in c.classes() {
        for code in &class.hazards.statements {
            assert!(c.hazard(code).is_some(), "{}: {code}", class.id);
        }
        for code in c.precautions_of_class(class) {
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

/// A label of a class: the usual one, or that of a stronger stock.
struct Label {
    name: String,
    signal: Signal,
    pictograms: Vec<&'static str>,
    statements: Vec<&'static str>,
    precautions: Vec<&'static str>,
}

fn labels() -> Vec<Label> {
    let mut labels = Vec::new();
    for class in catalog().classes() {
        let usual = &class.hazards;
        labels.push(Label {
            name: class.id.to_owned(),
            signal: usual.signal,
            pictograms: usual.pictograms.clone(),
            statements: usual.statements.clone(),
            precautions: catalog().precautions_of_class(class),
        });
        labels.extend(usual.stronger.iter().map(|label| Label {
            name: format!("{} from {} %", class.id, label.from_percent),
            signal: label.signal,
            pictograms: label.pictograms.clone(),
            statements: label.statements.clone(),
            precautions: catalog().precautions_of(&label.statements, class.has_own_treatment()),
        }));
    }
    labels
}

#[test]
fn every_precaution_is_used() {
    for precaution in catalog().precautions() {
        let used = labels().iter().any(|label| label.precautions.contains(&precaution.code));
        assert!(used, "{}", precaution.code);
    }
}

/// UN GHS, Annex 3: a precaution belongs to a hazard category, and no category is without.
#[test]
fn precautions_are_those_of_the_statements() {
    for Label { name, statements, precautions, .. } in labels() {
        let of = |code: &&str| &catalog().hazard(code).expect("a text").precautions;
        for code in &precautions {
            assert!(
                statements.iter().any(|one| of(one).contains(code)),
                "{name}: {code} follows from nothing"
            );
        }
        for statement in &statements {
            let none = of(statement).is_empty() || of(statement).iter().any(|one| precautions.contains(one));
            assert!(none, "{name}: {statement} has no precaution");
        }
        assert!(precautions.is_sorted(), "{name}: in order of their codes");
    }
}

/// CLP Article 28(1): what another precaution makes redundant is left out. Like labels have like precautions.
#[test]
fn like_labels_have_like_precautions_and_the_stricter_one_stands() {
    let c = catalog();
    let of = |statements: &[&str]| c.precautions_of(statements, false);
    for label in labels().iter().filter(|label| !label.name.starts_with("fluoride")) {
        assert_eq!(label.precautions, of(&label.statements), "{}", label.name);
    }
    assert_eq!(of(&["H225", "H336", "H319"]), of(&["H319", "H225", "H336"]), "whatever their order");
    let burns = of(&["H314", "H335"]);
    assert!(burns.contains(&"P260") && !burns.contains(&"P261"));
    assert!(burns.contains(&"P316") && !burns.contains(&"P319"));
    assert!(!of(&["H300"]).contains(&"P321") && c.precautions_of(&["H300"], true).contains(&"P321"));
    assert!(c.precautions_of_class(class("fluoride cleaner")).contains(&"P321"));
}

/// UN GHS, Annex 3, 9th revised edition: what acetone carries, by H225, H319 and H336, as public records of that edition list it.
#[test]
fn a_card_has_every_precaution_of_its_statements() {
    let acetone = [
        "P210",
        "P240",
        "P241",
        "P242",
        "P243",
        "P261",
        "P264+P265",
        "P271",
        "P280",
        "P303+P361+P353",
        "P304+P340",
        "P305+P351+P338",
        "P319",
        "P337+P317",
        "P370+P378",
        "P403+P233",
        "P403+P235",
        "P405",
        "P501",
    ];
    assert_eq!(catalog().precautions_of_class(class("acetone")), acetone, "P233 stands in P403+P233");
    let of = |statements: &[&str]| catalog().precautions_of(statements, false);
    let has = |statements: &[&str], codes: &[&str]| codes.iter().all(|code| of(statements).contains(code));
    assert!(has(&["H315"], &["P302+P352", "P332+P317", "P362+P364"]));
    assert!(has(&["H302"], &["P330"]) && has(&["H314"], &["P363"]) && has(&["H317"], &["P362+P364"]));
    assert!(!has(&["H225", "H315"], &["P302+P352"]), "P303+P361+P353 takes the clothing off besides");
}

/// CLP Article 28(3): not more than six.
#[test]
fn a_label_of_a_bottle_has_six_precautions_at_most() {
    for label in labels() {
        let on = on_label(&label.precautions);
        assert!(on.len() <= 6 && on.len() == label.precautions.len().min(6), "{}", label.name);
        assert!(on.is_sorted() && on.iter().all(|code| label.precautions.contains(code)), "{}", label.name);
        for grave in ["P210", "P280"] {
            assert_eq!(on.contains(&grave), label.precautions.contains(&grave), "{}: {grave}", label.name);
        }
    }
}

/// CLP Annex I: each hazard class and category has its own statement; supplements have none.
#[test]
fn every_statement_has_its_hazard_category() {
    for hazard in catalog().hazards() {
        let supplement = hazard.code.starts_with("EUH");
        assert_eq!(hazard.category.is_empty(), supplement, "{}", hazard.code);
        // What only a data sheet may carry takes its precautions from there.
        let carried = labels().iter().any(|label| label.statements.contains(&hazard.code));
        assert!(!carried || hazard.precautions.is_empty() == supplement, "{}", hazard.code);
        // Twice the same category would be one hazard told in two ways.
        let same = catalog().hazards().iter().filter(|one| one.category == hazard.category).count();
        assert!(supplement || same == 1, "{}", hazard.category);
    }
    let category = |code| catalog().hazard(code).expect("a text").category;
    assert_eq!((category("H225"), category("H226")), ("Flam. Liq. 2", "Flam. Liq. 3"));
    assert_eq!((category("H318"), category("H319")), ("Eye Dam. 1", "Eye Irrit. 2"));
}

#[test]
fn no_gap_of_the_wording_is_left_open_on_paper() {
    for precaution in catalog().precautions() {
        let printed = precaution.printed();
        assert!(!printed.contains("...") && !printed.contains('/') && !printed.contains('['), "{printed}");
        let gap = |text: &str| text.contains("...") || text.contains('/') || text.contains('[');
        assert_eq!(precaution.filled.is_some(), gap(precaution.text), "{}", precaution.code);
    }
}

#[test]
fn the_signal_word_is_the_gravest_of_the_statements() {
    for label in labels() {
        let of = |code: &&str| catalog().hazard(code).expect("a text").signal;
        let gravest = label.statements.iter().map(of).max().unwrap_or(Signal::None);
        assert_eq!(label.signal, gravest, "{}", label.name);
    }
}

/// CLP Annex VI, hydrogen peroxide solution: skin and airways from 35 %, fire and burns from 50 %.
#[test]
fn strong_peroxide_has_the_label_of_its_strength() {
    let peroxide = class("peroxide");
    let has =
        |percent: f64, code| peroxide.stronger(percent).is_some_and(|label| label.statements.contains(&code));
    assert!(peroxide.stronger(34.9).is_none(), "the usual label holds");
    assert!(has(35.0, "H315") && has(35.0, "H335") && has(49.9, "H318") && !has(49.9, "H272"));
    assert!(has(50.0, "H272") && has(50.0, "H314"));
    for two in peroxide.hazards.stronger.windows(2) {
        assert!(two[0].from_percent < two[1].from_percent);
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
    for Label { name, pictograms, statements, .. } in labels() {
        let needed: BTreeSet<&str> = statements
            .iter()
            .filter(|code| !displaced(code, &pictograms))
            .filter_map(|code| catalog().hazard(code).expect("a text").pictogram)
            .collect();
        assert_eq!(pictograms.iter().copied().collect::<BTreeSet<_>>(), needed, "{name}");
    }
}

#[test]
fn a_missing_sheet_is_an_error_for_the_grave_classes_only() {
    const GRAVE: [&str; 8] = ["H300", "H301", "H310", "H311", "H314", "H318", "H330", "H331"];
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

/// CLP Annex IV, as before Regulation (EU) 2019/521, from memory: bottles still carry these.
#[test]
fn older_statements_have_their_words_and_combinations_those_of_their_parts() {
    let words = |code: &str| catalog().words_of_precaution(code).join(" ");
    assert_eq!(words("P310"), "Immediately call a POISON CENTER or a doctor.");
    assert_eq!(words("P315"), "Get immediate medical advice or attention.");
    assert_eq!(words("P332+P313"), "If skin irritation occurs: Get medical advice or attention.");
    assert_eq!(words("P342+P311"), "If experiencing respiratory symptoms: Call a POISON CENTER or a doctor.");
    // What is a statement of its own keeps its words, and what stands behind it is joined.
    let eyes = catalog().precaution("P305+P351+P338").unwrap().printed();
    assert_eq!(words("P305+P351+P338+P310"), format!("{eyes} Immediately call a POISON CENTER or a doctor."));
    for code in 310..=315 {
        assert!(!words(&format!("P{code}")).is_empty(), "P{code}");
    }
    assert_eq!((words("P999"), words("P301+P999"), words("")), (String::new(), String::new(), String::new()));
}
