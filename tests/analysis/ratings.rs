//! Ratings as a whole: medians, ranks against bare, the adjustment after Holm, and two raters.

use tapeline::analysis::{Analysis, Answer, Role, analyse};
use tapeline::diag::has_errors;
use tapeline::pipeline::{self, Day};

const STUDY: &str = r#"study "Marks"
    begins 2026-03-02
    decide by streaks at month 1
surface door
    size 900 x 600 mm
product bay
product clove
map sections 100 x 100 mm gap 20 mm from left 30 mm, top 30 mm
    | bay   bare  bay   bare  clove clove |
    | bare  bay   bare  bay   .     .     |
measure streaks, a rating 0 to 5
    lower is better
    0 "none"
    rated by 2 people, each alone
rounds
    baseline before apply streaks 2 times
    month 1 streaks 2 times
apply
    on 2026-03-03
readings "rows.csv"
"#;

const SECTIONS: [&str; 10] = ["A1", "A3", "B2", "B4", "A2", "A4", "B1", "B3", "A5", "A6"];

/// Marks of K. D. and of M. B. at the second round, in the order of [`SECTIONS`]: bay, bare, clove.
fn analysis(text: &str, marks: [(f64, f64); 10]) -> Analysis {
    let mut csv = String::from("date,round,section,measure,value,by\n");
    for (code, (one, other)) in SECTIONS.iter().zip(marks) {
        for (by, now) in [("K. D.", one), ("M. B.", other)] {
            csv += &format!(
                "2026-03-02,baseline,{code},streaks,0,{by}\n2026-04-03,month 1,{code},streaks,{now},{by}\n"
            );
        }
    }
    let files = [("rows.csv".to_owned(), csv.into_bytes())];
    let outcome = pipeline::check("marks.study", text, &files, Day::AsOf("2026-05-01".parse().unwrap()));
    assert!(!has_errors(&outcome.findings), "{:#?}", outcome.findings);
    analyse(&outcome.study, &outcome.readings, outcome.day.as_of())
}

const APART: [(f64, f64); 10] = [
    (0.0, 0.0),
    (0.0, 1.0),
    (1.0, 1.0),
    (0.0, 0.0),
    (4.0, 4.0),
    (5.0, 4.0),
    (3.0, 3.0),
    (4.0, 5.0),
    (4.0, 4.0),
    (3.0, 4.0),
];

#[test]
fn four_against_four_that_lie_apart_are_told_and_two_against_four_cannot_be() {
    let analysis = analysis(STUDY, APART);
    assert_eq!(analysis.answer, Answer::Rated);
    let table = analysis.measures[0].rating.as_ref().unwrap();
    assert_eq!((table.role, table.sections, table.readings), (Role::Deciding, 10, 20));
    let row = |at: usize| table.rows[at];
    assert_eq!((row(0).median, row(0).lowest, row(0).highest, row(0).n), (0.25, 0.0, 1.0, 4));
    // Of the 70 ways to deal eight marks into four and four, two lie as far apart as these.
    let bay = row(0).p.unwrap();
    assert!(bay.exact && (bay.p - 2.0 / 70.0).abs() < 1e-12 && (bay.least - 2.0 / 70.0).abs() < 1e-12);
    // Of two rows one could come to 2 of 70, which Holm leaves below 5 % as the only one that is able.
    let least = table.least.unwrap();
    assert!(
        (least.p - 2.0 / 70.0).abs() < 1e-12 && (least.over_rows - 2.0 / 70.0).abs() < 1e-12 && !least.unable
    );
    // Holm doubles the smaller of two p values.
    assert!((row(0).p_holm.unwrap() - 4.0 / 70.0).abs() < 1e-12);
    assert!(row(1).p_holm.unwrap() > 0.1 && row(2).p.is_none());
    let all = table.all.unwrap();
    assert!(all.df == 2.0 && all.p.exact && all.p.p < 0.02, "{all:?}");
}

#[test]
fn agreement_of_the_raters_is_counted_over_the_rounds_at_which_something_could_show() {
    let analysis = analysis(STUDY, APART);
    // Pairs that lie one mark apart are what marks can show, and no reading that stands apart.
    assert!(analysis.outliers.marks.is_empty() && analysis.outliers.tested == 0);
    let [pair] = analysis.measures[0].rating.as_ref().unwrap().raters.as_slice() else { panic!() };
    assert_eq!((pair.one.as_str(), pair.other.as_str(), pair.pairs), ("K. D.", "M. B.", 10));
    assert_eq!(pair.sections, 10, "each is marked once at month 1");
    // Six of ten agree at month 1, and four lie one step apart, three of them upwards; the ten zeros at the baseline count nothing.
    assert!((pair.same - 6.0 / 10.0).abs() < 1e-12 && (pair.apart - 2.0 / 10.0).abs() < 1e-12, "{pair:?}");
    // By chance, from the counts of each mark: 3, 1, 2, 3, 1 of 0, 1, 3, 4, 5 against 2, 2, 1, 4, 1.
    let (one, other) = ([(0.0, 3.0), (1.0, 1.0), (3.0, 2.0), (4.0, 3.0), (5.0, 1.0)], counts(&APART));
    let marks: f64 = one.iter().map(|mark| mark.1).sum();
    assert_eq!(marks, 10.0, "the first rater gave 10 marks");
    let chance: f64 =
        one.iter().flat_map(|a| other.iter().map(move |b| f64::abs(a.0 - b.0) * a.1 * b.1)).sum::<f64>()
            / 10.0;
    assert!((pair.kappa.unwrap() - (1.0 - 4.0 / chance)).abs() < 1e-12, "{pair:?}");
}

/// How often the second rater gave each mark.
fn counts(marks: &[(f64, f64); 10]) -> Vec<(f64, f64)> {
    let all = || marks.iter().map(|pair| pair.1);
    [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
        .map(|mark| (mark, all().filter(|&one| one == mark).count() as f64))
        .to_vec()
}

#[test]
fn a_rating_that_does_not_decide_is_a_further_look() {
    let text = STUDY
        .replace("    decide by streaks at month 1\n", "")
        .replace("measure streaks", "measure gloss in GU\n    higher is better\nmeasure streaks");
    let text = text.replace("streaks 2 times", "gloss once, streaks 2 times");
    let analysis = analysis(&text, APART);
    let table = analysis.measures[1].rating.as_ref().unwrap();
    assert_eq!(table.role, Role::FurtherLook);
    // Two marks against four show no p below 2 of 15, whatever they are: that row is no look, and bay stands alone.
    assert_eq!(analysis.further_looks, 1);
    assert!((table.rows[0].p_holm.unwrap() - 2.0 / 70.0).abs() < 1e-12 && table.rows[0].able);
    assert!(table.rows[1].p.is_some() && table.rows[1].p_holm.is_none() && !table.rows[1].able);
    // How marks came out moves the family by nothing.
    assert_eq!(self::analysis(&text, [(2.0, 2.0); 10]).further_looks, 1);
}

#[test]
fn equal_marks_have_medians_and_no_test() {
    let analysis = analysis(STUDY, [(2.0, 2.0); 10]);
    let table = analysis.measures[0].rating.as_ref().unwrap();
    assert!(table.all.is_none() && table.rows.iter().all(|row| row.median == 2.0));
    // Every way to deal out equal marks puts them as far apart: p is 1, and these rows count among those that are adjusted.
    let p: Vec<Option<f64>> = table.rows.iter().map(|row| row.p_holm).collect();
    assert_eq!(p, [Some(1.0), Some(1.0), None]);
    // What so many marks could reach does not depend on them: 2 of 70 for four and four.
    assert!((table.rows[0].p.unwrap().least - 2.0 / 70.0).abs() < 1e-12);
}

const TO_BEAT: &str = r#"study "Marks"
    begins 2026-03-02
    decide by streaks at month 1
surface door
    size 900 x 600 mm
product bay
product clove
product dill
benchmark dill
map sections 100 x 100 mm gap 20 mm from left 30 mm, top 30 mm
    | bay   clove dill  bay   clove dill  |
    | clove dill  bay   clove dill  bay   |
    | dill  bay   clove bare  bare  bare  |
measure streaks, a rating 0 to 5
    lower is better
    0 "none"
rounds
    baseline before apply streaks once
    month 1 streaks once
apply
    on 2026-03-03
readings "rows.csv"
"#;

/// Five marks of bay lie below all five of dill: 2 of 252 ways. Clove has those of dill: p is 1. Holm over both rows doubles the first.
#[test]
fn whoever_is_not_told_apart_from_the_one_to_beat_has_a_row_and_is_named() {
    let marks = |code: &str| match code {
        "A1" | "A4" | "B3" => 0.0,
        "B6" | "C2" => 1.0,
        "C4" | "C5" | "C6" => 5.0,
        _ => 3.0,
    };
    let mut csv = String::from(
        "date,round,section,measure,value
",
    );
    let codes = ["A", "B", "C"].iter().flat_map(|row| (1..=6).map(move |column| format!("{row}{column}")));
    for code in codes {
        let mark = marks(&code);
        csv += &format!(
            "2026-03-02,baseline,{code},streaks,0
2026-04-03,month 1,{code},streaks,{mark}
"
        );
    }
    let files = [("rows.csv".to_owned(), csv.into_bytes())];
    let outcome = pipeline::check("marks.study", TO_BEAT, &files, Day::AsOf("2026-05-01".parse().unwrap()));
    assert!(!has_errors(&outcome.findings), "{:#?}", outcome.findings);
    let analysis = analyse(&outcome.study, &outcome.readings, outcome.day.as_of());
    let rows = &analysis.measures[0].rating.as_ref().unwrap().to_benchmark;
    let p: Vec<f64> = rows.iter().map(|row| row.p_holm.unwrap()).collect();
    assert!((p[0] - 4.0 / 252.0).abs() < 1e-12 && (p[1] - 1.0).abs() < 1e-12, "{rows:?}");
    let artifacts = outcome.build(Some(&["report.md"])).unwrap();
    let report = String::from_utf8(artifacts.into_iter().next().unwrap().bytes).unwrap();
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains("the one to beat: bay (better). Not told apart from it: clove."), "{answer}");
}

/// The coast carries bay, clove and bare, inland bay and two bare: too few to compare means within sites, and ranks are taken there all the same.
const AT_SITES: &str = r#"study "Marks at two sites"
    begins 2026-03-02
    decide by streaks at month 1
surface slats
    each 300 x 80 mm
product bay
product clove
map coast rack 1 row of 3
    | bay   clove bare |
map inland rack 1 row of 3
    | bay   bare  bare |
exposure coast "Pier"
    put out 2026-03-04
exposure inland "Yard"
    put out 2026-03-04
measure streaks, a rating 0 to 5
    lower is better
    0 "none"
rounds
    baseline before apply streaks once
    month 1 streaks once
apply
    on 2026-03-03
readings "coast.csv" on coast
readings "inland.csv" on inland
"#;

/// By hand after Skillings and Mack (1981): in blocks of three a rank less 2 is weighted by (12 / 4) ^ 0.5. The sums are -2 x 3 ^ 0.5 for bay
/// and 0 for clove; their covariance is 3 x (1 - 1 / 3) = 2 in each block that has one of the three, and -1 where both lie: (4, -1; -1, 2), with
/// the inverse (2, 1; 1, 4) / 7. The statistic is 12 x 2 / 7.
#[test]
fn marks_at_several_sites_are_ranked_within_them_and_have_medians_at_each() {
    let csv = |marks: [f64; 3]| {
        let mut csv = String::from("date,round,section,measure,value,by\n");
        for (code, mark) in ["A1", "A2", "A3"].iter().zip(marks) {
            csv += &format!(
                "2026-03-02,baseline,{code},streaks,0,K. D.\n2026-04-03,month 1,{code},streaks,{mark},K. D.\n"
            );
        }
        csv.into_bytes()
    };
    let files =
        [("coast.csv".to_owned(), csv([1.0, 3.0, 4.0])), ("inland.csv".to_owned(), csv([0.0, 2.0, 5.0]))];
    let outcome = pipeline::check("marks.study", AT_SITES, &files, Day::AsOf("2026-05-01".parse().unwrap()));
    assert!(!has_errors(&outcome.findings), "{:#?}", outcome.findings);
    let analysis = analyse(&outcome.study, &outcome.readings, outcome.day.as_of());
    let table = analysis.measures[0].rating.as_ref().unwrap();
    // So few show nothing by themselves, and yet rows stay within them: bay and clove stand at the sites unalike.
    assert!(table.within && table.by_site && table.rows_within, "{table:?}");
    let all = table.all.unwrap();
    assert!((all.h - 24.0 / 7.0).abs() < 1e-9 && (all.df - 2.0).abs() < 1e-12, "{all:?}");
    let medians: Vec<_> = table.at_sites.iter().map(Vec::as_slice).collect();
    assert_eq!(
        medians,
        [&[Some((1.0, 1)), Some((0.0, 1))][..], &[Some((3.0, 1)), None], &[Some((4.0, 1)), Some((3.5, 2))],]
    );
    let report = outcome.build(Some(&["report.md"])).unwrap().into_iter().next().unwrap().bytes;
    let report = String::from_utf8(report).unwrap();
    assert!(
        report.contains("with marks ranked within each site, so that what a site adds decides nothing"),
        "{report}"
    );
    assert!(report.contains("Median at coast (sections) | Median at inland (sections)"), "{report}");
}
