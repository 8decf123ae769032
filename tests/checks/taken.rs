//! Readings against the plan, and what was done against what was planned.

use super::{codes, found};

fn has(piece: &str, code: &str) -> bool {
    codes(piece).contains(&code)
}

const HEAD: &str = "date,round,section,measure,unit,1,2,3,4,5\n";

/// Readings that are looked at on a day.
fn csv(today: &str, rows: &[&str]) -> String {
    format!("--- date {today}\n--- readings.csv\n{HEAD}{}\n", rows.join("\n"))
}

/// A row for every section of the frame.
fn all(day: &str, round: &str) -> Vec<String> {
    let sections = ["A", "B", "C"].iter().flat_map(|row| (1..=4).map(move |at| format!("{row}{at}")));
    sections.map(|code| format!("{day},{round},{code},gloss-20,GU,90.1,90.2,90.0,90.3,90.2")).collect()
}

#[test]
fn a_study_that_runs_to_plan_has_nothing_to_say() {
    let rows: Vec<String> = [all("2026-03-03", "baseline"), all("2026-03-11", "fresh")].concat();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    assert!(codes(&csv("2026-05-01", &rows)).is_empty(), "{:?}", codes(&csv("2026-05-01", &rows)));
}

#[test]
fn missing_sections_are_one_finding_and_ended_ones_are_not_asked_for() {
    let rows = all("2026-03-11", "fresh");
    let rows: Vec<&str> = rows.iter().map(String::as_str).filter(|row| !row.contains("C3")).collect();
    let piece = csv("2026-05-01", &rows);
    let finding = found(&piece, "cell-missing");
    assert_eq!(finding.message, "`fresh` was read, and has no `gloss-20` on `C3`");
    assert_eq!(finding.about, ["fresh", "C3"]);
    let ended = format!("log 2026-03-06 C3 \"chipped\" ends the section\n{piece}");
    assert!(!has(&ended, "cell-missing"));
    let later = format!("log 2026-03-20 C3 \"chipped\" ends the section\n{piece}");
    assert!(has(&later, "cell-missing"));
}

#[test]
fn a_round_is_missed_when_its_time_is_over_or_a_later_one_was_read() {
    let baseline = "2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2";
    assert!(!has(&csv("2026-03-12", &[baseline]), "round-missed"));
    assert!(has(&csv("2026-03-13", &[baseline]), "round-missed"));
    let early = "2026-03-11,month 3,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2";
    let finding = found(&csv("2026-03-12", &[baseline, early]), "round-missed");
    assert!(finding.message.ends_with("the later `month 3` was read"), "{}", finding.message);
    let decides = found(&csv("2026-07-01", &[baseline]), "round-missed");
    assert!(decides.message.contains("`fresh`"));
}

#[test]
fn the_wrong_side_of_the_first_coat_is_told_once_and_by_the_record() {
    let row = ["2026-03-05,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2"];
    let planned = csv("2026-03-08", &row);
    assert!(has(&planned, "baseline-read-after-apply") && !has(&planned, "read-outside-window"));
    // The record moves the first coat to the sixth, so the reading was in time for it.
    let moved = format!("done 2026-03-06 10:00 coat 1 of bay\n{planned}");
    assert!(!has(&moved, "baseline-read-after-apply"));
}

#[test]
fn the_last_day_of_a_window_is_inside() {
    let row = |day: &str| [format!("{day},fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2")];
    let piece = |day: &str| csv("2026-04-01", &row(day).iter().map(String::as_str).collect::<Vec<_>>());
    assert!(!has(&piece("2026-03-12"), "read-outside-window"));
    let finding = found(&piece("2026-03-13"), "read-outside-window");
    assert!(finding.message.contains("planned for 2026-03-10 to 2026-03-12"), "{}", finding.message);
}

#[test]
fn a_reading_at_the_limit_of_the_gauge_is_not_far_off() {
    // 90.4 less 90.0 is a little more than 0.4 in the binary numbers of a computer.
    let pair = |high: &str| csv("2026-03-08", &[&format!("2026-03-03,baseline,A1,gloss-20,GU,90.0,{high}")]);
    assert!(!has(&pair("90.4"), "reading-far-off"));
    assert!(found(&pair("90.5"), "reading-far-off").message.contains("lie 0.50 GU apart"));
}

#[test]
fn a_reading_that_is_left_out_is_not_reported_and_not_missed() {
    let rows = ["2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,71.5,90.2"];
    let piece = csv("2026-03-08", &rows);
    let help = &found(&piece, "reading-far-off").help[0];
    assert!(help.contains("leave out gloss-20 of A1 at baseline, reading 4, 71.5 GU because"), "{help}");
    let out = format!(
        "readings \"readings.csv\"\n    leave out gloss-20 of A1 at baseline, reading 4, 71.5 GU because \"slipped\"\n{piece}"
    );
    assert!(!has(&out, "reading-far-off") && !has(&out, "fewer-readings-than-planned"));
}

#[test]
fn readings_that_hardly_spread_are_as_odd_as_those_that_spread_much() {
    let row = |code: &str| format!("2026-03-03,baseline,{code},gloss-20,GU,90.1,90.1,90.1,90.1,90.1");
    let rows: Vec<String> = ["A1", "A2", "A3"].map(row).to_vec();
    let mut rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    rows.push("2026-03-03,baseline,A4,gloss-20,GU,90.1,90.1,90.1,90.1,90.2");
    let finding = found(&csv("2026-03-08", &rows), "spread-unlike-gauge");
    assert!(finding.message.contains("far less"), "{}", finding.message);
}

#[test]
fn an_absent_file_is_an_error_only_after_its_first_round() {
    assert!(!has("--- date 2026-03-03\n", "readings-file-absent"));
    assert!(has("--- date 2026-03-04\n", "readings-file-absent"));
    assert!(!has("--- date 2026-07-01\n", "round-missed"));
}

#[test]
fn a_gauge_out_of_certificate_is_the_one_that_the_row_names() {
    let piece = |gauge: &str| {
        format!(
            "gauge spare\n    reads gloss-20\n    two readings agree within 0.4 GU\n    certified 2024-02-01 for 12 months\n\
             --- date 2026-03-08\n--- readings.csv\ndate,round,section,measure,unit,gauge,1,2,3,4,5\n\
             2026-03-03,baseline,A1,gloss-20,GU,{gauge},90.1,90.2,90.0,90.3,90.2\n"
        )
    };
    assert!(!has(&piece("glossy"), "gauge-out-of-certificate"));
    assert!(
        found(&piece("spare"), "gauge-out-of-certificate").message.starts_with("`spare` read `baseline`")
    );
}

#[test]
fn a_coat_on_another_day_in_warmer_air_is_one_departure() {
    let finding =
        found("done 2026-03-04 10:20 coat 2 of bay at 26 degC, 74 % humidity\n", "done-departs-from-plan");
    let message = &finding.message;
    assert!(message.contains("1 planned") && message.contains("at 26 degC"), "{message}");
    assert!(message.contains("at 74 % humidity, planned for 35 to 70 % humidity"), "{message}");
}

#[test]
fn a_coat_belongs_on_a_section_of_its_product() {
    let coat = |section: &str| format!("done 2026-03-03 10:20 coat 1 of bay on {section}\n");
    let code = "coat-on-wrong-section";
    for section in ["A1", "B3", "C2"] {
        assert!(!has(&coat(section), code), "{section}");
    }
    let bare = found(&coat("A3"), code);
    assert_eq!(bare.message, "coat 1 of `bay` is recorded on `A3`, which is bare");
    assert!(bare.help[0].starts_with("`bay` stands on A1, B3 and C2"), "{:?}", bare.help);
    assert!(found(&coat("A2"), code).message.ends_with("which carries `clove`"));
    assert!(!has("done 2026-03-03 10:20 coat 1 of bay\n", code));
}

#[test]
fn a_step_that_is_not_planned_is_a_departure() {
    let finding = found("done 2026-03-02 10:00 compound\n", "done-departs-from-plan");
    assert!(finding.message.contains("`compound`"), "{}", finding.message);
    assert!(!has("done 2026-03-02 10:00 polish\n", "done-departs-from-plan"));
}

#[test]
fn a_study_without_readings_is_reminded_when_its_first_round_is_over() {
    let study = include_str!("../../src/checks/frame.study").replace("readings \"readings.csv\"\n", "");
    let on = |day: &str| format!("whole\n{study}--- date {day}\n");
    assert!(!has(&on("2026-03-03"), "no-readings-block"));
    let finding = found(&on("2026-03-04"), "no-readings-block");
    assert!(finding.message.starts_with("`baseline` was to be read by 2026-03-03"), "{}", finding.message);
}

const LONG: &str = "date,round,section,measure,unit,value\n";

/// One reading a line for every section of the frame, with the values of one of them.
fn long(day: &str, round: &str, own: &str, values: &[&str]) -> String {
    let sections = ["A", "B", "C"].iter().flat_map(|row| (1..=4).map(move |at| format!("{row}{at}")));
    let lines = |code: String| {
        let usual = ["90.1", "90.2", "90.0", "90.3", "90.2"];
        let values = if code == own { values } else { &usual };
        let lines: Vec<String> =
            values.iter().map(|value| format!("{day},{round},{code},gloss-20,GU,{value}\n")).collect();
        lines.concat()
    };
    sections.map(lines).collect()
}

#[test]
fn a_value_that_is_blank_is_missing_once_the_round_is_over_and_one_that_was_not_taken_is_not() {
    let piece = |today: &str, values: &[&str]| {
        format!("--- date {today}\n--- readings.csv\n{LONG}{}", long("2026-03-11", "fresh", "B3", values))
    };
    for blank in [&[""][..], &["", "", "", "", ""]] {
        let finding = found(&piece("2026-05-01", blank), "cell-missing");
        assert_eq!(finding.message, "`fresh` was read, and has no `gloss-20` on `B3`");
        assert!(!has(&piece("2026-03-12", blank), "cell-missing"));
    }
    assert!(!has(&piece("2026-05-01", &["n/a"]), "cell-missing"));
    assert!(!has(&piece("2026-05-01", &["n/a", "", ""]), "cell-missing"));
    assert!(!has(&piece("2026-05-01", &["90.1", "", "90.0", "90.3", "90.2"]), "cell-missing"));
}

/// Rows of three rounds, in which every section of the frame has lost 2 GU at month 3.
fn three_rounds() -> Vec<String> {
    let late = all("2026-06-03", "month 3").into_iter().map(|row| row.replace(",90.", ",88."));
    [all("2026-03-03", "baseline"), all("2026-03-11", "fresh")].concat().into_iter().chain(late).collect()
}

/// The same with the five readings of some sections at some rounds.
fn with_slips(slips: &[(&str, &str, &str)]) -> String {
    let mut rows = three_rounds();
    for &(round, code, values) in slips {
        let row = rows.iter_mut().find(|row| row.contains(&format!(",{round},{code},"))).unwrap();
        *row = format!("{},{values}", row.rsplitn(6, ',').last().unwrap());
    }
    csv("2026-07-01", &rows.iter().map(String::as_str).collect::<Vec<_>>())
}

#[test]
fn a_section_whose_every_reading_is_a_slip_is_told() {
    assert!(codes(&with_slips(&[])).is_empty());
    for values in ["0,0,0,0,0", "8.84,8.88,8.83,8.81,8.8", "884,888,883,881,880"] {
        let piece = with_slips(&[("month 3", "B3", values)]);
        let finding = found(&piece, "section-far-off");
        assert_eq!(finding.about, ["B3", "month 3", "gloss-20"]);
        assert!(finding.message.contains("its other rounds have 90.16 GU"), "{}", finding.message);
        assert_eq!(codes(&piece).iter().filter(|code| **code == "section-far-off").count(), 1);
    }
    // Two of twelve, and at another round than the last.
    let piece = with_slips(&[("fresh", "A3", "9.01,9.02,9.03,9.01,9.02"), ("month 3", "B3", "0,0,0,0,0")]);
    assert_eq!(codes(&piece), ["section-far-off"; 2]);
}

#[test]
fn what_a_product_or_a_section_lost_for_good_is_no_slip() {
    let lost = "31.2,30.9,31.4,31.0,31.1";
    // Bay lies on A1, B3 and C2.
    let product = [("month 3", "A1", lost), ("month 3", "B3", lost), ("month 3", "C2", lost)];
    assert!(!has(&with_slips(&product), "section-far-off"));
    assert!(!has(&with_slips(&[("fresh", "B3", lost), ("month 3", "B3", lost)]), "section-far-off"));
    assert!(!has(&with_slips(&[("month 3", "B3", "82.2,82.9,82.4,82.0,82.1")]), "section-far-off"));
    // One reading that is off is told as that.
    let one = with_slips(&[("month 3", "B3", "88.1,88.2,8.8,88.3,88.2")]);
    assert!(has(&one, "reading-far-off") && !has(&one, "section-far-off"));
    let waived = "allow section far off for B3 because \"scraped by a ladder\"\n";
    assert!(!has(&format!("{waived}{}", with_slips(&[("month 3", "B3", lost)])), "section-far-off"));
}

/// A wrong figure in front leaves more than half of the number; twins and own rounds lie within 1 GU of each other.
#[test]
fn a_section_beyond_ten_times_what_sections_differ_by_is_told_at_any_level() {
    for (round, values) in [
        ("fresh", "68.9,68.9,68.8,68.9,68.9"),
        ("month 3", "61.2,60.9,61.4,61.0,61.1"),
        ("month 3", "110.1,110.2,110.1,110.0,110.1"),
    ] {
        let piece = with_slips(&[(round, "B3", values)]);
        assert_eq!(codes(&piece), ["section-far-off"], "{values}");
    }
}

/// Two slips of five hide each other from Grubbs' test: of these the farthest has a statistic of 1.13, below 1.715.
#[test]
fn readings_that_lie_apart_by_far_more_than_the_gauge_are_told_whatever_the_test_says() {
    let piece = with_slips(&[("month 3", "B3", "88.1,88.2,78.4,78.3,78.3")]);
    let finding = found(&piece, "reading-far-off");
    assert!(
        finding.message.starts_with(
            "readings of `gloss-20` on `B3` at `month 3` lie from 78.3 to 88.2 GU, 9.9 GU apart"
        ),
        "{}",
        finding.message
    );
    assert!(
        finding.help[0].starts_with("look on the sheet which of them were typed wrong"),
        "{:?}",
        finding.help
    );
}

#[test]
fn one_reading_below_the_gauge_beside_numbers_is_told_with_its_line() {
    let piece = with_slips(&[("month 3", "B3", "88.1,<70,88.4,88.3,88.3")]);
    let finding = found(&piece, "below-gauge-beside-numbers");
    assert!(
        finding.message.starts_with("`<70` of `gloss-20` on `B3` at `month 3` stands beside 88.1 to 88.4 GU"),
        "{}",
        finding.message
    );
    assert_eq!(finding.about, ["B3", "month 3", "gloss-20"]);
    // Near what the gauge can tell, numbers and less stand side by side as a matter of course.
    assert!(!has(&with_slips(&[("month 3", "B3", "88.1,<88,88.4,88.3,88.3")]), "below-gauge-beside-numbers"));
}

/// The product's own climate counts before that of `apply`, for the record and for the climate file alike.
#[test]
fn a_product_may_ask_for_a_climate_of_its_own() {
    const OWN: &str = "product bay \"Bay seal\", a spray sealant\n    cure 7 days\n    flash 2 to 4 min\n    \
                       air 5 to 12 degC, 30 to 90 % humidity\n    surface at least 1 degC above dew point\n";
    let cold = "done 2026-03-03 10:20 coat 1 of bay at 8 degC, 75 % humidity  surface 6 degC\n";
    let codes = ["done-departs-from-plan", "surface-near-dew-point", "coat-outside-climate"];
    let told = |piece: &str| codes.map(|code| has(piece, code));
    assert_eq!(told(cold), [true, true, false]);
    assert_eq!(told(&format!("{OWN}{cold}")), [false, false, false]);
    let by_file = "climate \"climate.csv\"\ndone 2026-03-03 10:20 coat 1 of bay\n--- climate.csv\n\
                   time,air degC,humidity %,surface degC\n2026-03-03 10:00,8,75,6\n2026-03-03 11:00,8,75,6\n";
    assert_eq!(told(by_file), [false, false, true]);
    assert_eq!(told(&format!("{OWN}{by_file}")), [false, false, false]);
    let message = found(by_file, "coat-outside-climate").message;
    // Air of 8 degC and 75 % has its dew point at 3.8 degC, 2.2 degC below the surface.
    for part in ["air of 8 degC", "a humidity of 75 %", "a surface 2.2 degC above the dew point"] {
        assert!(message.contains(part), "{message}");
    }
}

#[test]
fn each_of_two_people_has_the_planned_number_and_no_more() {
    let head = "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,by,1,2,3,4,5,6\n";
    let rows = |one: &str, other: &str| {
        format!(
            "{head}2026-03-03,baseline,A1,gloss-20,GU,{one}\n2026-03-03,baseline,A1,gloss-20,GU,{other}\n"
        )
    };
    let (five, six) = ("90.1,90.2,90.0,90.3,90.2,", "90.1,90.2,90.0,90.3,90.2,90.1");
    let more = |one: &str, other: &str| has(&rows(one, other), "more-readings-than-planned");
    assert!(!more(&format!("K. M.,{five}"), &format!("L. F.,{five}")), "five of each are five");
    assert!(more(&format!("K. M.,{five}"), &format!("L. F.,{six}")), "six of one are one too many");
    assert!(more(&format!("K. M.,{five}"), ",90.1,,,,,"), "whose the sixth is nobody knows");
    let told = found(&rows(&format!("K. M.,{five}"), &format!("L. F.,{six}")), "more-readings-than-planned");
    assert!(
        told.message.starts_with("`baseline` plans 5 readings of `gloss-20`, and up to 11"),
        "{}",
        told.message
    );
}

/// Of three readings one may lie 2.87 spreads from the other two, and a gauge whose two readings agree within 0.4 GU has a
/// spread of 0.4 / 2.8: 0.41 GU.
#[test]
fn one_of_three_readings_has_a_limit_of_its_own() {
    let three =
        |high: &str| csv("2026-03-08", &[&format!("2026-03-03,baseline,A1,gloss-20,GU,90.0,90.0,{high}")]);
    assert!(!has(&three("90.405"), "reading-far-off"));
    let message = found(&three("90.42"), "reading-far-off").message;
    assert!(message.contains("one of three readings of the gauge lies within 0.41 GU"), "{message}");
}

#[test]
fn many_readings_that_are_far_off_are_one_finding() {
    let rows = |n: usize| -> Vec<String> {
        let codes = ["A1", "A2", "A3", "A4", "B1", "B2", "B3"];
        let row = |code: &&str| format!("2026-03-03,baseline,{code},gloss-20,GU,90.1,90.2,90.0,71.5,90.2");
        codes[..n].iter().map(row).collect()
    };
    let piece = |n: usize| csv("2026-03-08", &rows(n).iter().map(String::as_str).collect::<Vec<_>>());
    let number = |n: usize| codes(&piece(n)).iter().filter(|code| **code == "reading-far-off").count();
    assert_eq!((number(5), number(6)), (5, 1));
    let finding = found(&piece(6), "reading-far-off");
    assert!(finding.message.contains("6 readings of `gloss-20` lie far from the others"), "{finding:?}");
    assert!(
        finding.message.contains("chance alone would find up to 0.30 among 6 sections and rounds"),
        "{finding:?}"
    );
    assert!(finding.help[0].contains("71.5 GU on `B2` at `baseline`"), "{finding:?}");
}

/// A point that slipped by one place or two is offered where the number then lies among the others.
#[test]
fn a_lost_point_is_asked_about() {
    let row = |value: &str| {
        csv("2026-03-08", &[&format!("2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,{value},90.2")])
    };
    let asked = |value: &str| found(&row(value), "reading-far-off").help[0].clone();
    assert!(
        asked("901").starts_with("is a point lost? 90.1 GU would lie among the others"),
        "{}",
        asked("901")
    );
    assert!(asked("9.02").starts_with("is a point lost? 90.2 GU"), "{}", asked("9.02"));
    assert!(asked("71.5").starts_with("keep it"), "{}", asked("71.5"));
}

#[test]
fn a_climate_file_of_these_months_or_none_yet_is_right() {
    let piece = |rows: &str, taken: &str| {
        let files = csv("2026-06-10", &[taken]);
        format!("climate \"yard.csv\"\n{files}--- yard.csv\ntime,air degC\n{rows}")
    };
    let fresh = "2026-03-11,fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2";
    let baseline = "2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2";
    assert!(!has(&piece("2026-03-01 09:00,11\n2026-03-03 10:00,12\n", fresh), "climate-elsewhen"));
    assert!(has(&piece("2026-01-01 09:00,11\n2026-01-01 10:00,12\n", fresh), "climate-elsewhen"));
    // Before a reading of a coat nothing of its weather is missed.
    assert!(!has(&piece("2026-01-01 09:00,11\n2026-01-01 10:00,12\n", baseline), "climate-elsewhen"));
    let empty = found(&piece("", fresh), "readings-empty");
    assert_eq!(empty.message, "this file has a header and no rows");
}

#[test]
fn a_reading_of_an_empty_place_is_told_so_and_put_on_no_other() {
    let map = "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    | bay    clove  bare   cumin  |\n    \
               | bare   cumin  .      clove  |\n    | clove  bay    cumin  bare   |\n";
    let row = |code: &str| {
        let rows =
            csv("2026-03-08", &[&format!("2026-03-03,baseline,{code},gloss-20,GU,90.1,90.2,90.0,90.3,90.2")]);
        found(&format!("{map}{rows}"), "unknown-section").help[0].clone()
    };
    assert!(row("B3").starts_with("`B3` is an empty place of the map"), "{}", row("B3"));
    assert!(row("B7").starts_with("the sections are A1,"), "{}", row("B7"));
}

/// A tile of 91.2 GU, of which two readings agree within 0.4: the median of the others is 91.2, and a mean may lie 4 from it.
#[test]
fn readings_of_a_tile_are_checked_as_those_of_sections_are() {
    const CODE: &str = "tile-reading-far-off";
    let piece = |tile: &str| {
        let gauge = "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    two readings agree \
                     within 0.4 GU\n    tile        91.2 GU\n    certified   2026-02-01 for 12 months\n";
        let section = "2026-03-11,fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2";
        format!("{gauge}{}", csv("2026-05-01", &[section, tile]))
    };
    let slip = found(&piece("2026-03-11,fresh,tile,gloss-20,GU,91.2,91.1,91.3,91.2,9.12"), CODE);
    let message = "reading 5 of `gloss-20` on the tile at `fresh`, 9.12 GU, lies 82.08 GU from the others";
    assert!(slip.message.starts_with(message), "{}", slip.message);
    assert!(
        slip.help[0].starts_with("is a point lost? 91.2 GU would lie where it should"),
        "{:?}",
        slip.help
    );
    let gross = found(&piece("2026-03-11,fresh,tile,gloss-20,GU,9.12,9.11,9.13,9.12,9.12"), CODE);
    assert_eq!(
        gross.message,
        "`gloss-20` on the tile at `fresh` is 9.12 GU on average, and the tile is declared as 91.2 GU"
    );
    let day = found(&piece("2026-03-10,fresh,tile,gloss-20,GU,91.2,91.1,91.3,91.2,91.2"), CODE);
    assert!(
        day.message.ends_with("on 2026-03-10 for `fresh`, and its sections from 2026-03-11 to 2026-03-11"),
        "{}",
        day.message
    );
    // A gauge may drift by a unit; that is what its tile is read for.
    assert!(!has(&piece("2026-03-11,fresh,tile,gloss-20,GU,92.2,92.1,92.3,92.2,92.2"), CODE));
}
