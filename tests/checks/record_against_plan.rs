//! The record against the plan: hours against limits, the order of work, amounts, and what is not on record.

use super::{codes, findings, found, told};
use tapeline::diag::Severity;

const HEADER: &str = "step,what,section,date,time,off at,used ml,note";

/// The same records by both doors: `done` lines, and the rows of a file.
fn doors(lines: &str, rows: &str) -> [String; 2] {
    [lines.to_owned(), format!("record \"log.csv\"\n--- date 2026-03-09\n--- log.csv\n{HEADER}\n{rows}\n")]
}

#[test]
fn hours_are_held_against_the_dwell_by_both_doors() {
    for piece in
        doors("done 2026-03-02 09:10 to 11:40  decontaminate\n", "2,decontaminate,,2026-03-02,09:10,11:40,,")
    {
        let finding = found(&piece, "recorded-time-outside-limits");
        assert_eq!(finding.severity, Severity::Warning, "{piece}");
        assert_eq!(
            finding.message,
            "`decontaminate` was on for 2 h 30 min, which is longer than it may: `iron-off` allows 2 to 6 min"
        );
    }
}

#[test]
fn hours_rounded_to_the_minute_are_given_their_minute() {
    for (until, told) in [("09:11", false), ("09:10", true), ("09:17", false), ("09:18", true)] {
        let piece = format!("done 2026-03-02 09:10 to {until}  decontaminate\n");
        let found = codes(&piece).contains(&"recorded-time-outside-limits");
        // 2 to 6 min: one minute on paper may be two by the clock, and seven may be six.
        assert_eq!(found, told, "{until}");
    }
}

#[test]
fn a_coat_left_on_too_long_is_a_warning_on_one_section_and_advice_on_several() {
    let one = found("done 2026-03-03 09:10 to 11:00  coat 1 of bay  on A1\n", "recorded-time-outside-limits");
    assert_eq!(one.severity, Severity::Warning);
    assert!(
        one.message.ends_with("longer than it may: `bay` is taken off after 2 to 4 min"),
        "{}",
        one.message
    );
    let all = found("done 2026-03-03 09:10 to 11:00  coat 1 of bay\n", "recorded-time-outside-limits");
    assert_eq!(all.severity, Severity::Advice);
    let soon = found("done 2026-03-03 09:10 to 09:10  coat 1 of bay\n", "recorded-time-outside-limits");
    assert_eq!(soon.severity, Severity::Warning, "too short is too short for each of them");
}

#[test]
fn work_out_of_its_order_is_told_by_both_doors() {
    for piece in doors(
        "done 2026-03-02 08:00  wipe\ndone 2026-03-02 08:30  wash\n",
        "6,wipe,,2026-03-02,08:00,,,\n1,wash,,2026-03-02,08:30,,,",
    ) {
        let finding = found(&piece, "recorded-out-of-order");
        assert_eq!(
            finding.message,
            "`wash` is recorded on 2026-03-02 08:30, after `wipe` on 2026-03-02 08:00"
        );
    }
}

#[test]
fn a_polish_after_the_coats_is_told_whether_or_not_it_is_planned() {
    let coat = "done 2026-03-03 09:00  coat 1 of bay\n";
    let planned = format!("{coat}done 2026-03-06  polish\n");
    let again = format!("done 2026-03-02 10:00  polish\n{coat}done 2026-03-06  polish\n");
    for piece in [planned, again] {
        let finding = found(&piece, "recorded-out-of-order");
        let says = "`polish` is recorded on 2026-03-06, after coat 1 of `bay` on 2026-03-03 09:00";
        assert_eq!(finding.message, says, "{piece}");
    }
    let wash = format!("done 2026-03-02 08:00  wash\n{coat}done 2026-04-06  wash\n");
    assert!(!codes(&wash).contains(&"recorded-out-of-order"), "a wash after the coats may be upkeep");
}

#[test]
fn what_may_be_in_order_is_not_told() {
    for piece in [
        // Without its hour the wash may have been first.
        "done 2026-03-02  wash\ndone 2026-03-02 08:00  wipe\n",
        // B2 carries nothing that was coated yet.
        "done 2026-03-03 08:00  coat 1 of bay  on A1\ndone 2026-03-03 09:00  wipe  on B2\n",
    ] {
        let (study, all) = findings(piece);
        assert!(!all.iter().any(|one| one.code == "recorded-out-of-order"), "{}", told(&study, &all));
    }
}

#[test]
fn one_slip_among_many_records_is_one_finding() {
    let piece = "done 2026-03-02 08:00  wash\ndone 2026-03-02 09:00  decontaminate\ndone 2026-03-02 10:00  clay\n\
                 done 2026-03-01 11:00  polish\ndone 2026-03-02 12:00  wipe\ndone 2026-03-03 09:00  coat 1 of bay\n";
    let (study, all) = findings(piece);
    let own: Vec<_> = all.iter().filter(|one| one.code == "recorded-out-of-order").collect();
    assert_eq!(own.len(), 1, "{}", told(&study, &all));
    assert!(
        own[0].message.starts_with("`polish` is recorded on 2026-03-01 11:00, before "),
        "{}",
        own[0].message
    );
}

fn with_uses(lines: &str) -> String {
    format!(
        "product bay \"Bay seal\", a spray sealant\n    uses        20 ml per m2\n    coats       2  after 1 to 3 h\n    \
         sheet       \"bay-sheet.pdf\" dated 2025-10-01\n{lines}"
    )
}

#[test]
fn amounts_beyond_three_times_or_below_a_third_are_asked_about() {
    // A section is 166 x 116 mm, so that 20 ml per m2 are 0.385 ml, and 1.16 ml on all three.
    for (record, told) in [
        ("on A1  used 1.1 ml", false),
        ("on A1  used 1.2 ml", true),
        ("on A1  used 0.13 ml", false),
        ("on A1  used 0.12 ml", true),
        ("used 3.4 ml", false),
        ("used 3 l", true),
        ("used 14 g", false),
    ] {
        let piece = with_uses(&format!("done 2026-03-03 10:00  coat 1 of bay  {record}\n"));
        assert_eq!(codes(&piece).contains(&"used-unlike-plan"), told, "{record}");
    }
    let dense = with_uses("    density 1.0 g per ml\ndone 2026-03-03 10:00  coat 1 of bay  used 14 g\n");
    let finding = found(&dense, "used-unlike-plan");
    let says = "coat 1 of `bay` used 14 g, more than three times what the plan takes there, 1.16 ml";
    assert_eq!(finding.message, says);
}

#[test]
fn of_a_mix_the_stock_and_the_batch_count_as_well() {
    let soap = "supply soap, a shampoo\n    mix         1 part to 200 water\n    uses        1000 ml per m2\n    \
                sheet       \"soap-sheet.pdf\" dated 2025-10-01\n";
    // 880 x 580 mm take 510 ml of the mix, with 2.5 ml of soap in it.
    for (used, told) in
        [("2.5 ml", false), ("500 ml", false), ("1 l", false), ("0.5 ml", true), ("5 l", true)]
    {
        let piece = format!("{soap}done 2026-03-02 09:00  wash  used {used}\n");
        assert_eq!(codes(&piece).contains(&"used-unlike-plan"), told, "{used}");
    }
}

const READ: &str = "--- date 2026-03-13\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
    2026-03-12,fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n";

#[test]
fn what_is_missing_is_one_finding_once_a_round_was_read() {
    let lines = "done 2026-03-02 09:10  wash\ndone 2026-03-02 15:00  wipe\ndone 2026-03-03 09:00  coat 1 of bay  on A1\n\
                 done 2026-03-03 09:00  coat 1 of clove\n";
    let finding = found(&format!("{lines}{READ}"), "record-has-gaps");
    assert_eq!(
        finding.message,
        "`fresh` was read, and the record has nothing of steps 2 `decontaminate`, 3 `clay`, 4 `dry`, 5 `polish`, 7 `tape` \
         and 8 `label`; coat 1 of `cumin`; coat 1 of `bay` on B3 and C2"
    );
    assert!(!codes(lines).contains(&"record-has-gaps"), "the work may still go on");
    assert!(!codes(READ).contains(&"record-has-gaps"), "a study that keeps no record has no gaps");
}

#[test]
fn a_record_with_nothing_but_its_heading_is_told_and_a_broken_one_is_not() {
    let of = |rows: &str| format!("record \"log.csv\"\n{READ}--- log.csv\n{HEADER}\n{rows}");
    assert!(codes(&of("")).contains(&"record-has-gaps"));
    let broken = codes(&of("1,wsah,,2026-03-02,09:00,,,\n"));
    assert!(broken.contains(&"record-row-unclear") && !broken.contains(&"record-has-gaps"), "{broken:?}");
}

#[test]
fn a_step_recorded_on_some_sections_is_a_treatment() {
    let coat = "done 2026-03-03 09:00  coat 1 of bay\n";
    let some = format!("done 2026-03-02 09:40  decontaminate  on A1 and A2\n{coat}");
    let finding = found(&some, "recorded-on-some-sections");
    assert!(finding.message.starts_with("`decontaminate` is recorded on A1 and A2 and not on A3, A4, "));
    let rest = "done 2026-03-02 10:00  decontaminate  on A3, A4, B1, B2, B3, B4, C1, C2, C3 and C4\n";
    for piece in [format!("{some}{rest}"), some.replace(coat, "")] {
        let (study, all) = findings(&piece);
        assert!(!all.iter().any(|one| one.code == "recorded-on-some-sections"), "{}", told(&study, &all));
    }
}
