//! Measures of other kinds: made of parts, taken against a blank, and ratings; worked by hand in the comments.

use tapeline::analysis::{Analysis, Missing, NoTable, SectionAt, Spent, analyse};
use tapeline::diag::{Severity, has_errors};
use tapeline::pipeline::{self, Day, Outcome};

const HEAD: &str = r#"study "Kinds"
    begins 2026-03-02
surface door
    size 900 x 600 mm
product bay
product clove
map sections 100 x 100 mm gap 20 mm from left 30 mm, top 30 mm
    | bay bare clove bare |
specimens slips
    one for each product and 2 for bare
apply
    on 2026-03-03
readings "rows.csv"
"#;

fn outcome(piece: &str, rows: &str) -> Outcome {
    let csv = format!("date,round,section,measure,1,2,3\n{rows}");
    let files = [("rows.csv".to_owned(), csv.into_bytes())];
    let day = Day::AsOf("2026-05-01".parse().unwrap());
    let outcome = pipeline::check("kinds.study", &format!("{HEAD}{piece}"), &files, day);
    let errors: Vec<_> = outcome.findings.iter().filter(|one| one.severity == Severity::Error).collect();
    assert!(!has_errors(&outcome.findings), "{errors:?}");
    outcome
}

fn analysis(piece: &str, rows: &str) -> (Outcome, Analysis) {
    let outcome = outcome(piece, rows);
    let analysis = analyse(&outcome.study, &outcome.readings, outcome.day.as_of());
    (outcome, analysis)
}

/// The first measure on a section or specimen at the n-th round.
fn cell<'a>((outcome, analysis): &'a (Outcome, Analysis), code: &str, place: usize) -> &'a SectionAt {
    let (id, _) = outcome.study.places().find(|(_, section)| section.code == code).unwrap();
    &analysis.measures[0].sections.iter().find(|series| series.section == id).unwrap().at[place]
}

fn level(found: &(Outcome, Analysis), code: &str, place: usize) -> f64 {
    cell(found, code, place).numbers.level.unwrap().mean
}

#[test]
fn the_share_stopped_is_taken_against_the_blank_of_its_round() {
    let piece = "measure haze in % on slips\n    higher is better\n    read open, then under in mW/cm2\n    \
        is the share stopped\n    against the blank\nrounds\n    baseline before apply haze once\n    month 1 haze once\n";
    let rows = |day: &str, round: &str, under: [f64; 4]| -> String {
        let slips = ["bay", "clove", "bare-1", "bare-2"];
        let row = |(slip, under): (&&str, f64)| {
            format!("{day},{round},{slip},open,2\n{day},{round},{slip},under,{under}\n")
        };
        slips.iter().zip(under).map(row).collect()
    };
    let first = rows("2026-03-02", "baseline", [1.6, 1.6, 1.6, 1.6]);
    let text = first + &rows("2026-04-03", "month 1", [0.4, 1.02, 1.6, 1.8]);
    let found = analysis(piece, &text);
    // Blank 0.8: nothing is stopped. Later the blanks let 0.8 and 0.9 pass, 0.85 in the mean; bay 0.2, clove 0.51.
    assert!(level(&found, "bay", 0).abs() < 1e-12);
    assert!((level(&found, "bay", 1) - 100.0 * (1.0 - 0.2 / 0.85)).abs() < 1e-12);
    assert!((level(&found, "clove", 1) - 40.0).abs() < 1e-12);
    assert!((level(&found, "bare-2", 1) + level(&found, "bare-1", 1)).abs() < 1e-12);
    // The panel has no part in it.
    assert_eq!(found.1.measures[0].sections.len(), 4);
    assert_eq!(found.1.measures[1].rounds[1].to_bare.as_ref().err(), Some(&NoTable::Part));
}

#[test]
fn differences_and_ratios_are_taken_in_the_order_in_which_they_are_named() {
    let rows = "2026-03-02,baseline,A1,wet,10\n2026-03-02,baseline,A1,dry-look,4\n";
    let makings = [
        ("is the difference", 6.0),
        ("is the gain", -6.0),
        ("is the gain in percent", -60.0),
        ("is the ratio", 2.5),
        ("is the share stopped", 60.0),
    ];
    for (making, expected) in makings {
        let piece = format!(
            "measure sheen in x\n    higher is better\n    read wet, then dry-look in GU\n    {making}\n\
             rounds\n    baseline before apply sheen once\n    month 1 sheen once\n"
        );
        assert!((level(&analysis(&piece, rows), "A1", 0) - expected).abs() < 1e-12, "{making}");
    }
}

#[test]
fn a_colour_change_is_that_of_the_published_pair() {
    // Pair 1 of Sharma, Wu and Dalal (2005), Color Research and Application 30, 21-30: 2.0425.
    let piece =
        "measure colour in dE00\nrounds\n    baseline before apply colour once\n    month 1 colour once\n";
    let mut rows = String::new();
    for (day, round, lab) in [
        ("2026-03-02", "baseline", [50.0, 2.6772, -79.7751]),
        ("2026-04-03", "month 1", [50.0, 0.0, -82.7485]),
    ] {
        for (letter, value) in ["L*", "a*", "b*"].iter().zip(lab) {
            rows += &format!("{day},{round},A1,{letter},{value}\n");
        }
    }
    let found = analysis(piece, &rows);
    assert!((level(&found, "A1", 1) - 2.0425).abs() < 5e-5);
    assert!(level(&found, "A1", 0).abs() < 1e-12);
    assert_eq!(cell(&found, "A2", 1).numbers.level.err(), Some(Missing::NotRead));
}

#[test]
fn a_rating_is_judged_by_its_median_and_its_worst_mark_counts_as_spent() {
    let piece = "measure cracks, a rating 0 to 5\n    lower is better\n    0 \"none\"\n    spent at 3 or worse\n\
        rounds\n    baseline before apply cracks 3 times\n    month 1 cracks 3 times\n";
    let mut rows = String::new();
    for (code, now) in [("A1", "1,2,5"), ("A2", "3,3,0"), ("A3", "2,2,2"), ("A4", "4,4,5")] {
        rows += &format!("2026-03-02,baseline,{code},cracks,0,0,0\n2026-04-03,month 1,{code},cracks,{now}\n");
    }
    let found = analysis(piece, &rows);
    assert_eq!([level(&found, "A1", 1), level(&found, "A2", 1)], [2.0, 3.0]);
    let spent = found.1.measures[0].spent.as_ref().unwrap();
    let failed: Vec<bool> = spent.iter().map(|one| matches!(one.when, Ok(Spent::Before(_)))).collect();
    assert_eq!(failed, [false, true, false, true]);
    assert_eq!(found.1.measures[0].rounds[1].to_bare.as_ref().err(), Some(&NoTable::Rating));
}
