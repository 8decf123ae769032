//! Record files: each row says what a `done` line says, dates the rounds as one does, or is told with its line.

use super::{codes, findings, found};
use tapeline::checks::{Example, example};
use tapeline::diag::Severity;
use tapeline::pipeline::{self, Day, Outcome};
use tapeline::study::{Done, DoneWhat, Verb};

const HEADER: &str =
    "step,what,section,before round,date,time,off at,used ml,air degC,humidity %,surface degC,initials,note";

fn outcome_of(piece: &str, day: fn(jiff::civil::Date) -> Day) -> Outcome {
    let Example { study, files, date } = example(piece);
    pipeline::check("example.study", &study, &files, day(date.parse().unwrap()))
}

fn outcome(piece: &str) -> Outcome {
    outcome_of(piece, Day::Today)
}

fn of_rows(rows: &str) -> String {
    format!("record \"log.csv\"\n--- date 2026-03-05\n--- log.csv\n{HEADER}\n{rows}\n")
}

/// What both say, without the places where they say it.
fn said(done: &Done) -> String {
    let what = match &done.what {
        DoneWhat::Coat(number, product) => format!("coat {number} of {}", product.value.index()),
        DoneWhat::Prep(verb) => verb.word().to_owned(),
    };
    let Done { date, time, until, ahead, sections, used, at, humidity, surface, by, because, .. } = done;
    format!(
        "{what} {} {time:?} {until:?} {ahead:?} {sections:?} {used:?} {at:?} {humidity:?} {surface:?} {by:?} {because:?}",
        date.value
    )
}

#[test]
fn a_row_says_what_a_line_says() {
    let rows = of_rows(
        "1,wash,,,2026-03-02,09:10,09:40,,,,,K. M.,\n,coat 1 of bay,A1,,2026-03-03,08:35,,0.7,19,51,18,K. M.,\n\
         ,coat 1 of Clove seal,,,2026-03-03,11:30,,,,,,,\"second bottle, same batch\"\n,dry,,month 3,2026-06-01,,,,,,,,",
    );
    let lines = "done 2026-03-02 09:10 to 09:40  wash  by \"K. M.\"\n\
        done 2026-03-03 08:35  coat 1 of bay  on A1  used 0.7 ml  at 19 degC, 51 % humidity  surface 18 degC  by \"K. M.\"\n\
        done 2026-03-03 11:30  coat 1 of clove  because \"second bottle, same batch\"\n\
        done 2026-06-01  dry  before month 3\n";
    let of = |piece: &str| outcome(piece).study.done.iter().map(said).collect::<Vec<String>>();
    assert_eq!(of(&rows), of(lines));
    assert_eq!(of(&rows).len(), 4);
}

#[test]
fn a_row_parted_by_another_sign_does_not_vanish() {
    for (rows, told) in [
        ("step;what;date;time\n1,wash,2026-03-02,09:10", true),
        ("step,what,date,time\n1;wash;2026-03-02;09:10", true),
        ("step,what,date,time\n1\twash\t2026-03-02\t09:10", true),
        ("step,what,date,time\n1,wash,,", false),
        ("step;what;date;time\n1;wash, twice;;", false),
    ] {
        let piece = format!("record \"log.csv\"\n--- date 2026-03-05\n--- log.csv\n{rows}\n");
        let found = codes(&piece).contains(&"record-row-incomplete");
        assert_eq!(found, told, "{rows}");
    }
}

#[test]
fn spreadsheets_of_other_habits_say_the_same() {
    let plain = of_rows("1,wash,,,2026-03-02,09:10,09:40,0.7,19.5,51,18,K. M.,");
    let other = "record \"log.csv\"\n    column \"Luft\" is air in degC\n--- date 2026-03-05\n--- log.csv\n\
        Nr;What;Date;Start;End;Used;Luft;RH;Surface (°C);Who\n1;Wash with soap;2026/03/02;9.10;9:40 am;0,7 ml;19,5;51;18;K. M.\n";
    let of = |piece: &str| outcome(piece).study.done.iter().map(said).collect::<Vec<String>>();
    assert_eq!(of(&plain), of(other));
    assert!(!codes(other).iter().any(|code| code.starts_with("record")), "{:?}", codes(other));
}

#[test]
fn rounds_count_from_the_coat_that_is_in_the_file() {
    let fresh = |piece: &str| {
        let study = outcome(piece).study;
        study.round(study.round_named("fresh").unwrap()).date().unwrap().to_string()
    };
    let planned = fresh("");
    let row = fresh(&of_rows(",coat 1 of cumin,,,2026-03-05,09:00,,,,,,,"));
    assert_eq!(row, fresh("done 2026-03-05 09:00  coat 1 of cumin\n--- date 2026-03-05\n"));
    assert_ne!(row, planned);
    // A wash before a later round is no step of the preparation, so `after` that step does not move.
    let rounds = "rounds\n    baseline after wash  gloss-20 5 times\n    fresh 8 days after apply  gloss-20 5 times\n    month 3  gloss-20 5 times\n";
    let baseline = |piece: String| {
        let study = outcome(&piece).study;
        study.round(study.round_named("baseline").unwrap()).date().unwrap().to_string()
    };
    let prepared = "1,wash,,,2026-03-02,09:10,,,,,,,";
    let both = format!("{prepared}\n,wash,,month 3,2026-06-03,09:10,,,,,,,");
    assert_eq!(
        baseline(format!("{rounds}{}", of_rows(&both))),
        baseline(format!("{rounds}{}", of_rows(prepared)))
    );
}

#[test]
fn a_row_without_anything_of_the_day_waits() {
    let piece = of_rows("1,wash,,,,,,,,,,,\n,coat 1 of bay,A1,,-,,,,,,,,\n,,,,,,,,,,,,");
    let outcome = outcome(&piece);
    assert!(outcome.study.done.is_empty());
    assert!(
        !outcome.findings.iter().any(|finding| finding.code.starts_with("record")),
        "{:?}",
        outcome.findings
    );
}

#[test]
fn the_number_of_a_step_places_its_record() {
    // The first of two washes has no record, and the second has.
    let prep = "prep\n    wash with soap,  1 part to 200 water,  rinse\n    clay with slick,  rinse\n    wash with soap,  1 part to 200 water,  rinse\n    dry\n    label\n";
    let study = outcome(&format!("{prep}{}", of_rows("3,wash,,,2026-03-02,10:10,,,,,,,"))).study;
    let records: Vec<bool> = study.recorded_steps().iter().map(|records| !records.is_empty()).collect();
    assert_eq!(records, [false, false, true, false, false]);
    // By its verb alone it would be the first of them.
    let study = outcome(&format!("{prep}{}", of_rows(",wash,,,2026-03-02,10:10,,,,,,,"))).study;
    assert!(study.recorded_steps()[0].iter().all(|done| done.what == DoneWhat::Prep(Verb::Wash)));
}

#[test]
fn every_fault_of_a_row_is_told_at_its_field() {
    let cases = [
        ("1,wash,,,,09:10,,,,,,,", "record-row-incomplete", "this row does not say on which day it was done"),
        (",,,,2026-03-02,09:10,,,,,,,", "record-row-incomplete", "this row does not say what was done"),
        (
            "2,wash,,,2026-03-02,,,,,,,,",
            "record-row-unclear",
            "step 2 of the preparation is `decontaminate`, not `wash`",
        ),
        ("40,wash,,,2026-03-02,,,,,,,,", "record-row-unclear", "the preparation has no step `40`"),
        (",wahs,,,2026-03-02,,,,,,,,", "record-row-unclear", "`wahs` is no step and no coat"),
        (",coat bay,,,2026-03-02,,,,,,,,", "record-row-unclear", "`coat bay` is no step and no coat"),
        (",coat 1 of bey,,,2026-03-03,,,,,,,,", "undefined-name", "no product is called `bey`"),
        (",coat 1 of bay,Z9,,2026-03-03,,,,,,,,", "undefined-name", "no section is called `Z9`"),
        (",wash,,month 7,2026-03-03,,,,,,,,", "undefined-name", "no round is called `month 7`"),
        (",wash,,,2026-02-30,,,,,,,,", "no-such-day", "there is no day `2026-02-30`"),
        (",wash,,,03/04/2026,,,,,,,,", "day-or-month-first", "`03/04/2026` can be read two ways"),
        (",wash,,,2026-03-02,25:10,,,,,,,", "no-such-time", "there is no time of day `25:10`"),
        (
            ",wash,,,2026-03-02,09:40,09:10,,,,,,",
            "ends-before-it-begins",
            "this ends at 09:10 and begins at 09:40",
        ),
        (
            ",coat 1 of bay,,,2026-03-03,,,0.7 mm,,,,,",
            "wrong-dimension",
            "`0.7 mm` is a length, but a volume belongs here",
        ),
        (",coat 1 of bay,,,2026-03-03,,,lots,,,,,", "not-a-number", "`lots` is not a number"),
        (
            ",coat 1 of bay,,,2026-03-03,,,,190,,,,",
            "value-out-of-range",
            "air of 190 degC is beyond what work is done in",
        ),
        (",coat 1 of bay,,,2026-03-03,,,,19,510,,,", "value-out-of-range", "there is no 510 % humidity"),
        (",wash,,,2026-03-02,,,,,,,,,,late", "row-too-long", "this row has 15 fields, the header 13"),
    ];
    for (row, code, message) in cases {
        let piece = of_rows(row);
        let (_, findings) = findings(&piece);
        let own: Vec<_> = findings
            .iter()
            .filter(|finding| finding.place.file.0 > 0 && finding.severity == Severity::Error)
            .collect();
        assert_eq!(own.len(), 1, "{row}: {findings:#?}");
        assert_eq!((own[0].code, own[0].message.as_str()), (code, message), "{row}");
        let text = format!("{HEADER}\n{row}\n");
        assert!(
            text.get(own[0].place.span.range()).is_some_and(|at| !at.is_empty()),
            "{row}: {:?}",
            own[0].place
        );
    }
}

#[test]
fn headings_that_cannot_be_read_are_told_once() {
    let of = |text: &str| {
        let piece = format!("record \"log.csv\"\n--- date 2026-03-02\n--- log.csv\n{text}\n");
        codes(&piece)
    };
    assert_eq!(of("wash,2026-03-02"), ["header-not-known"]);
    assert_eq!(of("what,time\nwash,09:10"), ["column-missing"]);
    assert_eq!(of("what,date,day\nwash,2026-03-02,2026-03-02"), ["column-twice"]);
    assert_eq!(of("what,date,wheather\nwash,2026-03-02,dry"), ["extra-columns"]);
    assert_eq!(of("what,date,air\nwash,2026-03-02,19"), ["record-row-unclear"]);
    assert_eq!(of(""), ["readings-empty"]);
}

#[test]
fn a_row_that_contradicts_a_line_is_told_with_what_differs() {
    let line = "done 2026-03-03 08:35  coat 1 of bay  at 19 degC, 51 % humidity  by \"K. M.\"\n";
    let told = |row: &str| {
        let piece = format!("{line}{}", of_rows(row));
        let (_, findings) = findings(&piece);
        findings.into_iter().find(|finding| finding.code == "done-told-twice")
    };
    let differs = told(",coat 1 of bay,,,2026-03-04,08:35,,,19,60,,K. M.,").unwrap();
    assert_eq!(
        differs.message,
        "coat 1 of `bay` is told twice, and differently: 2026-03-03 and 2026-03-04 and 51 % humidity and 60 % humidity"
    );
    assert_ne!(differs.place.file, differs.related[0].0.file);
    let same = told(",coat 1 of bay,,,2026-03-03,08:35,,,19,51,18,K. M.,").unwrap();
    assert_eq!(same.message, "coat 1 of `bay` is told twice, and both say the same");
    assert!(told(",coat 1 of clove,,,2026-03-03,08:35,,,19,51,18,K. M.,").is_none());
    // Sections apart are coats apart.
    let apart = format!(
        "done 2026-03-03 08:35  coat 1 of bay  on A1\n{}",
        of_rows(",coat 1 of bay,B2,,2026-03-03,09:35,,,,,,,")
    );
    assert!(!codes(&apart).contains(&"done-told-twice"));
}

#[test]
fn rows_of_later_days_are_passed_over_with_what_is_wrong_in_them() {
    let piece = of_rows("1,wash,,,2026-03-02,09:10,,,,,,,\n,coat 1 of bey,,,2026-03-08,25:00,,lots,,,,,");
    let outcome = outcome_of(&piece, Day::AsOf);
    assert_eq!(outcome.study.done.len(), 1);
    assert_eq!(outcome.passed_over().1, 1);
    assert!(outcome.findings.iter().all(|finding| finding.place.file.0 == 0), "{:#?}", outcome.findings);
}

#[test]
fn checks_of_done_lines_speak_of_rows_and_point_at_them() {
    let piece = of_rows(",coat 1 of bay,A1,,2026-03-03,10:20,,,26,52,,,");
    let finding = found(&piece, "done-departs-from-plan");
    let text = format!("{HEADER}\n,coat 1 of bay,A1,,2026-03-03,10:20,,,26,52,,,");
    assert_eq!(finding.place.file.0, 1);
    assert!(text[finding.place.span.range()].starts_with(",coat 1 of bay"));
}

#[test]
fn damaged_files_give_findings_and_never_a_panic() {
    let text = of_rows(
        "1,wash,,,2026-03-02,09:10,09:40,0.7,19.5,51,18,K. M.,\n,coat 1 of bay,A1 A3,month 3,2026-03-03,8:35,,,,,,,",
    );
    let (head, body) = text.split_at(text.find(HEADER).unwrap());
    let mut state = 11_u64;
    for _ in 0..300 {
        let mut bytes = body.as_bytes().to_vec();
        for _ in 0..3 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let at = usize::try_from(state >> 33).unwrap() % bytes.len();
            bytes[at] = b",;\"\n\r -0A9\xc3"[usize::try_from(state >> 20).unwrap() % 11];
        }
        let Example { study, date, .. } = example(&head[..head.find("--- log").unwrap()]);
        let files = [("log.csv".to_owned(), bytes)];
        pipeline::check("example.study", &study, &files, Day::Today(date.parse().unwrap()));
    }
}

#[test]
fn days_with_points_are_read_and_days_with_slashes_are_one_finding() {
    let rows = |sign: &str| {
        let row = |day: u8, word: &str| format!("{day},{word},,,0{day}{sign}03{sign}2026,,,,,,,,\n");
        of_rows(&[row(2, "decontaminate"), row(4, "dry"), row(5, "polsih")].concat())
    };
    let pointed = outcome(&rows("."));
    let days: Vec<String> = pointed.study.done.iter().map(|done| done.date.value.to_string()).collect();
    assert_eq!(days, ["2026-03-02", "2026-03-04"]);
    let (_, slashed) = findings(&rows("/"));
    let told: Vec<&str> =
        slashed.iter().filter(|one| one.place.file.0 > 0).map(|one| one.message.as_str()).collect();
    // The other slip of the last row is told with it.
    assert_eq!(
        told,
        ["`02/03/2026` can be read two ways; 2 places more like it", "`polsih` is no step and no coat"]
    );
}

#[test]
fn a_german_study_takes_the_words_of_its_checklist() {
    let german = "study \"Three sealers\"\n    begins      2026-03-02\n    language    german\n    decide by   gloss-20 at month 3\n";
    let rows = "Schritt;Was;Abschnitt;vor Runde;Datum;Uhrzeit;abgenommen um;verbraucht ml;Luft degC;Feuchte %;Oberfläche degC;Kürzel;Bemerkung\n\
        1;Waschen mit soap;;;02.03.2026;9.10;9.25;;;;;K. M.;\n4;trocknen;;;02.03.2026;;;;;;;;\n\
        ;Schicht 1 von Bay seal;A1;;03.03.2026;8.35;;0,7;19;51;18;K. M.;zweite Flasche\n;Spülen;;Monat 3;03.06.2026;;;;;;;;\n";
    let piece = format!("{german}record \"log.csv\"\n--- date 2026-06-04\n--- log.csv\n{rows}");
    let study = outcome(&piece).study;
    let of = |done: &Done| (done.date.value.to_string(), done.what.clone(), done.ahead.is_some());
    let told: Vec<_> = study.done.iter().map(of).collect();
    assert_eq!(
        told.len(),
        4,
        "{:?}",
        outcome(&piece).findings.iter().map(|one| &one.message).collect::<Vec<_>>()
    );
    assert_eq!(told[0], ("2026-03-02".to_owned(), DoneWhat::Prep(Verb::Wash), false));
    assert_eq!(told[1], ("2026-03-02".to_owned(), DoneWhat::Prep(Verb::Dry), false));
    assert!(matches!(told[2].1, DoneWhat::Coat(1, _)) && study.done[2].used.is_some());
    assert!(told[3].2, "before a round");
    // The record that is printed is read again, and its rows wait for their days.
    let printed = tapeline::report::empty_record(&study);
    assert_eq!(printed.headings[..4], ["Schritt", "Was", "Abschnitt", "vor Runde"]);
    assert_eq!(printed.rows[0], ["1", "Waschen mit soap", "", ""]);
    let filled =
        printed.rows.iter().fold(String::new(), |text, row| text + &row.join(";") + ";02.03.2026;;;;;;;;\n");
    let piece = format!(
        "{german}record \"log.csv\"\n--- date 2026-03-05\n--- log.csv\n{}\n{filled}",
        printed.headings.join(";")
    );
    assert_eq!(outcome(&piece).study.done.len(), printed.rows.len());
}

#[test]
fn upkeep_is_recorded_by_both_doors_and_is_no_step_of_the_preparation() {
    let upkeep =
        "upkeep\n    every 3 weeks  wash with soap,  1 part to 200 water,  rinse  from 14 days after apply\n";
    let lines = format!("{upkeep}done 2026-05-12 09:00  wash  as upkeep\n--- date 2026-06-05\n");
    let rows = |row: &str| {
        format!("{upkeep}record \"log.csv\"\n--- date 2026-06-05\n--- log.csv\n{HEADER}\n{row}\n")
    };
    let [whole, short] =
        [",wash,,upkeep,2026-05-12,09:00,,,,,,,", ",upkeep,,,2026-05-12,09:00,,,,,,,"].map(rows);
    for piece in [lines, whole, short] {
        let outcome = outcome(&piece);
        let [done] = outcome.study.done.as_slice() else { panic!("{:?}", outcome.findings) };
        assert!(done.upkeep && done.what == DoneWhat::Prep(Verb::Wash), "{piece}");
        assert!(outcome.study.recorded_steps().iter().all(Vec::is_empty), "{piece}");
    }
    let two = format!("{upkeep}    every 6 weeks  rinse  from 14 days after apply\n");
    let two = rows(",upkeep,,,2026-05-12,09:00,,,,,,,").replace(upkeep, &two);
    assert!(found(&two, "record-row-unclear").message.contains("several steps of upkeep"));
}

const SLIPS: &str = "specimens slips\n    material clear acrylic\n    each 50 x 50 mm\n    2 for each product and 3 for bare\n\
    prep slips\n    rinse\n    brush\n    wipe with spirit 35 % by volume, fresh cloth, wait 5 min\n\
    prep\n    wash with soap,  1 part to 200 water,  rinse\n    dry\n    wipe with spirit 35 % by volume, fresh cloth, wait 5 min\n";

/// What is done to specimens is of their own preparation, by the name of the set or by that of one of them; a step that
/// nothing else has needs no name.
#[test]
fn steps_and_coats_of_specimens_are_recorded_by_both_doors() {
    let rows = format!(
        "{SLIPS}record \"log.csv\"\n--- date 2026-03-04\n--- log.csv\n{HEADER}\n3,wipe,slips,,2026-03-03,08:00,,,,,,,\n\
         2,brush,,,2026-03-03,07:30,,,,,,,\n,coat 1 of bay,slips,,2026-03-03,09:00,,,,,,,\n"
    );
    // The number 2 is a step of the panel where the row names no specimens.
    assert!(found(&rows, "record-row-unclear").message.contains("step 2 of the preparation is `dry`"));
    let rows = rows.replace("2,brush,,", ",brush,,");
    let lines = format!(
        "{SLIPS}done 2026-03-03 08:00  wipe  on slips\ndone 2026-03-03 07:30  brush\n\
         done 2026-03-03 09:00  coat 1 of bay  on slips\n--- date 2026-03-04\n"
    );
    for piece in [rows, lines] {
        let outcome = outcome(&piece);
        let study = &outcome.study;
        let told: Vec<_> = outcome.findings.iter().map(|one| one.code).collect();
        assert!(
            !told.contains(&"done-departs-from-plan") && !told.contains(&"record-row-unclear"),
            "{told:?}"
        );
        let set = study.done[0].set;
        let recorded: Vec<usize> = study.recorded(set).iter().map(Vec::len).collect();
        assert!(set.is_some() && recorded == [0, 1, 1], "{piece}: {recorded:?}");
        assert!(study.recorded_steps().iter().all(Vec::is_empty), "{piece}");
        let coat = &study.done[2];
        let on: Vec<&str> = coat.sections.iter().map(|&id| study.section(id).code.as_str()).collect();
        assert!(coat.set.is_none() && on == ["bay-1", "bay-2"], "{on:?}");
    }
}

/// The printed record has what is done to specimens, before rounds and between them, and what is filled in is read again.
#[test]
fn the_printed_record_has_specimens_care_and_upkeep() {
    let care =
        "upkeep\n    every 3 weeks  wash with soap,  1 part to 200 water,  rinse  from 14 days after apply\n";
    let piece = format!("{SLIPS}{care}record \"log.csv\"\n--- date 2026-03-01\n--- log.csv\n{HEADER}\n");
    let study = outcome(&piece).study;
    let printed = tapeline::report::empty_record(&study);
    let has = |row: [&str; 4]| printed.rows.iter().filter(|own| **own == row).count();
    assert_eq!(has(["3", "wipe", "slips", ""]), 1);
    assert_eq!(has(["", "coat 1 of bay", "", ""]), 1, "its slips among its sections");
    let days = study.upkeep_days(&study.upkeep[0]).len();
    assert!(days > 2 && has(["", "wash", "", "upkeep"]) == days, "{days} washes");
    for round in study.rounds.iter().filter(|round| round.is_cared_for()) {
        assert_eq!(
            has(["", "wash", "", &round.name.value]),
            usize::from(!study.before_each_round.is_empty())
        );
    }
    let filled =
        printed.rows.iter().fold(String::new(), |text, row| text + &row.join(",") + ",2026-03-02,,,,,,,,\n");
    let read = outcome(&format!("{piece}{filled}")).study;
    assert_eq!(read.done.len(), printed.rows.len());
    assert_eq!(read.done.iter().filter(|done| done.set.is_some()).count(), 3);
    let coats: Vec<&Done> = read.done.iter().filter(|done| matches!(done.what, DoneWhat::Coat(..))).collect();
    assert!(coats.iter().all(|done| read.reach_of(done, None).len() > 2));
}

#[test]
fn a_departure_with_its_reason_is_not_told_again() {
    let of = |rest: &str| codes(&format!("done 2026-03-04 10:20  coat 1 of bay  {rest}\n"));
    assert!(of("").contains(&"done-departs-from-plan"));
    assert!(!of("because \"rained on the third\"").contains(&"done-departs-from-plan"));
    let row = |note: &str| codes(&of_rows(&format!(",coat 1 of bay,,,2026-03-04,10:20,,,,,,,{note}")));
    assert!(row("").contains(&"done-departs-from-plan"));
    assert!(!row("rained on the third").contains(&"done-departs-from-plan"));
}

/// Headings of older checklists are read as those of now.
#[test]
fn headings_of_laying_on_and_taking_off_are_read_in_every_wording() {
    let of = |heads: &str| {
        let rows = format!(
            "record \"log.csv\"\n--- date 2026-03-05\n--- log.csv\nwhat,date,{heads}\nwash,2026-03-02,09:10,09:40\n"
        );
        outcome(&rows).study.done.iter().map(said).collect::<Vec<String>>()
    };
    let now = of("time,taken off at");
    assert!(now.len() == 1 && now[0].contains("09:10") && now[0].contains("09:40"), "{now:?}");
    for heads in ["time,off at", "on at,off at", "laid on at,wiped off at", "laid on at,taken off at"] {
        assert_eq!(of(heads), now, "{heads}");
    }
}
