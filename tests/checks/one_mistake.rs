//! One mistake is one finding: slips in a sound study with a full file of readings, and all that is said of them.

use super::{findings, told};

const FRAME: &str = include_str!("../../src/checks/frame.study");
const HEAD: &str = "date,round,section,measure,unit,1,2,3,4,5\n";

/// A row of five sound readings for every section, at baseline and fresh.
fn rows() -> Vec<String> {
    let codes = || ["A", "B", "C"].iter().flat_map(|row| (1..=4).map(move |at| format!("{row}{at}")));
    let of = |day: &'static str, round: &'static str| {
        codes().map(move |code| format!("{day},{round},{code},gloss-20,GU,90.1,90.2,90.0,90.3,90.2\n"))
    };
    of("2026-03-03", "baseline").chain(of("2026-03-11", "fresh")).collect()
}

/// Codes of all that is found in a study with its readings on a day long after both rounds.
fn codes(study: &str, head: &str, rows: &[String]) -> Vec<&'static str> {
    let piece = format!("whole\n{study}--- date 2026-05-01\n--- readings.csv\n{head}{}", rows.concat());
    let (study, findings) = findings(&piece);
    assert!(findings.len() < 10, "\n{}", told(&study, &findings));
    findings.iter().map(|finding| finding.code).collect()
}

#[test]
fn the_study_is_sound_without_a_slip() {
    assert!(codes(FRAME, HEAD, &rows()).is_empty());
}

#[test]
fn a_slip_in_the_study() {
    let cases = [
        ("35 % by volume", "15 %", "percent-of-what"),
        ("with soap,  1 part to 200 water", "with soap,  1:200", "mix-two-ways"),
        ("for 5 min", "5 min", "time-of-what"),
        ("within 0.4 GU", "within 0,5 GU", "comma-in-number"),
        ("2026-03-03 from 09:00", "03/04/2026 from 09:00", "day-or-month-first"),
        ("begins      2026-03-02", "begins      2026-3-2", "date-spelling"),
        ("gap 18 mm", "gap 18 min", "wrong-dimension"),
        ("cure        7 days", "cure        7 mm", "wrong-dimension"),
        ("within 3 days", "within 3 mm", "wrong-dimension"),
        ("alike       within 2 GU", "alike       within 2 mm", "wrong-dimension"),
        ("product clove ", "product clvoe ", "undefined-name"),
        ("every round gloss-20", "every round glos-20", "undefined-name"),
        ("reads       gloss-20", "reads       glos-20", "undefined-name"),
        ("decide by   gloss-20 at month 3", "decide gloss-20", "unreadable-line"),
        ("readings \"readings.csv\"", "readings readings.csv", "unreadable-line"),
        ("2026-02-01 for 12 months", "2026-02-30 for 12 months", "no-such-day"),
        ("| bay    clove  bare   cumin  |", "| bay clove clove bare cumin |", "ragged-rows"),
        ("| bay    clove  bare   cumin  |", "| bay || clove bare cumin |", "unreadable-line"),
        ("put out     2026-03-12", "put out     2025-03-12", "put-out-before-apply"),
        ("35 % by volume", "35 % by mass", "mix-unclear"),
        ("twice, fresh cloth,  wait 5 min", "twice, fresh cloth,  5 min", "time-of-what"),
        ("round gloss-20 5 times", "round gloss-20 0 times", "value-out-of-range"),
        ("measure gloss-20 in GU", "measure gloss 20 in GU", "unreadable-line"),
        ("month 3     within 3 days", "month3      within 3 days", "round-unplaced"),
        ("gloss-20 at month 3", "gloss-20 at fresh", "decides-before-change"),
        ("gloss-20 at month 3", "gloss-20 at baseline", "decides-before-change"),
        ("begins      2026-03-02", "begins      02.03.26", "day-or-month-first"),
        ("with iron-off  for 5 min,  rinse", "with iron-off  for 5 min,  rinze", "unreadable-line"),
        ("    month 3     within", "rounds\n    month 3     within", "block-twice"),
        ("map  sections 166 x 116 mm", "map  section 166 x 116 mm", "unreadable-line"),
    ];
    for (from, to, expected) in cases {
        assert!(FRAME.contains(from), "{from}");
        assert_eq!(codes(&FRAME.replacen(from, to, 1), HEAD, &rows()), [expected], "{to}");
    }
}

#[test]
fn a_mix_that_is_asked_about_in_the_supply_is_not_missing_in_its_steps() {
    let study = FRAME
        .replace("mix         1 part to 200 water", "mix         1:200")
        .replace("with soap,  1 part to 200 water", "with soap");
    assert_eq!(codes(&study, HEAD, &rows()), ["mix-two-ways"]);
}

#[test]
fn a_product_that_is_defined_three_times_is_one_finding() {
    let study = format!("{FRAME}product bay \"Bay\"\nproducts, a wax\n    | name |\n    | bay  |\n");
    assert_eq!(codes(&study, HEAD, &rows()), ["duplicate-name"]);
}

#[test]
fn a_name_that_is_wrong_in_several_places_is_one_finding() {
    let study = FRAME.replace("| clove  bay    cumin  bare   |", "| sage   bay    sage   sage   |");
    assert_eq!(codes(&study, HEAD, &rows()), ["undefined-name"]);
}

#[test]
fn a_place_too_many_without_a_corner_leaves_the_other_rows_where_they_are() {
    let study = FRAME
        .replace("  from left 44 mm, top 44 mm", "")
        .replace("| bay    clove  bare   cumin  |", "| bay clove bare cumin cumin |");
    assert_eq!(codes(&study, HEAD, &rows()), ["ragged-rows"]);
}

#[test]
fn a_slip_in_a_row_of_readings() {
    let cases = [
        ("90.0", "9O.0", "not-a-number"),
        ("90.0", "-90", "value-out-of-range"),
        (",A4,", ",A9,", "unknown-section"),
        (",A4,", ",A3,", "reading-number-twice"),
        ("baseline", "basline", "unknown-round"),
        ("gloss-20", "gloss-60", "unknown-measure"),
        ("90.1", "90,1", "row-too-long"),
        (",gloss-20,GU,90.1,90.2,90.0,90.3,90.2", "", "row-too-short"),
        (",GU,", ",mm,", "wrong-unit"),
        ("2026-03-03", "03/04/2026", "date-two-ways"),
        ("A4", "\"A4", "unclosed-quote"),
    ];
    for (from, to, expected) in cases {
        let mut rows = rows();
        assert!(rows[3].contains(from), "{from}");
        rows[3] = rows[3].replacen(from, to, 1);
        assert_eq!(codes(FRAME, HEAD, &rows), [expected], "{to}");
    }
}

#[test]
fn a_row_that_is_lost_besides_a_slip_is_still_told() {
    let mut rows = rows();
    rows[3] = rows[3].replacen(",A4,", ",A9,", 1);
    rows.remove(7);
    assert_eq!(codes(FRAME, HEAD, &rows), ["cell-missing", "unknown-section"]);
}

#[test]
fn rows_that_were_typed_twice_are_told_once_a_round() {
    let mut one = rows();
    one.insert(4, one[3].clone());
    assert_eq!(codes(FRAME, HEAD, &one), ["reading-number-twice"]);
    let twice = [rows(), rows()].concat();
    assert_eq!(codes(FRAME, HEAD, &twice), ["reading-number-twice"; 2]);
}

#[test]
fn a_slip_in_a_value_or_a_year_is_told_once() {
    let mut far = rows();
    far[15] = far[15].replacen("90.0", "900", 1);
    assert_eq!(codes(FRAME, HEAD, &far), ["reading-far-off"]);
    let mut year = rows();
    year[15] = year[15].replacen("2026-03-11", "2025-03-11", 1);
    assert_eq!(codes(FRAME, HEAD, &year), ["read-before-apply"]);
}

#[test]
fn a_certificate_that_had_run_out_when_rounds_were_read_is_told_of_the_readings() {
    let study = FRAME.replace("certified   2026-02-01", "certified   2025-02-01");
    let found = codes(&study, HEAD, &rows());
    // The round that is to come is asked of the plan, the two that were read are not.
    assert_eq!(found, ["certificate-lapses", "gauge-out-of-certificate"]);
    let renewed = "certified   2025-02-01 for 12 months\n    certified   2026-04-20";
    let study = FRAME.replace("certified   2026-02-01", renewed);
    assert_eq!(codes(&study, HEAD, &rows()), ["gauge-out-of-certificate"]);
}

#[test]
fn a_line_of_the_rounds_that_is_lost_is_one_finding() {
    let study = FRAME.replace("    every round gloss-20 5 times\n", "");
    assert_eq!(codes(&study, HEAD, &rows()), ["deciding-round-missing"]);
    let undecided = study.replace("    decide by   gloss-20 at month 3\n", "");
    assert_eq!(codes(&undecided, HEAD, &rows()), ["measure-not-read"]);
}

#[test]
fn a_step_that_rounds_count_from_is_asked_for_once() {
    let wipe = "    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min\n";
    let own = |study: &str| -> Vec<&str> {
        let missing = ["undefined-name", "no-wipe", "no-prep"];
        codes(study, HEAD, &rows()).into_iter().filter(|code| missing.contains(code)).collect()
    };
    assert_eq!(own(&FRAME.replace(wipe, "")), ["undefined-name"]);
    let (before, rest) = FRAME.split_once("prep\n").unwrap();
    let (_, after) = rest.split_once("map  ").unwrap();
    let bare = format!("{before}map  {after}");
    assert_eq!(own(&bare), ["undefined-name"]);
    assert_eq!(own(&bare.replace("after wipe", "before apply")), ["no-prep"]);
}

#[test]
fn a_misspelt_head_beside_its_block_is_one_finding() {
    for (word, slip) in [("exposure", "exposre"), ("apply", "aply")] {
        let block = FRAME.find(&format!("\n{word}")).unwrap() + 1;
        let end = FRAME[block..].find('\n').unwrap() + block;
        let second = format!("{}\n{}", &FRAME[block..end].replace(word, slip), &FRAME[block..]);
        let study = format!("{}{second}", &FRAME[..block]);
        assert_eq!(codes(&study, HEAD, &rows()), ["unknown-word"], "{slip}");
    }
}

#[test]
fn a_layout_with_too_few_sections_is_one_finding() {
    let (before, rest) = FRAME.split_once("    | bay").unwrap();
    let (_, after) = rest.split_once("apply\n").unwrap();
    let layout = |rows: &str| format!("{before}{rows}apply\n{after}");
    let none = layout("    | bay bare clove cumin |\n");
    let few = layout("    | bay bare clove cumin |\n    | bare . . bare |\n");
    for (study, expected) in [(none, "compares-sections-not-products"), (few, "spread-from-too-few")] {
        let found = codes(&study, "", &[]);
        let own = ["few-bare-sections", "compares-sections-not-products", "spread-from-too-few"];
        let own: Vec<_> = found.into_iter().filter(|code| own.contains(code)).collect();
        assert_eq!(own, [expected]);
    }
}

#[test]
fn decimal_commas_in_quotes_are_one_finding_a_file() {
    let quoted = |row: &String| {
        let (keys, values) = row.trim_end().split_once(",GU,").unwrap();
        let values: Vec<String> =
            values.split(',').map(|value| format!("\"{}\"", value.replace('.', ","))).collect();
        format!("{keys},GU,{}\n", values.join(","))
    };
    let rows: Vec<String> = rows().iter().map(quoted).collect();
    assert_eq!(codes(FRAME, HEAD, &rows), ["decimal-comma"]);
    let piece = format!("whole\n{FRAME}--- date 2026-05-01\n--- readings.csv\n{HEAD}{}", rows.concat());
    assert!(findings(&piece).1[0].message.ends_with("119 places more like it"));
}

#[test]
fn a_reading_that_was_not_taken_is_not_asked_for_and_a_blank_is() {
    for (typed, expected) in [("n/a", None), ("-", None), ("", Some("fewer-readings-than-planned"))] {
        let mut rows = rows();
        rows[3] = rows[3].replacen("90.0", typed, 1);
        assert_eq!(codes(FRAME, HEAD, &rows), expected.into_iter().collect::<Vec<_>>(), "{typed}");
    }
}

#[test]
fn a_round_that_is_misspelt_in_all_its_rows_is_not_missed() {
    let rows: Vec<String> = rows().iter().map(|row| row.replace("fresh", "fresch")).collect();
    assert_eq!(codes(FRAME, HEAD, &rows), ["unknown-round"]);
}

#[test]
fn a_header_that_cannot_be_read_is_all_that_is_said_of_its_file() {
    assert_eq!(codes(FRAME, &HEAD.replace("section", "sektion"), &rows()), ["column-missing"]);
    assert_eq!(codes(FRAME, "", &rows()), ["header-not-known"]);
}

#[test]
fn a_reading_whose_statement_is_broken_is_not_far_off_as_well() {
    let study = FRAME.replace(
        "readings \"readings.csv\"\n",
        "readings \"readings.csv\"\n    leave out gloss-20 of A4 at baseline, reading 3\n",
    );
    let mut rows = rows();
    rows[3] = rows[3].replace("90.0", "70.0");
    assert_eq!(codes(&study, HEAD, &rows), ["left-out-without-reason"]);
}

#[test]
fn a_study_without_apply_is_not_asked_for_its_climate() {
    let (before, rest) = FRAME.split_once("apply\n").unwrap();
    let (_, after) = rest.split_once("rounds\n").unwrap();
    let rows: Vec<String> = rows().iter().map(|row| row.replace("2026-03-03", "2026-03-02")).collect();
    assert!(codes(&format!("{before}rounds\n{after}"), HEAD, &rows).is_empty());
}

#[test]
fn a_round_that_changes_count_from_later_may_decide_by_the_fresh_reading() {
    let study = FRAME.replace("gloss-20 at month 3", "gloss-20 at fresh").replace(
        "    alike       within 2 GU\n",
        "    alike       within 2 GU\n    change      from baseline\n",
    );
    assert!(codes(&study, HEAD, &rows()).is_empty());
}

#[test]
fn a_blank_of_another_kind_before_a_step_is_a_blank() {
    let study = FRAME.replace("\n    dry\n", "\n\u{a0}\u{a0}dry\n");
    assert!(codes(&study, HEAD, &rows()).is_empty());
}

#[test]
fn a_file_without_rounds_is_told_so_once() {
    for text in ["", "study \"Three sealers\"\n"] {
        let (_, findings) = findings(&format!("whole\n{text}"));
        let about_rounds = findings.iter().filter(|finding| finding.message.contains("rounds"));
        assert_eq!(about_rounds.count(), 1, "{findings:?}");
    }
}
