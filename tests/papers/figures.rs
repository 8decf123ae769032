//! Figures that a reader checks by hand: percentage points, readings behind a rate, cents that stay bounds, the round of a plan, and
//! which way marks lie.

use super::{output, sound};
use std::fmt::Write;
use tapeline::report::Assumed;

const SHINE: &str = r#"language 1
study "Shine of a shutter"
    begins      2025-03-01
    decide by   shine at month 3
surface shutter
    size        1200 x 700 mm
measure shine in %
    higher is better
    spent       below 60 %
product hop, a spray sealant
    bought      30 EUR for 500 ml
    uses        20 ml per m2
map  sections 180 x 130 mm  gap 20 mm  from left 40 mm, top 40 mm
    | hop   bare  hop   bare  |
    | bare  hop   bare  hop   |
apply
    on          2025-03-02
rounds
    fresh       7 days after apply
    month 3     within 1 week
    month 6     within 1 week
    every round shine twice
readings "readings.csv"
"#;

/// Sections of hop and bare ones with their shine when fresh, at month 3 and at month 6.
const LEVELS: [(&str, [f64; 3]); 8] = [
    ("A1", [90.0, 80.0, 50.0]),
    ("A3", [90.0, 81.0, 70.0]),
    ("B2", [90.0, 80.5, 58.0]),
    ("B4", [90.0, 80.2, 66.0]),
    ("A2", [90.0, 60.5, 40.0]),
    ("A4", [90.0, 61.0, 45.0]),
    ("B1", [90.0, 61.5, 49.0]),
    ("B3", [90.0, 60.8, 42.0]),
];

fn shine() -> tapeline::pipeline::Outcome {
    let mut csv = String::from("date,round,section,measure,value\n");
    for (code, levels) in LEVELS {
        let rounds = [("2025-03-09", "fresh"), ("2025-06-02", "month 3"), ("2025-09-02", "month 6")];
        for ((day, round), level) in rounds.into_iter().zip(levels) {
            for value in [level - 0.1, level + 0.1] {
                writeln!(csv, "{day},{round},{code},shine,{value:.1}").unwrap();
            }
        }
    }
    sound(SHINE, &csv)
}

#[test]
fn a_difference_of_two_percents_is_counted_in_percentage_points() {
    let report = output(&shine(), "report.md");
    assert!(report.contains("| Difference, percentage points |"), "{report}");
    assert!(!report.contains("| Difference, % |"), "{report}");
}

/// Four sections at three rounds with two readings each.
#[test]
fn a_rate_says_how_many_readings_are_behind_it() {
    let report = output(&shine(), "report.md");
    let rates =
        report.split("| Theil-Sen, percentage points a month |").nth(1).unwrap_or_else(|| panic!("{report}"));
    for name in ["hop", "bare"] {
        let row = rates.lines().find(|line| line.starts_with(&format!("| {name} |"))).unwrap();
        assert!(row.ends_with("| 4 | 24 |"), "{row}");
    }
}

/// 30 EUR for 500 ml and 20 ml on a square metre are 1.20 EUR. 92 to 184 days of 30.436 875 are 3.0227 to 6.0453 months: 0.1985 to
/// 0.397002 EUR for each, of which the lower bound goes down and the upper one up, to the cent; what still held costs at most 0.1985.
#[test]
fn a_bound_of_the_cost_stays_one_when_it_is_rounded_to_the_cent() {
    let report = output(&shine(), "report.md");
    let costs = report.split("| A square metre and month |").nth(1).unwrap_or_else(|| panic!("{report}"));
    for (code, month) in [("A1", "0.19 to 0.40 EUR"), ("A3", "at most 0.20 EUR")] {
        // Sections of a product that cost the same stand in one row.
        let is_of = |line: &&str| line.split('|').nth(2).is_some_and(|codes| codes.contains(code));
        let row = costs.lines().find(is_of).unwrap();
        assert!(row.contains(&format!("| 1.20 EUR | {month} |")), "{row}");
    }
}

/// At month 3 sections treated alike scatter by 0.43 (squares of 0.5675 and 0.53 on 6 degrees of freedom), at month 6 by several.
#[test]
fn a_plan_takes_the_scatter_of_the_round_that_decides() {
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let plan = words(&shine().edition().plan(Assumed::default()));
    assert!(
        plan.contains(
            "between sections treated alike at month 3, 0.43 percentage points on 6 degrees of freedom"
        ),
        "{plan}"
    );
    assert!(!plan.contains("month 6"), "{plan}");
}

/// Marks of bay lie below those of bare, those of clove above: which of them is better follows the direction of the measure.
#[test]
fn the_headline_of_a_rating_says_which_way_marks_lie() {
    let study = |direction: &str| {
        format!(
            r#"language 1
study "Cracks in slats"
    begins 2025-03-01
    decide by cracks at month 6
surface slat
    size 1200 x 700 mm
measure cracks, a rating 0 to 10
    {direction} is better
product bay
product clove
map sections 180 x 130 mm gap 20 mm from left 40 mm, top 40 mm
    | bay   bare  clove bay   bare  |
    | clove bay   bare  clove bay   |
    | bare  clove bay   bare  clove |
apply
    on 2025-03-02
rounds
    month 6 cracks once
readings "readings.csv"
"#
        )
    };
    let sections = [
        ("A1 A4 B2 B5 C3", [1, 2, 1, 0, 2]),
        ("A2 A5 B3 C1 C4", [5, 4, 6, 5, 4]),
        ("A3 B1 B4 C2 C5", [9, 8, 9, 10, 9]),
    ];
    let mut csv = String::from("date,round,section,measure,value\n");
    for (codes, marks) in sections {
        for (code, mark) in codes.split(' ').zip(marks) {
            writeln!(csv, "2025-09-02,month 6,{code},cracks,{mark}").unwrap();
        }
    }
    for (direction, better, worse) in [("lower", "bay", "clove"), ("higher", "clove", "bay")] {
        let report = output(&sound(&study(direction), &csv), "report.md");
        assert!(report.contains(": one better, one worse"), "{report}");
        assert!(report.contains(&format!("{better} (better)")), "{report}");
        assert!(report.contains(&format!("{worse} (worse)")), "{report}");
        let row = report.lines().find(|line| line.starts_with("| bay | 1 | 0 to 2 |")).unwrap();
        assert!(row.contains("| 0 ×1, 1 ×2, 2 ×2 |"), "{row}");
    }
}
