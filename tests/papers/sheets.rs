//! The empty sheet of a round: what stands in it, that the reader takes it filled in, and which round is due.

use super::{HEAD, MAP, TAIL, changes, readings};
use jiff::civil::{Date, date};
use tapeline::diag::Finding;
use tapeline::pipeline::{Day, Outcome, check};
use tapeline::text::FileId;

const ROUNDS: &str = "    every round gloss-60 3 times\n";

/// A study that reads two measures in a round of its own, with a section that ends before it.
fn with_film() -> String {
    let tail = TAIL
        .replace(ROUNDS, "    month 3     gloss-60 2 times,  film once\n    every round gloss-60 3 times\n");
    format!("{HEAD}{MAP}{tail}log 2025-07-01 B3 \"chipped\" ends the section\n")
}

fn looked_at(study: &str, csv: Option<&str>, day: Date) -> Outcome {
    let files: Vec<_> =
        csv.into_iter().map(|csv| ("readings.csv".to_owned(), csv.as_bytes().to_vec())).collect();
    check("lid.study", study, &files, Day::AsOf(day))
}

/// The sheets that words ask for, by name, as text.
fn sheets(outcome: &Outcome, words: &[&str]) -> Vec<(String, String)> {
    let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
    let rounds = outcome.sheets_asked(&words).unwrap();
    let sheets = outcome.edition().sheets(&rounds).unwrap();
    let text = |bytes: &[u8]| super::without_holds(std::str::from_utf8(bytes).unwrap());
    sheets.into_iter().flatten().map(|file| (file.name, text(&file.bytes))).collect()
}

fn names(outcome: &Outcome, words: &[&str]) -> Vec<String> {
    sheets(outcome, words)
        .into_iter()
        .map(|(name, _)| name)
        .filter(|name| name.strip_suffix(".csv").is_some())
        .collect()
}

#[test]
fn a_sheet_has_every_section_with_its_measure_and_unit_in_the_order_of_the_map() {
    let outcome = looked_at(&with_film(), None, date(2025, 6, 1));
    let csv = &sheets(&outcome, &["month 3"])[0];
    assert_eq!(csv.0, "sheet-month-3.csv");
    let lines: Vec<&str> = csv.1.lines().collect();
    assert_eq!(
        lines[..3],
        [
            "date,time,round,section,measure,unit,by,1,2",
            ",,month 3,A1,gloss-60,GU,,,",
            ",,month 3,A2,gloss-60,GU,,,"
        ]
    );
    // The gauge is set up once for each measure, so its sections stand together.
    let of = |measure: &str| -> Vec<&str> {
        lines
            .iter()
            .filter(|line| line.contains(measure))
            .map(|line| line.split(',').nth(3).unwrap())
            .collect()
    };
    let map = ["A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "C1", "C2", "C3", "C4"];
    assert_eq!((of("gloss-60"), of("film")), (map.to_vec(), map.to_vec()));
    let page = &sheets(&outcome, &["month 3"])[1];
    assert!(page.0 == "sheet-month-3.html" && page.1.contains("2025-09-03"), "{}", page.1);
    assert!(page.1.contains("1 reading on each section") && page.1.contains("Wash with soap"), "{}", page.1);
}

#[test]
fn a_section_that_ended_is_on_no_later_sheet() {
    let outcome = looked_at(&with_film(), None, date(2025, 7, 2));
    let has = |round: &str| sheets(&outcome, &[round])[0].1.contains(",B3,");
    assert!(has("fresh") && !has("month 3") && !has("month 6"));
}

#[test]
fn the_reader_takes_a_sheet_empty_and_filled_in() {
    let study = with_film();
    let plan = looked_at(&study, None, date(2026, 1, 10));
    for (round, day, count) in [
        ("baseline", "2025-06-02", 36),
        ("fresh", "2025-06-10", 36),
        ("month 3", "2025-09-03", 33),
        ("month 6", "2025-12-03", 33),
    ] {
        let sheet = &sheets(&plan, &[round])[0].1;
        let empty = looked_at(&study, Some(sheet), date(2026, 1, 10));
        assert!(empty.readings.is_empty() && empty.readings.files[0].refused == 0, "{round}");
        // Each field is filled in from the left as far as the plan goes; `film` is read once only.
        let fill = |line: &str| {
            let value = if line.contains("film") { ",1.5" } else { ",85.1" };
            let blanks = line.len() - line.trim_end_matches(',').len() - 1;
            let planned = if line.contains("film") { 1 } else { blanks };
            let row = line.trim_end_matches(',').replacen(",,", &format!("{day},,"), 1);
            format!("{row},me{}{}", value.repeat(planned), ",".repeat(blanks - planned))
        };
        let mut lines = sheet.lines();
        let filled: Vec<String> =
            lines.next().map(str::to_owned).into_iter().chain(lines.map(fill)).collect();
        let read = looked_at(&study, Some(&filled.join("\n")), date(2026, 1, 10));
        assert_eq!(read.readings.len(), count, "{round}: {filled:?}");
        let state = read.readings.files[0];
        assert_eq!((state.refused, state.waiting, state.sheet), (0, 0, true), "{round}");
        let in_the_file = read.findings.iter().filter(|one| one.place.file != FileId::STUDY);
        assert_eq!(in_the_file.collect::<Vec<_>>(), Vec::<&Finding>::new(), "{round}");
    }
}

#[test]
fn a_gauge_of_several_has_to_be_named() {
    let second = "gauge other\n    reads gloss-60\n    two readings agree within 0.4 GU\n    certified 2025-05-01 for 12 months\n";
    let outcome = looked_at(&format!("{HEAD}{second}{MAP}{TAIL}"), None, date(2025, 6, 1));
    let sheet = &sheets(&outcome, &["fresh"])[0].1;
    assert!(
        sheet.starts_with(
            "date,time,round,section,measure,unit,by,gauge,1,2,3\n,,fresh,A1,gloss-60,GU,,,,,\n"
        ),
        "{sheet}"
    );
}

#[test]
fn the_next_sheet_is_that_of_the_round_that_can_still_be_read() {
    let study = format!("{HEAD}{MAP}{TAIL}");
    let next = |rounds: usize, day| {
        let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), rounds);
        names(&looked_at(&study, (rounds > 0).then_some(&csv), day), &["next"])
    };
    assert_eq!(next(0, date(2025, 5, 1)), ["sheet-baseline.csv"]);
    assert_eq!(next(0, date(2025, 6, 2)), ["sheet-baseline.csv"]);
    // The baseline can never be read afterwards.
    assert_eq!(next(0, date(2025, 6, 3)), ["sheet-fresh.csv"]);
    assert_eq!(next(1, date(2025, 6, 2)), ["sheet-fresh.csv"]);
    assert_eq!(next(2, date(2025, 6, 10)), ["sheet-month-6.csv"]);
    assert_eq!(next(2, date(2025, 12, 10)), ["sheet-month-6.csv"]);
    assert_eq!(next(2, date(2025, 12, 11)), Vec::<String>::new());
    assert_eq!(next(3, date(2025, 12, 4)), Vec::<String>::new());
    // A round that a later one overtook is not read any more, though its window may be open.
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let late: Vec<&str> =
        csv.lines().filter(|line| !line.contains("fresh") && !line.contains("baseline")).collect();
    let study =
        study.replace("fresh       7 days after apply", "fresh       7 days after apply within 300 days");
    assert!(names(&looked_at(&study, Some(&late.join("\n")), date(2025, 12, 3)), &["next"]).is_empty());
}

#[test]
fn rounds_are_asked_for_by_name_in_any_spelling_or_all_at_once() {
    let outcome = looked_at(&format!("{HEAD}{MAP}{TAIL}"), None, date(2025, 5, 1));
    assert_eq!(names(&outcome, &["Month-6", "month 6"]), ["sheet-month-6.csv"]);
    let all = ["sheet-baseline.csv", "sheet-fresh.csv", "sheet-month-6.csv"];
    assert_eq!(names(&outcome, &["all", "next"]), all);
    assert!(names(&outcome, &["none"]).is_empty());
    let wrong = |word: &str| outcome.sheets_asked(&[word.to_owned()]).unwrap_err();
    assert_eq!(wrong("freshh"), "no round is called `freshh`; did you mean `fresh`?");
    assert_eq!(
        wrong("x"),
        "no round is called `x`; write `next`, `left`, `all`, `none` or one of baseline, fresh and month 6"
    );
    // A round of that name goes before the word.
    let named = format!("{HEAD}{MAP}{TAIL}")
        .replace("month 6 ", "all ")
        .replace("all     within", "all  on 2025-12-03  within");
    assert_eq!(names(&looked_at(&named, None, date(2025, 5, 1)), &["all"]), ["sheet-all.csv"]);
}

#[test]
fn names_that_would_be_one_file_get_numbers() {
    let tail = TAIL.replace(
        "    month 6     within 1 week\n",
        "    month 6     within 1 week\n    month-6     on 2026-01-05\n",
    );
    let outcome = looked_at(&format!("{HEAD}{MAP}{tail}"), None, date(2025, 5, 1));
    let names = names(&outcome, &["all"]);
    assert_eq!(names.len(), 4, "{:?}", outcome.findings);
    assert_eq!(names[2..], ["sheet-month-6.csv", "sheet-month-6-no-2.csv"]);
}

/// Whoever checks a gauge on its tile needs the value that a true one reads there.
#[test]
fn the_value_of_the_tile_stands_on_the_sheet() {
    let page = |study: &str| sheets(&looked_at(study, None, date(2025, 6, 1)), &["fresh"])[1].1.clone();
    let agree = "    two readings agree within 0.4 GU\n";
    let tiled = page(&with_film().replacen(agree, &format!("{agree}    tile 94.6 GU\n"), 1));
    assert!(
        tiled.contains("tile of 94.6 GU (off by more than 0.4 GU: set it anew), read")
            && !tiled.contains("gauge checked on"),
        "{tiled}"
    );
    let bare = page(&with_film());
    assert!(bare.contains("gauge checked on") && !bare.contains("tile of"), "{bare}");
}

const PREP_READ: &str = "measure film in um\n    neither is better\nprep\n    wash with soap, rinse\n    dry\n    read film at 3 places\n    \
    wait 2 h\n    read film at 3 places, twice\n";

/// A study that reads the film twice while it is prepared.
fn with_prep() -> String {
    let whole = format!("{HEAD}{MAP}{TAIL}");
    let at = whole.find("prep\n").unwrap();
    let end = at + whole[at + 1..].find("\nmap").map_or(0, |end| end + 2);
    let own = PREP_READ.strip_prefix("measure film in um\n    neither is better\n").unwrap();
    let whole = format!("{}{own}{}", &whole[..at], &whole[end..]);
    if whole.contains("measure film") {
        whole
    } else {
        format!("{whole}measure film in um\n    neither is better\n")
    }
}

#[test]
fn a_reading_of_the_preparation_has_a_sheet_that_the_reader_takes() {
    let study = with_prep();
    let plan = looked_at(&study, None, date(2025, 5, 20));
    assert_eq!(names(&plan, &["next"]), ["sheet-prep-1.csv", "sheet-prep-2.csv", "sheet-baseline.csv"]);
    assert_eq!(names(&plan, &["prep-2", "Prep 2"]), ["sheet-prep-2.csv"]);
    assert_eq!(
        plan.sheets_asked(&["prep 3".to_owned()]).unwrap_err(),
        "the preparation has 2 `read` steps, so that `prep 3` has no sheet"
    );
    let first = &sheets(&plan, &["prep 1"])[0].1;
    assert_eq!(first, "date,time,round,section,measure,unit,by,1,2,3\n,,prep 1,panel,film,um,,,,\n");
    // Two readings of each place are two lines.
    assert_eq!(sheets(&plan, &["prep 2"])[0].1.lines().count(), 3);
    let filled =
        first.replace(",,prep 1,panel,film,um,,,,", "2025-05-28,,prep 1,panel,film,um,K. M.,118,121.5,117");
    let read = looked_at(&study, Some(&filled), date(2025, 6, 1));
    assert_eq!((read.readings.len(), read.readings.files[0].refused), (3, 0), "{:?}", read.findings);
    assert_eq!(
        names(&read, &["next"]),
        ["sheet-prep-2.csv", "sheet-baseline.csv"],
        "what is read is not printed again"
    );
    let report = super::output(&read, "report.md");
    let row = report.lines().find(|line| line.contains("| Read film |")).unwrap();
    assert!(row.ends_with("| 2025-05-28; 118 121.5 117 µm; 3 readings, mean 118.83 µm |"), "{row}");
    assert!(report.contains("1 of 5 steps recorded as done"), "{report}");
    assert_eq!(report.lines().filter(|line| line.contains("| Read film |")).count(), 2);
    let begun = format!("{filled}2025-06-01,,baseline,A1,gloss-60,GU,K. M.,85,85,85\n");
    let begun = looked_at(&study, Some(&begun), date(2025, 6, 1));
    assert_eq!(names(&begun, &["next"]), ["sheet-fresh.csv"], "what was missed cannot be read afterwards");
}
