//! Masonry: the order of work that stone, brick and mortar ask for, and what their pores keep.

use super::{codes, found};
use tapeline::diag::Severity;

const CHEMICALS: &str = "supply mould-off, bleach\n    mix 1 part to 10 water\n    sheet \"m.pdf\"\nsupply lime-off, an acid cleaner\n    \
                         mix neat\n    sheet \"l.pdf\"\nsupply tap, plain water\n";

fn on(material: &str, steps: &[&str]) -> String {
    let steps: String = steps.iter().flat_map(|step| ["    ", *step, "\n"]).collect();
    format!(
        "{CHEMICALS}surface wall\n    material {material}\n    size 880 x 580 mm\nrounds\n    baseline before apply\n    fresh 8 days after apply\n    month 3\n    every round gloss-20 5 times\nprep\n{steps}    label\n"
    )
}

const BLEACH: &str = "wash with mould-off for 5 min";
const ACID: &str = "decontaminate with lime-off for 1 min, rinse";

/// CLP Annex II, EUH031: bleach with acid gives chlorine, on a wall as anywhere.
#[test]
fn bleach_then_acid_without_a_rinse_is_an_error_on_masonry_too() {
    let finding = found(&on("brick, lime mortar", &[BLEACH, ACID, "dry 72 h"]), "chemicals-in-contact");
    assert!(finding.severity == Severity::Error && finding.binding);
}

#[test]
fn a_rinse_does_not_reach_the_pores() {
    let rinsed = format!("{BLEACH}, rinse");
    let with = |material: &str, between: &str| on(material, &[&rinsed, between, "rinse", ACID, "dry 72 h"]);
    let finding = found(&with("brick", "rinse"), "bleach-and-acid-in-pores");
    assert!(finding.binding && finding.message.contains("chlorine"), "{}", finding.message);
    let has = |piece: &str| codes(piece).contains(&"bleach-and-acid-in-pores");
    assert!(
        has(&with("brick", "dry 47 h"))
            && !has(&with("brick", "dry 48 h"))
            && !has(&with("brick", "dry 3 days"))
    );
    assert!(!has(&with("clearcoat on steel", "rinse")), "a rinse clears paint");
    for porous in ["oak boards", "oiled larch", "unglazed tile", "cotton canvas", "wool carpet"] {
        assert!(has(&with(porous, "rinse")) && !has(&with(porous, "dry 48 h")), "{porous}");
    }
    assert!(!has(&with("glass", "rinse")) && !has(&with("varnish on oak", "rinse")));
    let acid_first = on("limestone", &["rinse", ACID, "rinse", &rinsed, "dry 72 h"]);
    assert!(has(&acid_first), "whichever comes first");
}

/// The check says what the safety cards say of the same pair: a rinse does not empty the pores.
#[test]
fn an_alkali_is_still_in_the_pores_when_an_acid_comes() {
    let strip = "supply strip, an alkaline cleaner\n    mix 1 part to 10 water\n    sheet \"s.pdf\"\n";
    let with = |material: &str, between: &str| {
        let piece = on(material, &["wash with strip for 2 min, rinse", between, "rinse", ACID, "dry 72 h"]);
        codes(&format!("{strip}{piece}")).contains(&"chemicals-in-pores")
    };
    assert!(with("sandstone", "rinse") && with("sandstone", "dry 47 h") && !with("sandstone", "dry 48 h"));
    assert!(!with("clearcoat on steel", "rinse"), "a rinse clears paint");
    // An acid takes the alkali out of wood, and is asked for there.
    assert!(!with("oak boards", "rinse"));
}

/// Whoever bleached wood is not told to put an acid after it.
#[test]
fn bleached_wood_is_not_sent_to_an_acid() {
    let rinsed = format!("{BLEACH}, rinse");
    let told = codes(&on("oak boards", &[&rinsed, "dry 24 h", "sand grit 80 tool \"cork block\"", "dust"]));
    assert!(!told.contains(&"wood-not-neutralised"), "{told:?}");
}

#[test]
fn a_wall_may_be_washed_down_after_an_acid_and_a_panel_may_not() {
    let steps = ["rinse", ACID, "wash with tap, rinse", "dry 72 h", "brush", "dust"];
    let has = |material: &str| codes(&on(material, &steps)).contains(&"order-of-prep");
    assert!(!has("sandstone") && has("clearcoat on steel"));
}

#[test]
fn growth_is_killed_before_the_wash_that_would_spread_it() {
    let rinsed = format!("{BLEACH}, rinse");
    let late = on("render", &["wash with tap, rinse", &rinsed, "dry 72 h"]);
    assert!(codes(&late).contains(&"growth-killed-late"));
    let brushed = on("render", &["brush", "dust", &rinsed, "wash with tap, rinse", "dry 72 h"]);
    assert!(!codes(&brushed).contains(&"growth-killed-late"));
}

#[test]
fn soap_is_told_on_stone_and_water_is_not() {
    let has = |wash: &str| codes(&on("concrete", &[wash, "dry 72 h"])).contains(&"soap-on-masonry");
    assert!(has("wash with soap, 1 part to 200 water, rinse") && !has("wash with tap, rinse"));
    let agent = codes(&on("concrete", &["wash with tap, rinse", "dry 72 h"]));
    assert!(!agent.contains(&"agent-unfit-for-step"), "water is an agent to wash with");
}

#[test]
fn masonry_dries_for_days_before_a_product() {
    let has = |dry: &str| {
        let piece = on("concrete", &["wash with tap, rinse", dry, "brush", "dust"]);
        let piece = format!("{piece}apply\n    on 2026-03-03 from 09:00\n");
        codes(&piece).contains(&"porous-dries-too-short")
    };
    assert!(has("dry 4 h") && !has("dry 72 h"));
}
