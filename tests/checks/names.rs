//! Names: what is defined is used, what is used is known.

use super::{codes, found};
use tapeline::diag::Severity;

fn has(piece: &str, code: &str) -> bool {
    codes(piece).contains(&code)
}

#[test]
fn a_corrosive_without_a_sheet_is_an_error() {
    let piece = "supply strip, an alkaline cleaner\n    mix 1 part to 10 water\n";
    assert_eq!(found(piece, "no-data-sheet").severity, Severity::Error);
    assert!(!has("supply tap, plain water\n", "no-data-sheet"));
}

#[test]
fn a_kind_that_is_nearly_known_is_offered() {
    let finding = found("supply iron-off, an iron removr\n    sheet \"i.pdf\"\n", "class-not-known");
    assert_eq!(finding.help, ["did you mean `iron remover`?"]);
}

#[test]
fn a_kind_that_nobody_knows_is_a_warning_until_a_sheet_is_named() {
    let finding = found("supply mys, a magic cleaner\n    mix neat\n", "class-not-known");
    assert_eq!(finding.severity, Severity::Warning);
    assert!(finding.label.contains("its dangers are not known here"), "{}", finding.label);
    let sheet = found("supply mys, a magic cleaner\n    sheet \"m.pdf\"\n", "class-not-known");
    assert_eq!(sheet.severity, Severity::Advice);
    let either = found("supply patio, a patio cleaner\n    mix neat\n", "class-not-known");
    assert!(either.help[0].contains("`an acid cleaner` or `bleach`"), "{:?}", either.help);
}

/// `hazards none` beside what burns or poisons: the label of the class stays, and nobody can waive it.
#[test]
fn a_grave_class_has_hazards_whatever_is_written() {
    for kind in ["an acid cleaner", "a fluoride cleaner", "bleach", "a peroxide cleaner"] {
        let piece = format!("supply lye, {kind}\n    mix neat\n    sheet \"l.pdf\"\n    hazards none\n");
        let finding = found(&piece, "no-hazards-for-class");
        assert!(finding.severity == Severity::Error && finding.binding, "{kind}");
    }
    let own = "supply lye, an acid cleaner\n    mix neat\n    sheet \"l.pdf\"\n    hazards H319\n";
    assert!(!has(own, "no-hazards-for-class"));
    assert!(!has("supply soap, a shampoo\n    sheet \"s.pdf\"\n    hazards none\n", "no-hazards-for-class"));
}

#[test]
fn a_liquid_of_a_mix_is_used() {
    let piece =
        "supply pure, plain water\nsupply soap, a shampoo\n    mix 1 part to 200 pure\n    sheet \"s.pdf\"\n";
    assert!(!has(piece, "supply-not-used"));
}

#[test]
fn a_drying_oil_is_thick_enough_for_a_film_gauge() {
    let head = "study \"Oils\"\n    begins 2026-03-02\n    decide by film at month 3\nmeasure film in um\n    neither is better\n";
    let oil = |name: &str| format!("product {name}, a drying oil\n    sheet \"{name}.pdf\"\n");
    let oils: String = ["bay", "clove", "cumin"].map(oil).concat();
    assert!(has(head, "film-gauge-for-thin-coat"));
    assert!(!has(&format!("{head}{oils}"), "film-gauge-for-thin-coat"));
}

#[test]
fn a_price_by_mass_and_a_use_by_volume_are_told_together_for_all_products() {
    let product = |name: &str, amount: &str, uses: &str| {
        format!(
            "product {name}, a wax\n    bought 20 EUR for {amount}\n    uses {uses}\n    sheet \"{name}.pdf\"\n"
        )
    };
    let both = [product("bay", "450 g", "20 ml per m2"), product("cumin", "0.5 l", "9 g per m2")].concat();
    let finding = found(&both, "price-unlike-use");
    assert!(finding.message.starts_with("`bay` and `cumin` are bought by one kind"), "{}", finding.message);
    assert_eq!(codes(&both).iter().filter(|code| **code == "price-unlike-use").count(), 1);
    for (amount, uses) in [("450 g", "9 g per m2"), ("0.5 l", "20 ml per m2")] {
        assert!(!has(&product("bay", amount, uses), "price-unlike-use"), "{amount} {uses}");
    }
}
