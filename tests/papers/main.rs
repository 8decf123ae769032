//! Tests of what people see: the answer in its cases, text that stays text, colours, safety boxes, pictures.

#![allow(clippy::unwrap_used, reason = "a test may stop where it finds nothing")]

mod aerosols;
mod answers;
mod as_of;
mod as_recorded;
mod bench;
mod by_piece;
mod calendar;
mod cautions;
mod checklist;
mod clear_to_the_hand;
mod colours;
mod controls;
mod far_off;
mod figures;
mod filled_in;
mod files;
mod fineness;
mod harm;
mod labels;
mod leaders;
mod looks;
mod map;
mod panel;
mod pictures;
mod places;
mod plan;
mod rated_pieces;
mod report;
mod run_sheet;
mod safety;
mod shopping;
mod specimens;
mod sheets;
mod text;
mod uptake;
mod what_was_done;
mod whole_work;
mod with_no_other_paper;
mod without;
mod without_asking;

use jiff::civil::{Date, date};
use std::fmt::Write;
use tapeline::diag::Severity;
use tapeline::pipeline::{Day, Outcome, check};

/// The day on which every study of these tests is looked at.
const DAY: Date = date(2026, 1, 10);

/// A small sound study, invented: four products on two sections each and four bare.
const HEAD: &str = r#"language 1

study "Four sprays on a locker lid"
    begins      2025-06-02
    decide by   gloss-60 at month 6

surface lid
    material    clearcoat on aluminium, grey
    size        900 x 700 mm

gauge pen
    reads       gloss-60
    spot        10 x 10 mm
    foot        100 x 40 mm
    two readings agree within 0.4 GU
    certified   2025-05-01 for 12 months

measure gloss-60 in GU
    higher is better
    alike       within 2 GU
    seen        from 5 GU
    spent       below 80 % of fresh

supply soap, a neutral shampoo
    mix         1 part to 200 water

product bay "Bay spray", a spray sealant
    cure        1 day
product thyme "Thyme spray", a spray sealant
    cure        1 day
product cumin "Cumin spray", a spray sealant
    cure        1 day
product rue "Rue spray", a spray sealant
    cure        1 day
"#;

const MAP: &str = r"
map  sections 150 x 120 mm  gap 20 mm  from left 44 mm, top 44 mm
    | bay    bare   thyme  cumin  |
    | rue    bare   bay    bare   |
    | thyme  cumin  bare   rue    |
";

const TAIL: &str = r#"
prep
    wash  with soap, rinse
    dry

apply
    on          2025-06-03

rounds
    baseline    on 2025-06-02
    fresh       7 days after apply
    month 6     within 1 week
    every round gloss-60 3 times
    before each round  wash with soap, rinse, dry

readings "readings.csv"
"#;

/// The study with another map and further statements behind it.
fn study(map: &str, more: &str) -> String {
    format!("{HEAD}{map}{TAIL}{more}")
}

/// Readings of the three rounds in a study with [`MAP`]: the change of each section from fresh to month 6.
fn readings(changes: &[(&str, f64)], rounds: usize) -> String {
    let mut out = String::from("date,round,section,measure,unit,1,2,3\n");
    let days = ["2025-06-02", "2025-06-10", "2025-12-03"];
    for (at, round) in ["baseline", "fresh", "month 6"].into_iter().enumerate().take(rounds) {
        for (section, change) in changes {
            let level = 85.0 + if at == 2 { *change } else { 0.0 };
            let (low, high) = (level - 0.1, level + 0.1);
            writeln!(out, "{},{round},{section},gloss-60,GU,{low:.1},{level:.1},{high:.1}", days[at])
                .unwrap();
        }
    }
    out
}

/// Changes of the twelve sections of [`MAP`]: mean of each product and bare, and how far the sections lie from it.
fn changes(bay: f64, thyme: f64, cumin: f64, rue: f64, apart: f64) -> Vec<(&'static str, f64)> {
    let bare = -12.0;
    vec![
        ("A1", bay + apart),
        ("A2", bare + apart),
        ("A3", thyme - apart),
        ("A4", cumin + apart),
        ("B1", rue - apart),
        ("B2", bare - apart),
        ("B3", bay - apart),
        ("B4", bare + apart),
        ("C1", thyme + apart),
        ("C2", cumin - apart),
        ("C3", bare - apart),
        ("C4", rue + apart),
    ]
}

/// Checks a study and asks that it has no error, since only such a study is built.
fn sound(text: &str, csv: &str) -> Outcome {
    let outcome =
        check("lid.study", text, &[("readings.csv".to_owned(), csv.as_bytes().to_vec())], Day::AsOf(DAY));
    let errors: Vec<_> =
        outcome.findings.iter().filter(|finding| finding.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    outcome
}

/// One output as text.
fn output(outcome: &Outcome, name: &str) -> String {
    without_holds(&as_written(outcome, name))
}

/// The bytes of a file, with the elements that keep words on one line.
fn as_written(outcome: &Outcome, name: &str) -> String {
    let artifacts = outcome.build(Some(&[name])).unwrap();
    String::from_utf8(artifacts.into_iter().next().unwrap().bytes).unwrap()
}

/// A page with the text of these elements in their place.
fn without_holds(page: &str) -> String {
    page.replace("<bdi class=\"held\">", "").replace("</bdi>", "")
}
