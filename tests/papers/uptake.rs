//! What the coat itself changes: uptake of water, where a change from the fresh coat would call worse than bare what keeps water out.

use std::fmt::Write;

use super::{MAP, output, sound, study};

/// The small study with uptake of water in place of gloss, in percent of the dry mass.
fn uptake(more: &str) -> String {
    let (head, rest) = study(MAP, "")
        .split_once("measure gloss-60 in GU\n")
        .map(|(a, b)| (a.to_owned(), b.to_owned()))
        .unwrap();
    let rest = rest.split_once("supply soap").unwrap().1.to_owned();
    let measure = format!(
        "measure uptake in %\n    lower is better\n    read dry, then soaked in g\n    is the gain in percent\n{more}\nsupply soap"
    );
    format!("{head}{measure}{rest}")
        .replace("decide by   gloss-60", "decide by   uptake")
        .replace("every round gloss-60 3 times", "every round uptake once")
}

/// Bare takes up 14 % all along, the products 14 % before they go on, 2 % when fresh and 4 % at month 6, each a little to either side.
fn rows(rounds: &[(&str, &str, f64)]) -> String {
    let mut out = String::from("date,round,section,measure,unit,1\n");
    for (day, round, coated) in rounds {
        for (at, section) in
            ["A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "C1", "C2", "C3", "C4"].iter().enumerate()
        {
            let bare = ["A2", "B2", "B4", "C3"].contains(section);
            let aside = if at % 2 == 0 { 0.2 } else { -0.2 }
                + 0.03 * at as f64 * f64::from(u8::from(*round == "month 6"));
            let soaked = 100.0 + if bare { 14.0 } else { *coated } + aside;
            writeln!(
                out,
                "{day},{round},{section},dry,g,100.00\n{day},{round},{section},soaked,g,{soaked:.2}"
            )
            .unwrap();
        }
    }
    out
}

const ROUNDS: [(&str, &str, f64); 3] =
    [("2025-06-02", "baseline", 14.0), ("2025-06-10", "fresh", 2.0), ("2025-12-03", "month 6", 4.0)];

fn report(text: &str, csv: &str) -> String {
    output(&sound(text, csv), "report.md")
}

#[test]
fn uptake_counts_from_the_baseline_and_says_so() {
    let page = report(&uptake(""), &rows(&ROUNDS));
    // From 14 % to 4 %, with what lies aside: bay (A1, B3) by +0.00 and +0.18, so 10.0 - 0.09 less than before.
    assert!(page.contains("All 4 products did better than the bare sections"), "{page}");
    assert!(
        page.contains("uptake: change counts from baseline, since the coat itself changes what is tested."),
        "{page}"
    );
    assert!(!page.contains("the other way round"), "{page}");
}

#[test]
fn where_only_the_fresh_round_reads_it_levels_are_compared() {
    let text = uptake("")
        .replace("    baseline    on 2025-06-02\n", "    baseline    on 2025-06-02  hue once\n")
        .replace("every round uptake once", "fresh-only")
        .replace("fresh       7 days after apply", "fresh       7 days after apply  uptake once")
        .replace("month 6     within 1 week", "month 6     within 1 week  uptake once")
        .replace("    fresh-only\n", "")
        + "\nmeasure hue in points\n    neither is better\n";
    let mut csv = rows(&ROUNDS[1..]);
    csv += "2025-06-02,baseline,A1,hue,points,3\n";
    let page = report(&text, &csv);
    assert!(page.contains("All 4 products did better than the bare sections"), "{page}");
}

#[test]
fn a_change_from_fresh_that_is_stated_is_told_beforehand_and_beside_the_answer() {
    let text = uptake("    change from fresh\n");
    let outcome = sound(&text, &rows(&ROUNDS));
    assert!(
        outcome.findings.iter().any(|finding| finding.code == "change-misses-the-coat"),
        "{:?}",
        outcome.findings
    );
    let page = output(&outcome, "report.md");
    assert!(page.contains("All 4 products did worse than the bare sections"), "{page}");
    // At month 6: 14 + (-0.2 + 0.03 x 1, -0.2 + 0.15, -0.2 + 0.21, 0.2 + 0.3) of bare is 14.07 in the mean.
    assert!(page.contains("[By the level at month 6 the order to bare is the other way round](#"), "{page}");
    assert!(
        page.contains("), beyond the intervals. Better than bare, which stood at 14.07 %: 4 products at "),
        "{page}"
    );
}
