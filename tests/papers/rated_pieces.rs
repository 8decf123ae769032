//! Marks on planks: ranked within each plank, and held against the one to beat.

use std::fmt::Write;

use super::{output, sound};

const STUDY: &str = r#"language 1
study "Checks in boards"
    begins 2025-03-01
    decide by checks at month 6
surface boards
    material oak
    each 300 x 90 mm
measure checks, a rating 0 to 10
    lower is better
product bay
product clove
benchmark clove
map rack 4 rows of 6
    | bay   bare  clove bay   bare  clove |
    | clove bay   bare  clove bay   bare  |
    | bare  clove bay   bare  clove bay   |
    | bay   bare  clove bay   bare  clove |
group plank
    | p1 p1 p1 p2 p2 p2 |
    | p3 p3 p3 p4 p4 p4 |
    | p5 p5 p5 p6 p6 p6 |
    | p7 p7 p7 p8 p8 p8 |
apply
    on 2025-03-02
rounds
    month 6 checks once
readings "readings.csv"
"#;

/// Every plank adds 0 to 7 marks; on each bay lies two marks below bare, and clove one below or one above it in turn.
fn marks() -> String {
    let mut csv = String::from("date,round,section,measure,value\n");
    let rows = ["bay bare clove", "clove bay bare", "bare clove bay", "bay bare clove"];
    for plank in 0..8 {
        let (row, first) = (plank / 2, 3 * (plank % 2));
        for (at, carries) in rows[row].split(' ').enumerate() {
            let more = match carries {
                "bay" => 0,
                "bare" => 2,
                _ => 1 + 2 * (plank % 2),
            };
            let code = format!("{}{}", ["A", "B", "C", "D"][row], first + at + 1);
            writeln!(csv, "2025-09-02,month 6,{code},checks,{}", plank + more).unwrap();
        }
    }
    csv
}

/// Bay is ahead on all of eight planks, so that 2 of 256 ways are as far: p 0.0078, after Holm for two rows 0.0156. Rank sums of 8, 20 and
/// 20 give 12 / (8 x 3 x 4) x 864 - 96 = 12 (Friedman 1937).
#[test]
fn marks_on_planks_are_ranked_within_each_plank() {
    let page = output(&sound(STUDY, &marks()), "report.md");
    assert!(
        page.contains("## One of 2 products is told apart from bare at month 6 by checks: one better"),
        "{page}"
    );
    assert!(
        page.contains("with marks ranked within each plank")
            && page.contains("within each plank (van Elteren 1960)"),
        "{page}"
    );
    assert!(page.contains("decides nothing: 12.00 on 2 degrees of freedom"), "{page}");
    let row = |name: &str| {
        page.lines()
            .find(|line| line.starts_with(&format!("| {name} | ")) && line.ends_with(" | 8 |"))
            .unwrap()
            .to_owned()
    };
    assert!(row("bay").contains("told apart, better | 0.016 |"), "{}", row("bay"));
    assert!(row("clove").contains("not told apart | 1.000 |"), "{}", row("clove"));
    // Over all sections alike what the planks add hides it.
    let apart = STUDY.split("group plank").next().unwrap().to_owned()
        + "apply"
        + STUDY.split("apply").nth(1).unwrap();
    let page = output(&sound(&apart, &marks()), "report.md");
    assert!(
        page.contains("No product is told apart from bare at month 6 by checks") && page.contains("Wilcoxon"),
        "{page}"
    );
}

#[test]
fn a_rating_has_the_one_to_beat_as_well() {
    let page = output(&sound(STUDY, &marks()), "report.md");
    assert!(page.contains("[By the ranks told apart from clove](#"), "{page}");
    assert!(page.contains("bay (better)"), "{page}");
    // One row of 2 / 256.
    assert!(page.contains("| bay | told apart, better | 0.008 |"), "{page}");
}

/// Three sections of bay change by 3, 0 and 0 marks: their median is 0, though the median mark goes from 1 to 2.
#[test]
fn a_change_of_marks_is_the_median_of_what_sections_changed_by_and_no_difference_of_medians() {
    let text = STUDY
        .replace("map rack 4 rows of 6\n    | bay   bare  clove bay   bare  clove |\n    | clove bay   bare  clove bay   bare  |\n    | bare  clove bay   bare  clove bay   |\n    | bay   bare  clove bay   bare  clove |\ngroup plank\n    | p1 p1 p1 p2 p2 p2 |\n    | p3 p3 p3 p4 p4 p4 |\n    | p5 p5 p5 p6 p6 p6 |\n    | p7 p7 p7 p8 p8 p8 |\n", "map rack 1 row of 6\n    | bay bare bay bare bay bare |\n")
        .replace("product clove\nbenchmark clove\n", "")
        .replace("    lower is better\n", "    lower is better\n    change from fresh\n")
        .replace("    month 6 checks once", "    baseline before apply  checks once\n    fresh on 2025-03-10  checks once\n    month 6 checks once");
    let mut csv = String::from("date,round,section,measure,value\n");
    let fresh_and_late = [(0, 3), (0, 5), (1, 1), (0, 6), (2, 2), (0, 7)];
    for (at, (fresh, late)) in fresh_and_late.into_iter().enumerate() {
        for (day, round, mark) in
            [("2025-03-01", "baseline", 0), ("2025-03-10", "fresh", fresh), ("2025-09-02", "month 6", late)]
        {
            writeln!(csv, "{day},{round},A{},checks,{mark}", at + 1).unwrap();
        }
    }
    let outcome = sound(&text, &csv);
    let (page, text) = (output(&outcome, "report.html"), output(&outcome, "report.md"));
    assert!(text.contains("| bay | 0.0 | 3 |") && text.contains("| bare | +6.0 | 3 |"), "{text}");
    assert!(text.contains("and no difference of two medians of products"), "{text}");
    assert!(page.contains("at month 6: bay 0.0, bare sections +6.0"), "{page}");
    assert!(page.contains("aria-label=\"bay: 0.0 marks at month 6, 3 sections from 0.0 to +3.0"), "{page}");
}
