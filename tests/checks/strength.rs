//! Strength: what a layout tells apart, in the study's own numbers.

use super::{codes, found};
use tapeline::diag::Severity;

fn has(piece: &str, code: &str) -> bool {
    codes(piece).contains(&code)
}

fn map(rows: &[&str]) -> String {
    let rows: Vec<String> = rows.iter().map(|row| format!("    | {row} |\n")).collect();
    format!("map sections 166 x 116 mm gap 18 mm from left 44 mm, top 44 mm\n{}", rows.concat())
}

fn gauge(limit: &str) -> String {
    format!(
        "gauge glossy\n    reads gloss-20\n    two readings agree within {limit}\n    certified 2026-02-01 for 12 months\n"
    )
}

#[test]
fn a_gauge_that_cannot_show_the_limits_is_a_warning_or_advice() {
    // The frame tells 3.13 section spreads apart, by the noncentral t and Dunnett's 2.88 with 8 degrees
    // of freedom; a change has five readings at either round, so that is 3.13 x sqrt(2 / 5) / 2.8 = 0.71 times the
    // limit for two readings of the gauge.
    let severity = |limit: &str| found(&gauge(limit), "plan-too-weak").severity;
    assert!(!has(&gauge("2.5 GU"), "plan-too-weak"));
    assert_eq!(severity("5 GU"), Severity::Advice);
    assert_eq!(severity("8 GU"), Severity::Warning);
}

#[test]
fn the_finding_says_what_two_more_bare_sections_bring() {
    let rows = ["bay clove cumin bare", ". . . bare", ". . . bare"];
    let piece = format!("{}{}", map(&rows), gauge("6 GU"));
    let finding = found(&piece, "plan-too-weak");
    assert!(finding.help[0].starts_with("with two more bare sections it is about"), "{:?}", finding.help);
    assert_eq!(finding.label, "3 products, the smallest on 1 section, and 3 bare");
}

#[test]
fn degrees_of_freedom_decide_between_three_findings() {
    let of = |rows: &[&str]| {
        let all = codes(&map(rows));
        ["compares-sections-not-products", "spread-from-too-few", "product-on-one-section"]
            .into_iter()
            .filter(|code| all.contains(code))
            .collect::<Vec<_>>()
    };
    assert_eq!(of(&["bay clove bare cumin"]), ["compares-sections-not-products"]);
    assert_eq!(of(&["bay clove bare cumin", "bare . . ."]), ["spread-from-too-few"]);
    assert_eq!(of(&["bay clove bare cumin", "bare . bare ."]), ["spread-from-too-few"]);
    assert_eq!(of(&["bay clove bare cumin", "bare bare bare ."]), ["product-on-one-section"]);
    assert!(of(&["bay clove bare cumin", "bare cumin bay clove"]).is_empty());
}

#[test]
fn one_product_of_several_on_a_single_section_is_named() {
    let finding = found(&map(&["bay clove bare bay", "bare clove cumin bare"]), "product-on-one-section");
    assert_eq!(finding.message, "`cumin` stands on one section only");
    assert_eq!(finding.about, ["map", "cumin"]);
}

#[test]
fn a_name_that_is_not_known_hides_what_the_layout_lacks() {
    let piece = map(&["bay colve bare cumin"]);
    for code in ["compares-sections-not-products", "spread-from-too-few", "product-on-one-section"] {
        assert!(!has(&piece, code), "{code}");
    }
}

#[test]
fn more_readings_let_alike_be_narrower() {
    // Two readings agree within 0.4 GU, so means of five agree within 0.179 GU.
    let measure = |alike: &str| {
        format!(
            "measure gloss-20 in GU\n    higher is better\n    alike within {alike}\n    seen from 5 GU\n"
        )
    };
    assert!(found(&measure("0.17 GU"), "alike-below-gauge").message.ends_with("5 readings within 0.18 GU"));
    assert!(!has(&measure("0.18 GU"), "alike-below-gauge"));
}

#[test]
fn equal_limits_contradict_each_other_too() {
    let piece = "measure gloss-20 in GU\n    higher is better\n    alike within 5 GU\n    seen from 5 GU\n";
    assert!(has(piece, "alike-not-below-seen"));
}

#[test]
fn two_readings_are_few_as_well_and_three_are_not() {
    let piece = |times: &str| {
        format!(
            "rounds\n    baseline after wipe\n    fresh 8 days after apply within 1 day\n    month 3 within 3 days\n    every round gloss-20 {times}\n"
        )
    };
    assert!(found(&piece("twice"), "too-few-readings").message.contains("nobody knows which is off"));
    assert!(!has(&piece("3 times"), "too-few-readings"));
}

#[test]
fn a_limit_for_spent_follows_the_direction_and_without_one_there_is_none() {
    let measure = |better: &str, spent: &str| {
        format!(
            "measure gloss-20 in GU\n    {better} is better\n    spent {spent} 60 GU\n    seen from 5 GU\n"
        )
    };
    for (better, spent, told) in [
        ("higher", "below", false),
        ("higher", "above", true),
        ("lower", "above", false),
        ("lower", "below", true),
        ("neither", "above", false),
        ("neither", "below", false),
    ] {
        assert_eq!(has(&measure(better, spent), "spent-against-direction"), told, "{better} {spent}");
    }
}

/// The scatter is that of the places on which the deciding measure is read, and a map that nothing is read on has none.
#[test]
fn the_scatter_is_counted_where_the_deciding_measure_is_read() {
    let slips = |bare: u32| {
        format!(
            "specimens slips\n    each 50 x 50 mm\n    one for each product and {bare} for bare\nmeasure blocked-uv on slips\n\
             study \"Sealers\"\n    begins 2026-03-02\n    decide by blocked-uv at month 3\n\
             rounds\n    baseline after wipe\n    fresh 8 days after apply within 1 day\n    month 3 within 3 days\n    every round blocked-uv 3 times\n"
        )
    };
    let small = "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    | bay clove bare cumin |\n    | bare . . . |\n";
    let finding = found(&slips(2), "spread-from-too-few");
    assert!(
        finding.message.contains("among specimens treated alike rests on one degree of freedom"),
        "{}",
        finding.message
    );
    assert!(finding.help[0].contains("add 2 bare specimens"), "{}", finding.help[0]);
    assert!(finding.about.contains(&"slips".to_owned()));
    assert!(!codes(&(slips(4) + small)).contains(&"spread-from-too-few"), "nothing is read on that map");
    assert!(codes(small).contains(&"spread-from-too-few"));
}

/// On a scale of six marks, where the best one is spent too, every section is spent from its first day.
#[test]
fn a_limit_at_the_best_mark_is_beyond_the_measure() {
    let scale = |direction: &str, limit: &str| {
        format!(
            "measure cracks, a rating 0 to 5\n    {direction} is better\n    0  \"none\"\n    5  \"open\"\n    spent at {limit} or worse\n"
        )
    };
    let help = |direction: &str, limit: &str| {
        found(&scale(direction, limit), "limit-beyond-measure").help[0].clone()
    };
    assert_eq!(help("lower", "0"), "write a limit above 0, and at most 5 marks");
    assert_eq!(help("higher", "5"), "write a limit of 0 or more, below 5 marks");
    for (direction, limit) in [("lower", "1"), ("lower", "5"), ("higher", "4"), ("higher", "0")] {
        assert!(!has(&scale(direction, limit), "limit-beyond-measure"), "{direction} {limit}");
    }
}
