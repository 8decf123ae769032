//! What the answer says of those that may lead: by how few sections, beside whom, and what their shares and times say otherwise.

#![allow(clippy::disallowed_methods, reason = "a test reads an example")]

use std::fmt::Write;

use super::{MAP, changes, output, readings, sound, study};
use std::path::Path;
use tapeline::pipeline::{Day, check};

fn answer(csv: &str) -> String {
    let report = output(&sound(&study(MAP, ""), csv), "report.md");
    report.split("## The panel").next().unwrap().to_owned()
}

/// Readings without those of some sections at month 6.
fn without(csv: &str, lost: &[&str]) -> String {
    let kept = csv.lines().filter(|line| !lost.iter().any(|code| line.contains(&format!("month 6,{code},"))));
    kept.fold(String::new(), |text, line| text + line + "\n")
}

#[test]
fn a_leader_with_one_section_left_is_said_to_lead_by_one() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let whole = answer(&csv);
    assert!(whole.contains("## Bay spray is the one product that may lead at month 6\n"), "{whole}");
    let one = answer(&without(&csv, &["A1"]));
    assert!(
        one.contains("## Bay spray is the one product that may lead at month 6, by one section\n"),
        "{one}"
    );
}

/// Rue is left with one section, at the mean of cumin and thyme, which are out on two each.
#[test]
fn a_product_that_few_sections_do_not_exclude_is_set_apart_from_the_leader() {
    let csv = readings(&changes(-2.0, -4.7, -4.7, -4.0, 0.75), 3);
    // Of rue the section at -4.0 - 0.75 is left, no better than the others.
    let answer = answer(&without(&csv, &["C4"]));
    assert!(answer.contains("\n## 2 of 4 products may lead at month 6\n"), "{answer}");
    assert!(
        answer.contains(
            "Bay spray ([2.0 GU](#words), 2 sections); bare 12.0 GU. Not excluded only because so few sections exclude little: Rue spray (4.8 GU, \
             1 section), no better in the mean than a product that is not ahead. The other 2 are not ahead."
        ),
        "{answer}"
    );
}

#[test]
fn products_that_were_not_read_are_not_among_those_that_are_not_told_apart() {
    let csv = readings(&changes(-4.0, -5.0, -6.0, -4.5, 2.5), 3);
    let answer = answer(&without(&csv, &["A3", "C1"]));
    assert!(
        answer.contains("\n## This study does not tell the 3 products that can be compared apart\n"),
        "{answer}"
    );
    let report = output(&sound(&study(MAP, ""), &without(&csv, &["A3", "C1"])), "report.md");
    assert!(report.contains("\n## All 3 products compared may lead at month 6\n"), "{report}");
}

/// Bay begins at 60 and loses 12, the others begin at 90 and lose 14.5: four fifths of its own against more of theirs.
#[test]
fn where_shares_order_products_otherwise_than_changes_the_answer_says_so() {
    let of = |bay_begins: f64| {
        let mut csv = String::from("date,round,section,measure,unit,1,2,3\n");
        for (round, day) in [("baseline", "2025-06-02"), ("fresh", "2025-06-10"), ("month 6", "2025-12-03")] {
            for (section, change) in changes(-12.0, -14.5, -14.6, -14.4, 0.2) {
                let begins = if matches!(section, "A1" | "B3") { bay_begins } else { 90.0 };
                let bare = matches!(section, "A2" | "B2" | "B4" | "C3");
                let change = if bare { change - 20.0 } else { change };
                let level = begins + if round == "month 6" { change } else { 0.0 };
                writeln!(csv, "{day},{round},{section},gloss-60,GU,{level:.1},{level:.1},{level:.1}")
                    .unwrap();
            }
        }
        answer(&csv)
    };
    let other = of(60.0);
    assert!(other.contains("## Bay spray is the one product that may lead"), "{other}");
    // 48 of 60, and 75.5 of 90.
    assert!(
        other.contains("[By the share held the order is another](#gloss-60-held-at-month-6")
            && other.contains("): Bay spray held 80.0 % (from ")
            && other.contains("They began at different levels; the study is decided by the change."),
        "{other}"
    );
    assert!(!of(90.0).contains("the order is another"));
}

/// 85 GU fresh and a limit of 68: bare falls below it by a change of more than 17.
#[test]
fn sections_that_were_spent_at_different_times_are_told_by_their_number() {
    let mut csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    for (section, early, late) in
        [("A2", 60.0, 50.0), ("B2", 80.0, 60.0), ("B4", 80.0, 61.0), ("C3", 80.0, 62.0)]
    {
        let lines: Vec<String> = csv
            .lines()
            .filter(|line| !line.contains(&format!("month 6,{section},")))
            .map(str::to_owned)
            .collect();
        csv = lines.join("\n") + "\n";
        for (round, day, level) in [("month 3", "2025-09-03", early), ("month 6", "2025-12-03", late)] {
            writeln!(csv, "{day},{round},{section},gloss-60,GU,{level:.1},{level:.1},{level:.1}").unwrap();
        }
    }
    let text = study(MAP, "")
        .replace("    month 6     within", "    month 3     within 1 week\n    month 6     within");
    let report = output(&sound(&text, &csv), "report.md");
    assert!(
        report.contains("bare before 13 weeks (1 section) and 13 to 26 weeks (3 sections; all spent)"),
        "{report}"
    );
}

/// Four bare sections, spent in four stretches: the span alone would not say that two of them were by 13 weeks.
#[test]
fn many_stretches_of_time_have_the_half_beside_the_span() {
    let mut csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let rounds = [("month 1", "2025-07-03"), ("month 3", "2025-09-03"), ("month 4", "2025-10-03")];
    let bare = ["A2", "B2", "B4", "C3"];
    for (at, (round, day)) in rounds.iter().enumerate() {
        for (failed, section) in bare.iter().enumerate() {
            let level = if at < failed { 80.0 } else { 60.0 };
            writeln!(csv, "{day},{round},{section},gloss-60,GU,{level:.1},{level:.1},{level:.1}").unwrap();
        }
    }
    let low = |line: &str| match line.split_once(",gloss-60") {
        Some((head, _)) if head.contains("month 6") && bare.iter().any(|code| head.ends_with(code)) => {
            format!("{head},gloss-60,GU,50.0,50.0,50.0\n")
        }
        _ => format!("{line}\n"),
    };
    let csv: String = csv.lines().map(low).collect();
    let more = "    month 1     within 1 week\n    month 3     within 1 week\n    month 4     within 1 week\n    month 6     within";
    let text = study(MAP, "").replace("    month 6     within", more);
    let report = output(&sound(&text, &csv), "report.md");
    assert!(
        report.contains("bare before 26 weeks, half of them before 13 weeks (4 sections, all spent)"),
        "{report}"
    );
}

/// Bare changes by -12: a leader at -11.9 lies within 2 of it, and one at -11 is not told apart where sections lie 2 from each other.
#[test]
fn a_leader_that_is_no_better_than_bare_is_said_to_be_where_it_is_named() {
    let told = |bay: f64, others: f64, apart: f64| {
        answer(&readings(&changes(bay, others - 1.0, others - 2.0, others - 3.0, apart), 3))
    };
    let alike = told(-11.9, -15.0, 0.2);
    assert!(
        alike.contains("\n## Bay spray is the one product that may lead at month 6, and is alike to bare\n")
            && alike.contains(
                "Bay spray ([11.9 GU](#words), 2 sections; [alike](#words) to bare); bare 12.0 GU."
            ),
        "{alike}"
    );
    let open = told(-11.0, -21.0, 1.0);
    assert!(
        open.contains(
            "\n## Bay spray is the one product that may lead at month 6, and is not told apart from bare\n"
        ) && open.contains("([11.0 GU](#words), 2 sections; not told apart from bare); bare "),
        "{open}"
    );
}

#[test]
fn without_a_reading_products_that_are_alike_are_alike_and_none_of_them_leads() {
    let csv = readings(&changes(-4.0, -4.0, -4.0, -4.0, 0.1), 3);
    let text = study(
        MAP,
        "    leave out gloss-60 of A1 at month 6, reading 3, 81.2 GU because \"finger on the lens\"\n",
    );
    let report = output(&sound(&text, &csv), "report.md");
    assert!(report.contains("\n## All 4 products are alike at month 6\n"), "{report}");
    assert!(report.contains("With it put back, the products are alike as well."), "{report}");
    assert!(!report.contains("same products may lead"), "{report}");
}

/// Sections of a product lie 5 from its mean: their standard deviation is 5 x 2 ^ 0.5 for two and 5.8 for four, pooled 6.5 on 7 degrees of
/// freedom, so that the mean of four bare ones has a standard error of 3.3, and that of two 4.6. Both end before the point.
#[test]
fn numbers_have_no_more_decimals_than_their_standard_error() {
    let csv = readings(&changes(-20.4, -40.3, -50.6, -60.8, 5.0), 3);
    let report = output(&sound(&study(MAP, ""), &csv), "report.md");
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains("Bay spray ([20 GU](#words), 2 sections"), "{answer}");
    assert!(!answer.contains("20.4"), "{answer}");
    // Readings stand as they were typed.
    assert!(report.contains("59.5 59.6 59.7"), "{report}");
}

/// Bora lost 1.0 GU and Foehn 2.3 at cycle 2, two sections each, on a spread of 0.438 GU with 6 degrees of freedom: by the studentised range of
/// three products +1.3, from -0.01 to +2.7 (`scipy` 1.17.1), within the 2 GU that the study calls alike.
#[test]
fn a_single_leader_that_the_pairs_do_not_tell_apart_is_said_to_be_none() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/marked-cladding");
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let text = read("marked-cladding.study");
    let files = [("readings.csv".to_owned(), read("readings.csv").into_bytes())];
    let outcome = check("marked-cladding.study", &text, &files, Day::AsOf(jiff::civil::date(2025, 6, 30)));
    let report = output(&outcome, "report.md");
    let answer = report.split("## The panel").next().unwrap();
    assert!(
        answer.contains(
            "Bora Permanent and Foehn Permanent are not told apart: +1.3 GU (from \u{2212}0.01 to +2.7 over all pairs)."
        ),
        "{answer}"
    );
    assert!(report.contains("**One product that may lead:** the answer names its difference to the next"));
    // Bay leads by four, told apart from all: nothing is added.
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    assert!(!super::output(&sound(&study(MAP, ""), &csv), "report.md").contains("are not told apart: "));
}
