//! Papers that tell the whole work: what lies on meanwhile, what waits for what, which line is of which section, site and day.

use super::{DAY, HEAD, MAP, TAIL, as_written, output, study, without_holds};
use jiff::civil::date;
use tapeline::pipeline::{Day, Outcome, check};

const MARKED: &str = include_str!("../../examples/marked-cladding/marked-cladding.study");
const DOOR: &str = include_str!("../../examples/coach-door/coach-door.study");
const SLATS: &str = include_str!("../../examples/bench-slats/bench-slats.study");

fn planned(text: &str) -> Outcome {
    check("lid.study", text, &[], Day::AsOf(DAY))
}

/// A file of the sheet of a round: 0 is the table, 1 the paper.
fn sheet(outcome: &Outcome, round: &str, which: usize) -> String {
    let rounds = outcome.sheets_asked(&[round.to_owned()]).unwrap();
    let files = outcome.edition().sheets(&rounds).unwrap();
    without_holds(std::str::from_utf8(&files[0][which].bytes).unwrap())
}

/// A date or the name of a measure that is parted at its hyphen is read wrong, or not found.
#[test]
fn papers_keep_dates_and_names_of_measures_on_one_line() {
    let outcome = planned(MARKED);
    let held = |word: &str| format!("<bdi class=\"held\">{word}</bdi>");
    for (page, words) in [
        ("checklist.html", ["2025-05-13", "gloss-60"]),
        ("run-sheet.html", ["2025-05-06", "2025-05-07"]),
        ("safety-cards.html", ["2024-02-12", "2024-03-04"]),
        ("labels.html", ["2025-05-06", "2025-05-06"]),
    ] {
        let page = as_written(&outcome, page);
        assert!(page.contains(".held { white-space: nowrap; }"), "{page}");
        for word in words {
            assert!(page.contains(&held(word)), "{word}: {page}");
        }
    }
}

#[test]
fn marks_that_lie_on_together_are_no_waits_one_after_the_other() {
    let page = output(&planned(MARKED), "checklist.html");
    let stays = "<dt>Stays on</dt><dd>24 h, until it is cleaned; as near to it as can be, and alike on every patch; mark with the other one meanwhile</dd>";
    assert_eq!(page.matches(stays).count(), 2, "{page}");
    assert!(!page.contains("<dt>Wait</dt><dd>24 h"), "{page}");
    assert_eq!(page.matches("on each patch when its mark has been on for its time").count(), 2, "{page}");
}

/// Foehn cures 7 days from 6 May and fresh is planned for 15 May; 24 h of marks and 2 h of drying are more than a day before 5 June.
#[test]
fn a_cycle_waits_for_the_cure_and_the_fresh_round_and_ends_before_what_destroys() {
    let outcome = planned(MARKED);
    let first = "Cycle 1 begins on 2025-05-15 at the earliest: every coat has cured by then, by the plan on 2025-05-13, and round fresh is read, planned for 2025-05-15.";
    let last = "The last cycle is read before round end, planned for 2025-06-05: that round destroys its places and waits for it. A cycle takes \
                26 h at least, so that none is begun after 2025-06-03.";
    let checklist = output(&outcome, "checklist.html");
    assert!(checklist.contains(first) && checklist.contains(last), "{checklist}");
    let one = sheet(&outcome, "cycle 1", 1);
    assert!(one.contains(first) && one.contains(last) && !one.contains("It has no day yet"), "{one}");
    let two = sheet(&outcome, "cycle 2", 1);
    assert!(two.contains("It begins when cycle 1 is read.") && two.contains(last), "{two}");
    let calendar = output(&outcome, "calendar.ics").replace("\r\n ", "");
    let at = calendar.find("SUMMARY:Cycle 1 may begin").expect("an entry");
    let entry = &calendar[calendar[..at].rfind("BEGIN:VEVENT").unwrap()..at];
    assert!(entry.contains("DTSTART;VALUE=DATE:20250515"), "{entry}");
}

/// Preparation begins on 20 May and dries for 3 days, so nothing is read on what is prepared before 23 May.
#[test]
fn the_baseline_is_read_on_what_has_been_prepared() {
    let text = [
        ("begins      2025-06-02", "begins      2025-05-20"),
        ("    dry\n", "    dry 3 days\n"),
        ("baseline    on 2025-06-02", "baseline    before apply"),
        ("wash with soap, rinse, dry\n", "wash with soap, rinse\n"),
    ];
    let text = text.iter().fold(study(MAP, ""), |text, (from, to)| text.replacen(from, to, 1));
    let outcome = planned(&text);
    let page = sheet(&outcome, "baseline", 1);
    assert!(page.contains("any day from 2025-05-23 to 2025-06-03"), "{page}");
    let after = "Not before the preparation is done to its last step";
    assert!(page.contains(after) && output(&outcome, "checklist.html").contains(after), "{page}");
    let calendar = output(&outcome, "calendar.ics").replace("\r\n ", "");
    assert!(calendar.contains("DTSTART;VALUE=DATE:20250523"), "{calendar}");
    let run = output(&outcome, "run-sheet.html");
    assert!(run.contains("The baseline is read (gloss-60)"), "{run}");
}

#[test]
fn the_baseline_comes_before_the_second_wipe() {
    let run = output(&planned(MARKED), "run-sheet.html");
    let (read, wiped) = (
        run.find("It is read before the wipe is done once more."),
        run.find("every section is wiped once more"),
    );
    assert!(read.zip(wiped).is_some_and(|(read, wiped)| read < wiped), "{run}");
}

#[test]
fn a_line_of_a_coat_says_which_sections_and_which_coat() {
    let page = output(&planned(MARKED), "checklist.html");
    let lines = "<span>A1, coat 1</span></span></th>";
    assert!(page.contains(lines) && page.contains("Each specimen has its line below the step"), "{page}");
    // More than six are told by what is written on a line.
    let more = MARKED.replacen("coats       2  after 1 to 3 h", "coats       4  after 1 to 3 h", 1);
    let page = output(&planned(&more), "checklist.html");
    assert!(page.contains("<th>specimens</th><th>coat</th>"), "{page}");
    assert!(page.contains("The lines below a step: one for all specimens"), "{page}");
}

#[test]
fn coats_of_several_days_have_a_climate_for_each() {
    let rows = |text: &str| output(&planned(text), "checklist.html").matches("class=\"day\"").count();
    assert_eq!((rows(SLATS), rows(MARKED)), (3, 0));
}

#[test]
fn each_site_has_a_head_and_each_page_of_a_table_says_what_it_is_of() {
    let page = sheet(&planned(SLATS), "month 3", 1);
    let cracks = &page[page.find("<h2>cracks").unwrap()..page.find("<h2>l-star").unwrap()];
    let heads = cracks.matches("<span class=\"for\">date</span>").count();
    assert_eq!((heads, cracks.matches("<h3>").count()), (2, 2), "{cracks}");
    let (roof, lake) =
        (cracks.find("cracks · month 3 · roof</th>"), cracks.find("cracks · month 3 · lake</th>"));
    assert!(roof < cracks.find(">lake A1<") && roof.is_some() && lake.is_some(), "{cracks}");
}

#[test]
fn the_preparation_of_a_rack_asks_which_specimen() {
    let outcome = planned(SLATS);
    let (table, page) = (sheet(&outcome, "prep 1", 0), sheet(&outcome, "prep 1", 1));
    assert_eq!(
        table,
        "date,time,round,section,measure,unit,by,1,2,3,4\n,,prep 1,panel,moisture,% moisture,,,,,\n"
    );
    assert!(page.contains("<th scope=\"row\">Specimen</th><td></td><td></td><td></td><td></td>"), "{page}");
    let checklist = output(&outcome, "checklist.html");
    let step = |page: &str| {
        let (_, moisture) = page.split_once("Read moisture").unwrap();
        moisture.split_once("</article>").unwrap().0.to_owned()
    };
    // Each of the thirty has a line for its value, and who says in words of his own where it is read is told nothing else.
    let moisture = step(&checklist);
    assert_eq!(moisture.matches("<span class=\"true\">").count(), 30, "{moisture}");
    assert!(
        moisture.contains("in pencil on its back") && !moisture.contains("the study names none"),
        "{moisture}"
    );
    let silent: Vec<&str> = SLATS.lines().filter(|line| !line.starts_with("    >")).collect();
    let silent = silent.join("\n") + "\n";
    let silent = step(&output(&planned(&silent), "checklist.html"));
    assert!(silent.contains("read each where it counts, and write down where"), "{silent}");
}

#[test]
fn a_tile_has_a_row_that_the_reader_takes_back() {
    let agree = "    two readings agree within 0.4 GU\n";
    let tiled = format!("{HEAD}{MAP}{TAIL}").replacen(agree, &format!("{agree}    tile 94.6 GU\n"), 1);
    let empty = sheet(&planned(&tiled), "fresh", 0);
    let row = ",,fresh,tile,gloss-60,GU,,,,\n";
    assert!(empty.ends_with(row) && empty.matches(",tile,").count() == 1, "{empty}");
    let filled = empty.replace(row, "2025-06-10,,fresh,tile,gloss-60,GU,me,94.5,94.6,94.6\n");
    let read = |csv: &str| {
        let files = [("readings.csv".to_owned(), csv.as_bytes().to_vec())];
        check("lid.study", &tiled, &files, Day::AsOf(date(2025, 6, 12))).readings
    };
    let (none, three) = (read(&empty), read(&filled));
    assert_eq!((none.len(), none.files[0].refused), (0, 0));
    assert_eq!((three.len(), three.files[0].refused), (3, 0));
    assert!(!sheet(&planned(&format!("{HEAD}{MAP}{TAIL}")), "fresh", 0).contains("tile"));
}

/// The record that is written beside a German checklist has German columns.
#[test]
fn the_record_has_the_names_of_the_lines() {
    let german = SLATS.replacen("    question", "    language german\n    question", 1);
    let page = output(&planned(&german), "checklist.html");
    assert!(page.contains("„aufgetragen um“ steht in „Uhrzeit“") && !page.contains("auf Englisch"), "{page}");
}

/// Two hours a section are 16 h for eight sections, so the last coat goes on on 4 June, and what counts from it counts from there.
#[test]
fn what_counts_from_the_last_coat_counts_from_the_day_on_which_hands_have_it_on() {
    let slow = study(MAP, "").replacen(
        "    on          2025-06-03\n",
        "    on          2025-06-03\n    pace        lay on 2 h, wipe off 1 min\n",
        1,
    );
    let calendar = output(&planned(&slow), "calendar.ics").replace("\r\n ", "");
    let coats: Vec<&str> =
        calendar.split("BEGIN:VEVENT").filter(|event| event.contains("SUMMARY:Application")).collect();
    assert!(coats.len() == 2 && coats[1].contains("DTSTART;VALUE=DATE:20250604"), "{coats:?}");
    assert!(sheet(&planned(&slow), "fresh", 1).contains("Planned for 2025-06-11"));
    assert!(sheet(&planned(&study(MAP, "")), "fresh", 1).contains("Planned for 2025-06-10"));
}

/// 14.4 ml, 12 ml and 19.2 ml of the cladding's products, and the racks of both examples have no tape.
#[test]
fn what_measures_each_amount_is_at_hand_and_nobody_looks_for_tape() {
    let outcome = planned(MARKED);
    let page = output(&outcome, "checklist.html");
    // Two coats of Bora Permanent take a syringe each.
    let four = "20 ml syringe, a fresh one for each product and coat <span class=\"for\">– for Bora Permanent, Sirocco Facade and Mistral Sacrificial</span>";
    assert!(
        page.contains("14.4 ml (20 ml syringe) for one coat on one specimen") && page.contains(four),
        "{page}"
    );
    let again = "Where a night has passed since step 3";
    assert!(page.contains(again) && !page.contains("inside the tape"), "{page}");
    assert!(!output(&outcome, "run-sheet.html").contains("to pull its tape"));
    let heavy = study(MAP, "").replacen("    cure        1 day\n", "    uses 2000 g per m2\n", 1);
    let page = output(&planned(&heavy), "checklist.html");
    assert!(
        page.contains("36 g (scale that reads 0.1 g) for one coat")
            && page.contains("A scale that reads 0.1 g"),
        "{page}"
    );
}

#[test]
fn the_carrier_is_bought_and_goes_on_as_often_as_what_it_carries() {
    let coats = study(MAP, "").replacen(
        "    cure        1 day\n",
        "    cure        1 day\n    coats 2 after 1 to 3 h\n",
        1,
    );
    let carried =
        coats.replacen("| rue    bare   bay    bare   |", "| rue    bare   bay    carrier-only |", 1);
    let outcome = planned(&carried);
    let run = output(&outcome, "run-sheet.html").replace('\u{a0}', " ");
    assert!(run.contains("lay on coat 1, wipe off") && run.contains("lay on coat 2, wipe off"), "{run}");
    let page = output(&outcome, "checklist.html");
    assert!(page.contains("<td>The carrier alone</td><td>for 1 section: the liquid"), "{page}");
    assert!(!output(&planned(&coats), "checklist.html").contains("The carrier alone"));
}

/// Where several products go on, nobody can tell whose carrier it is.
#[test]
fn the_carrier_is_told_by_its_product_where_only_one_goes_on() {
    let several = study(MAP, "").replacen(
        "| rue    bare   bay    bare   |",
        "| rue    bare   bay    carrier-only |",
        1,
    );
    let lone = several.lines().map(|line| {
        if line.trim_start().starts_with('|') {
            ["bay ", "thyme", "cumin"].iter().fold(line.to_owned(), |line, name| line.replace(name, "bare "))
        } else {
            line.to_owned()
        }
    });
    let lone = lone.collect::<Vec<String>>().join("\n");
    for (text, told) in [(several.as_str(), false), (&lone, true)] {
        let outcome = planned(text);
        for (page, least) in [("checklist.html", 3), ("run-sheet.html", 1)] {
            let page = output(&outcome, page).to_lowercase();
            let found = page.matches("the carrier of ").count();
            assert_eq!(found >= least, told, "{page}");
            assert!(told || (found == 0 && page.contains("the carrier alone")), "{page}");
        }
    }
}

/// Bare sections are prepared, taped and read as the others are; who finds them in no step thinks that a sheet is lost.
#[test]
fn what_stays_bare_is_named_and_its_tape_comes_off_too() {
    let outcome = planned(DOOR);
    let (checklist, run) = (output(&outcome, "checklist.html"), output(&outcome, "run-sheet.html"));
    let bare = "A2, B5, C1, C7, D3 and E6";
    for page in [&checklist, &run] {
        assert!(page.contains(&format!("Nothing goes on {bare}, on purpose")), "{page}");
    }
    assert!(checklist.contains(&format!("{bare}: with the last of the coated ones")), "{checklist}");
    assert!(run.contains("none: they are bare"), "{run}");
    let (_, pulled) = checklist.split_once("Check that no tape is left").unwrap();
    let (step, _) = pulled.split_once("</section>").unwrap_or((pulled, ""));
    assert!(["A1", "A2", "E6", "E7"].iter().all(|code| step.contains(&format!(">{code}<"))), "{step}");
}

/// The table has the coldest surface, which is the dew point and what is asked for above it.
#[test]
fn the_table_of_dew_points_is_not_read_as_the_dew_point() {
    let page = output(&planned(DOOR), "checklist.html");
    assert!(page.contains("from a meter, or what the table below says less 3"), "{page}");
}
