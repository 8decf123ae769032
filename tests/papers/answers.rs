//! The answer in each case that an analysis can come to, against a file that holds its words.

use std::fmt::Write;

use super::{HEAD, MAP, TAIL, changes, output, readings, sound, study};

// The part of the report from the answer to the panel, without the picture that shows it.
fn answer(text: &str, csv: &str) -> String {
    let report = output(&sound(text, csv), "report.md");
    let start = report.find("## ").unwrap();
    let end = report.find("\n## The panel").unwrap();
    report[start..end].split("\n[Picture").next().unwrap_or_default().to_owned()
}

fn golden(name: &str, actual: &str, expected: &str) {
    let expected = expected.replace('\r', "");
    assert_eq!(actual.trim(), expected.trim(), "\n--- {name}: what it says now ---\n{actual}\n---");
}

macro_rules! golden {
    ($name:literal, $text:expr, $csv:expr) => {
        golden($name, &answer(&$text, &$csv), include_str!(concat!("answers/", $name, ".md")))
    };
}

#[test]
fn one_leader() {
    golden!("one-leader", study(MAP, ""), readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
}

#[test]
fn several_may_lead() {
    golden!("several", study(MAP, ""), readings(&changes(-2.0, -2.2, -7.0, -9.0, 0.3), 3));
}

#[test]
fn sections_of_bare_that_were_spent_stand_beside_those_that_were_not() {
    let mut changes = changes(-2.0, -6.0, -7.0, -9.0, 0.3);
    for (section, change) in &mut changes {
        if matches!(*section, "B2" | "C3") {
            *change = -25.0;
        }
    }
    golden!("partly-spent", study(MAP, ""), readings(&changes, 3));
}

#[test]
fn all_alike() {
    golden!("all-alike", study(MAP, ""), readings(&changes(-2.0, -2.1, -2.2, -2.0, 0.1), 3));
}

#[test]
fn none_separable() {
    golden!("none-separable", study(MAP, ""), readings(&changes(-4.0, -5.0, -6.0, -4.5, 2.5), 3));
}

#[test]
fn no_bare_section() {
    let coated: Vec<_> = changes(-2.0, -6.0, -7.0, -9.0, 0.3)
        .into_iter()
        .filter(|(code, _)| !["A2", "B2", "B4", "C3"].contains(code))
        .collect();
    golden!("no-bare", study(&MAP.replace("bare", ".   "), ""), readings(&coated, 3));
}

#[test]
fn unfinished() {
    let text = format!("{HEAD}{MAP}{TAIL}").replace("month 6", "month 12");
    golden!("unfinished", text, readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 2));
}

#[test]
fn the_deciding_round_was_missed() {
    golden!("missed", study(MAP, ""), readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 2));
}

#[test]
fn without_a_question_the_answer_says_which_one_it_took() {
    let text = study(MAP, "").replace("    decide by   gloss-60 at month 6\n", "");
    golden!("not-asked", text, readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
}

#[test]
fn one_section_of_each_and_none_alike_is_not_judged() {
    let map = "\nmap  sections 150 x 120 mm  gap 20 mm  from left 44 mm, top 44 mm\n    | bay  bare  thyme  cumin |\n";
    let csv = readings(&[("A1", -2.0), ("A2", -12.0), ("A3", -6.0), ("A4", -7.0)], 3);
    golden!("sections-only", study(map, ""), csv);
}

#[test]
fn no_product_is_placed_yet() {
    let map = "\nmap  sections 150 x 120 mm  gap 20 mm  from left 44 mm, top 44 mm\n    | bare  bare |\n";
    golden!("no-products", study(map, ""), readings(&[("A1", -12.0), ("A2", -12.2)], 3));
}

const SOLE: &str = "\nmap  sections 150 x 120 mm  gap 20 mm  from left 40 mm, top 40 mm\n    | bay   bare  bay  |\n    | bare  bay   bare |\n";

fn sole(bay: f64) -> String {
    let moved =
        [("A1", bay), ("A2", -12.3), ("A3", bay - 0.2), ("B1", -12.1), ("B2", bay + 0.1), ("B3", -12.4)];
    readings(&moved, 3)
}

#[test]
fn one_product_is_held_against_bare_alone() {
    golden!("one-product", study(SOLE, ""), sole(-2.0));
    golden!("one-product-alike", study(SOLE, ""), sole(-12.2));
}

#[test]
fn the_product_to_beat_is_named_with_its_place() {
    let text = study(MAP, "\nbenchmark cumin\n");
    golden!("benchmark", text, readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    golden!("benchmark-leads", text, readings(&changes(-4.0, -9.0, -2.0, -2.1, 0.3), 3));
    golden!("benchmark-alike", text, readings(&changes(-2.0, -2.1, -2.2, -2.0, 0.1), 3));
}

#[test]
fn a_round_that_does_not_decide_tells_apart_only_what_all_looks_carry() {
    let text = study(MAP, "").replace("    decide by   gloss-60 at month 6\n", "");
    let csv = readings(&changes(-9.4, -11.0, -11.2, -11.4, 0.6), 3);
    let decides = answer(&study(MAP, ""), &csv);
    assert!(decides.contains("[Bay spray did better than the bare sections](#"), "{decides}");
    assert!(decides.contains("; 3 are [not settled](#words)."), "{decides}");
    golden!("all-looks", text, csv);
}

#[test]
fn a_rating_decides() {
    let text = study(MAP, "")
        .replace("gloss-60 at month 6", "streaks at month 6")
        .replace(
            "supply soap",
            "measure streaks, a rating 0 to 5\n    lower is better\n    0 \"none\"\n\nsupply soap",
        )
        .replace("gloss-60 3 times", "streaks once, gloss-60 3 times");
    let mut csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    for (at, (section, _)) in changes(0.0, 0.0, 0.0, 0.0, 0.0).iter().enumerate() {
        for (day, round) in [("2025-06-02", "baseline"), ("2025-06-10", "fresh"), ("2025-12-03", "month 6")] {
            let bare = ["A2", "B2", "B4", "C3"].contains(section);
            let mark = if round != "month 6" {
                0
            } else if bare {
                4 + at % 2
            } else {
                at % 3
            };
            writeln!(csv, "{day},{round},{section},streaks,,{mark},,").unwrap();
        }
    }
    golden!("rating", text, csv);
}
