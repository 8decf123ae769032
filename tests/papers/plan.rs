//! What a plan promises: enough for what, from which readings, and how the sections of the map are best dealt out.

use std::fmt::Write;

use super::{MAP, changes, readings, sound, study};
use tapeline::report::Assumed;

fn plan(text: &str, csv: &str, assumed: Assumed) -> String {
    let plan = sound(text, csv).edition().plan(assumed);
    plan.split_whitespace().collect::<Vec<_>>().join(" ")
}

const NONE_YET: &str = "date,round,section,measure,unit,1,2,3\n";

/// Two million simulated studies each by `numpy` 2 for Dunnett's critical value, and power by the noncentral t of `scipy` 1.17: of twelve
/// sections two products are told from bare best on 4 each beside 4 (2.492 spreads; 2.510 on 3 each beside 6), three on 3 each beside 3
/// (3.118; 3.171 on 2 each beside 6), and four on 2 each beside 4 (3.607), where a spread is that of 3 + 3 readings of 0.4 / 2.8 GU.
#[test]
fn the_sections_of_the_map_are_dealt_out_best() {
    let plan = plan(&study(MAP, ""), NONE_YET, Assumed::default());
    let table = plan.split("The number of products, with as many sections as the map has").nth(1).unwrap();
    for row in [" 2 4 4 0.29 ", " 3 3 3 0.36 ", " 4 2 4 0.42 "] {
        assert!(table.contains(row), "{row}: {table}");
    }
    assert_eq!(table.matches("this plan").count(), 1, "{table}");
}

#[test]
fn a_plan_by_readings_alone_says_nothing_on_readings_against_sections() {
    let alone = plan(&study(MAP, ""), NONE_YET, Assumed::default());
    assert!(
        alone.contains("Readings on each section")
            && alone.contains("That is the most that readings can buy."),
        "{alone}"
    );
    assert!(!alone.contains("buys more than"), "{alone}");
    let known = plan(&study(MAP, ""), NONE_YET, Assumed { sections: Some(3.0), reading: Some(2.0) });
    assert!(known.contains("One more section buys more than one more reading"), "{known}");
    assert!(!known.contains("the most that readings can buy"), "{known}");
}

#[test]
fn what_is_gained_is_said_against_the_declared_limits() {
    let fine = plan(&study(MAP, ""), NONE_YET, Assumed::default());
    assert!(fine.contains(" bare sections little is gained"), "{fine}");
    assert!(!fine.contains("is told apart with"), "{fine}");
    // Alike within 2 GU, seen from 5 GU; on 4 bare sections 3.6 spreads of 0.5 GU and what 3 readings add.
    let half = plan(&study(MAP, ""), NONE_YET, Assumed { sections: Some(0.5), reading: None });
    assert!(half.contains("What matters, more than 2.0 GU, is told apart with 4 bare sections."), "{half}");
    let coarse = plan(&study(MAP, ""), NONE_YET, Assumed { sections: Some(30.0), reading: None });
    assert!(coarse.contains("What is seen, from 5.0 GU, is told apart neither with "), "{coarse}");
}

#[test]
fn where_nothing_is_bare_two_products_head_the_plan() {
    let text = study(&MAP.replace("bare", "."), "");
    let plan = plan(&text, NONE_YET, Assumed::default());
    assert!(plan.contains("This plan has nothing bare and tells two products apart from about "), "{plan}");
    assert!(!plan.contains("This plan tells nothing apart"), "{plan}");
}

/// A round between the reference and the one that decides has no part in the change.
#[test]
fn a_slip_in_a_round_that_plays_no_part_moves_no_figure() {
    let text = study(MAP, "")
        .replace("    month 6     within", "    month 3     within 1 week\n    month 6     within");
    let csv = |slip: &str| {
        let mut csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
        for (at, (section, change)) in changes(-1.0, -3.0, -3.5, -4.5, 0.3).iter().enumerate() {
            let level = 85.0 + change;
            let first = if at == 2 { slip.to_owned() } else { format!("{level:.1}") };
            writeln!(csv, "2025-09-03,month 3,{section},gloss-60,GU,{first},{level:.1},{level:.1}").unwrap();
        }
        csv
    };
    let (honest, slip) =
        (plan(&text, &csv("81.7"), Assumed::default()), plan(&text, &csv("817"), Assumed::default()));
    assert_eq!(honest, slip);
    assert!(honest.contains("measured within sections"), "{honest}");
}

#[test]
fn a_slip_in_the_round_that_counts_is_named_first() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3)
        .replace("month 6,A3,gloss-60,GU,78.6,", "month 6,A3,gloss-60,GU,786,");
    let plan = plan(&study(MAP, ""), &csv, Assumed::default());
    assert!(
        plan.contains("Far off among the readings that this comes from: A3 at month 6. Put that right first"),
        "{plan}"
    );
}

/// A gain of two weighings has the spreads of both: 0.2 g each make 0.283 g.
#[test]
fn the_gauge_of_the_parts_speaks_for_a_difference_of_them() {
    let with = |making: &str, unit: &str| {
        let (head, rest) = study(MAP, "")
            .split_once("measure gloss-60 in GU\n")
            .map(|(a, b)| (a.to_owned(), b.to_owned()))
            .unwrap();
        let rest = rest.split_once("supply soap").unwrap().1.to_owned();
        format!("{head}gauge scale\n    reads dry, soaked\n    spread 0.2 g\nmeasure uptake in {unit}\n    lower is better\n    read dry, then soaked in g\n    {making}\nsupply soap{rest}")
            .replace("decide by   gloss-60", "decide by   uptake")
            .replace("every round gloss-60 3 times", "every round uptake once")
    };
    let gain = plan(&with("is the gain", "g"), NONE_YET, Assumed::default());
    assert!(gain.contains("readings alone, by 0.28 g, as the gauge declares"), "{gain}");
    let share = plan(&with("is the gain in percent", "%"), NONE_YET, Assumed::default());
    assert!(share.contains("is not that of uptake, which is made of two"), "{share}");
}
