//! The schedule: what counts as early or late, and what stays quiet.

use super::{codes, found};
use tapeline::diag::Severity;

fn has(piece: &str, code: &str) -> bool {
    codes(piece).contains(&code)
}

/// A product that stands in for the one of the frame.
fn bay(lines: &str) -> String {
    format!(
        "product bay \"Bay seal\", a spray sealant\n    bought 20.00 EUR for 500 ml\n    sheet \"a.pdf\"\n{lines}"
    )
}

fn rounds(lines: &str) -> String {
    format!("rounds\n{lines}    every round gloss-20 5 times\n")
}

const USUAL: &str =
    "    baseline after wipe\n    fresh 8 days after apply within 1 day\n    month 3 within 3 days\n";

#[test]
fn cure_counts_from_the_last_coat() {
    // The second coat goes on two days later, on the fifth; a day that is fixed does not move with it.
    let fixed =
        rounds("    baseline after wipe\n    fresh on 2026-03-11 within 1 day\n    month 3 within 3 days\n");
    let piece = fixed.clone() + &bay("    coats 2 after 2 to 3 days\n    cure 8 days\n");
    let finding = found(&piece, "round-before-cure");
    assert!(finding.message.contains("`bay` (8 days, until 2026-03-13)"), "{}", finding.message);
    assert_eq!(finding.about, ["fresh", "bay"]);
    assert!(finding.help[0].contains("2026-03-13"));
    // The wait of a coat may stand in its own line, and a round after apply counts from the last coat.
    let own = bay("    coat 1 20 ml per m2\n    coat 2 20 ml per m2, after 2 to 3 days\n    cure 7 days\n");
    assert!(has(&(fixed + &own), "round-before-cure"));
    assert!(!has(&own, "round-before-cure"));
    assert!(!has(&bay("    coats 2 after 1 to 3 h\n    cure 7 days\n"), "round-before-cure"));
}

#[test]
fn a_waiver_for_one_product_cannot_hide_another_that_has_not_cured() {
    let piece = rounds("    baseline after wipe\n    fresh 3 days after apply\n    month 3 within 3 days\n");
    assert_eq!(found(&piece, "round-before-cure").about, ["fresh"]);
}

#[test]
fn the_day_on_which_a_film_has_cured_is_late_enough() {
    assert!(!has("exposure \"Test yard\"\n    put out 2026-03-10\n", "put-out-before-cure"));
    assert!(has("exposure \"Test yard\"\n    put out 2026-03-09\n", "put-out-before-cure"));
}

#[test]
fn a_month_is_the_same_day_of_the_next_month() {
    let piece = bay("    dry 12 h\n    cure 1 month\n");
    assert!(found(&piece, "put-out-before-cure").help[0].contains("2026-04-03"));
}

#[test]
fn upkeep_without_a_start_begins_after_its_first_interval() {
    let upkeep =
        |every: &str| format!("{}upkeep\n    every {every} wash with soap, rinse\n", bay("    dry 4 days\n"));
    assert!(found(&upkeep("2 days"), "water-before-dry").message.starts_with("upkeep begins with a wash"));
    assert!(!has(&upkeep("4 days"), "water-before-dry"));
}

#[test]
fn water_on_the_day_of_the_coat_is_judged_by_the_hour() {
    // The frame is coated from 09:00 on and dries for 12 h.
    let upkeep =
        |from: &str| format!("upkeep\n    every 1 day wash with soap, rinse, from {from} after apply\n");
    let early = found(&upkeep("2 h"), "water-before-dry");
    assert_eq!(early.severity, Severity::Warning);
    assert!(
        early.message.starts_with("upkeep begins with a wash on 2026-03-03 11:00, before `bay` (12 h"),
        "{early:?}"
    );
    assert_eq!(early.help, ["keep the panel dry until 2026-03-03 21:00"]);
    assert!(!has(&upkeep("12 h"), "water-before-dry"));
    assert!(!has(&upkeep("1 day"), "water-before-dry"));
    // Without the hour of the coat only the day counts.
    let unsaid = "apply\n    on 2026-03-03\n    air 15 to 25 degC, 35 to 70 % humidity\n    surface at least 3 degC above dew point\n";
    assert!(!has(&format!("{unsaid}{}", upkeep("2 h")), "water-before-dry"));
    let out = "exposure \"Yard\"\n    put out 2026-03-03\n";
    let same_day = found(out, "water-before-dry");
    assert_eq!(same_day.severity, Severity::Advice);
    assert_eq!(same_day.help, early.help);
    assert!(!has(&format!("{unsaid}{out}"), "water-before-dry"));
}

#[test]
fn a_coat_without_an_hour_is_judged_only_where_it_is_surely_wrong() {
    let done = |first: &str, second: &str| {
        format!(
            "{}done {first} coat 1 of bay\ndone {second} coat 2 of bay\n",
            bay("    coats 2 after 24 to 48 h\n")
        )
    };
    let code = "second-coat-outside-window";
    assert!(!has(&done("2026-03-03", "2026-03-04"), code));
    assert!(!has(&done("2026-03-03", "2026-03-05"), code));
    assert!(found(&done("2026-03-03", "2026-03-07"), code).message.contains("too late"));
    assert!(found(&done("2026-03-03 10:00", "2026-03-04 09:00"), code).message.contains("too soon"));
    assert!(!has(&done("2026-03-03 10:00", "2026-03-04 10:00"), code));
}

#[test]
fn windows_that_touch_on_one_day_collide_and_neighbours_do_not() {
    let piece = |week: u32, within: u32| {
        rounds(&format!("{USUAL}    later {week} days after apply within {within} days\n"))
    };
    // Month 3 is 2026-06-03 and may be read until 2026-06-06.
    assert!(found(&piece(98, 3), "rounds-collide").message.ends_with("may both be read on 2026-06-06"));
    assert!(!has(&piece(98, 2), "rounds-collide"));
}

#[test]
fn a_round_that_counts_from_a_step_is_a_baseline_without_the_name() {
    let piece = rounds(
        "    start after wipe\n    fresh 8 days after apply within 1 day\n    month 3 within 3 days\n",
    );
    assert!(!has(&piece, "no-baseline"));
}

#[test]
fn a_measure_that_counts_from_the_baseline_needs_to_be_read_there() {
    let piece = "measure film in um\n    change from baseline\n    alike within 2 um\nrounds\n    \
                 baseline after wipe gloss-20 5 times\n    \
                 fresh 8 days after apply within 1 day gloss-20 5 times, film 3 times\n    \
                 month 3 within 3 days gloss-20 5 times, film 3 times\n";
    assert!(found(piece, "no-baseline").message.contains("`film`"));
}

#[test]
fn a_fresh_round_is_advice_unless_a_limit_counts_from_it() {
    let later = rounds("    baseline after wipe\n    month 3 within 3 days\n");
    let from = |reference: &str| {
        format!("{later}measure gloss-20 in GU\n    higher is better\n    change from {reference}\n")
    };
    assert_eq!(found(&from("baseline"), "no-fresh-round").severity, Severity::Advice);
    assert_eq!(found(&from("fresh"), "no-fresh-round").severity, Severity::Warning);
}

#[test]
fn the_day_on_which_a_certificate_ends_is_not_covered() {
    let gauge = |until: &str| {
        format!(
            "gauge glossy\n    reads gloss-20\n    two readings agree within 0.4 GU\n    certified {until} for 12 months\n"
        )
    };
    // The window of month 3 ends on 2026-06-06.
    assert!(!has(&gauge("2025-06-07"), "certificate-lapses"));
    let finding = found(&gauge("2025-06-06"), "certificate-lapses");
    assert!(finding.label.contains("2026-06-06"), "{}", finding.label);
    assert_eq!(finding.about, ["glossy", "month 3"]);
}

#[test]
fn a_certified_second_gauge_covers_a_round() {
    let piece = "gauge glossy\n    reads gloss-20\n    two readings agree within 0.4 GU\n    \
                 certified 2024-02-01 for 12 months\ngauge spare\n    reads gloss-20\n    \
                 certified 2026-02-01 for 12 months\n";
    assert!(!has(piece, "certificate-lapses"));
}

#[test]
fn rounds_that_could_not_be_read_hide_what_may_be_missing() {
    let piece = "rounds\n    baseline zzz zzz\n    month 3 within 3 days gloss-20 5 times\n";
    for code in ["no-baseline", "no-fresh-round", "no-rounds-after-apply", "deciding-round-missing"] {
        assert!(!has(piece, code), "{code}");
    }
}

#[test]
fn a_slip_in_the_day_of_apply_is_told_once() {
    let piece = "apply\n    on 2025-03-03 from 09:00\n    surface at least 3 degC above dew point\n--- date 2025-03-01\n";
    let codes = codes(piece);
    assert!(codes.contains(&"apply-before-begins"));
    assert!(!codes.contains(&"batch-opened-after-apply") && !codes.contains(&"round-before-begins"));
}

#[test]
fn a_small_distance_to_the_dew_point_is_told_in_the_units_of_the_file() {
    let piece = "apply\n    on 2026-03-03 from 09:00\n    surface at least 3.6 degF above dew point\n";
    assert!(found(piece, "no-dew-point-margin").message.starts_with("3.6 degF above dew point is less than"));
    let enough = "apply\n    on 2026-03-03 from 09:00\n    surface at least 5.4 degF above dew point\n";
    assert!(!has(enough, "no-dew-point-margin"));
}

#[test]
fn a_wash_of_upkeep_on_the_day_of_a_round_asks_for_drying() {
    let piece = |every: &str| {
        format!(
            "{}upkeep\n    every {every} wash with soap, rinse\n",
            rounds("    baseline after wipe\n    fresh 10 days after apply\n    month 3 within 3 days\n")
        )
    };
    assert!(found(&piece("5 days"), "wash-just-before-reading").about.contains(&"fresh".to_owned()));
    assert!(!has(&piece("7 days"), "wash-just-before-reading"));
}

#[test]
fn a_panel_is_put_out_when_its_last_coat_is_on() {
    let slow = "    coats 2 after 10 to 12 days\n";
    let finding = found(&bay(slow), "put-out-before-apply");
    assert!(finding.message.ends_with("the last coat of `bay` goes on on 2026-03-13"), "{}", finding.message);
    assert!(!has(&bay("    coats 2 after 9 to 12 days\n"), "put-out-before-apply"));
    // Neither dry nor cure is told as well.
    let times = bay("    coats 2 after 10 to 12 days\n    dry 12 h\n    cure 7 days\n");
    let fixed =
        rounds("    baseline after wipe\n    fresh on 2026-03-11 within 1 day\n    month 3 within 3 days\n");
    let times = fixed + "    before each round  wash with soap, rinse, dry, wait 2 h\n" + &times;
    assert!(!has(&times, "put-out-before-cure"));
    // What comes before the fresh round is wet as well; the day outdoors is not in it.
    let water = found(&times, "water-before-dry");
    assert!(water.message.starts_with("the wash before `fresh`") && water.related.is_empty(), "{water:?}");
}

#[test]
fn what_was_done_counts_for_the_last_coat() {
    let done = |day: &str| format!("done {day} 10:00 coat 1 of bay\n");
    assert!(has(&done("2026-03-13"), "put-out-before-apply"));
    assert!(found(&done("2026-03-08"), "put-out-before-cure").help[0].contains("2026-03-15"));
    assert!(!has(&done("2026-03-05"), "put-out-before-cure"));
    // The record has one coat of two; the second follows at the start of its window.
    let second = format!("{}{}", bay("    coats 2 after 24 to 48 h\n    cure 7 days\n"), done("2026-03-04"));
    assert!(!has(&second, "put-out-before-cure"));
    let late = format!("{}{}", bay("    coats 2 after 24 to 48 h\n    cure 7 days\n"), done("2026-03-05"));
    assert!(found(&late, "put-out-before-cure").help[0].contains("2026-03-13"));
}

#[test]
fn a_panel_may_come_in_on_the_day_on_which_it_goes_out() {
    let exposure = |day: &str| format!("exposure \"Yard\"\n    put out 2026-03-12\n    brought in {day}\n");
    assert!(!has(&exposure("2026-03-12"), "brought-in-before-put-out"));
    assert!(has(&exposure("2026-03-11"), "brought-in-before-put-out"));
}

#[test]
fn times_to_dry_and_cure_are_compared_whatever_their_units() {
    assert!(!has(&bay("    dry 24 h\n    cure 1 day\n"), "cure-before-dry"));
    let model = bay("    dry 3 days\n    cure 48 h\n");
    assert!(found(&model, "cure-before-dry").message.ends_with("cures in 48 h and dries in 3 days"));
    // A product that is like this one shares the slip.
    let like = format!("{model}product clove \"Clove seal\", a spray sealant\n    like bay\n");
    assert_eq!(codes(&like).iter().filter(|code| **code == "cure-before-dry").count(), 1);
}

#[test]
fn records_before_the_study_are_one_finding_with_all_their_places() {
    let piece = "done 2025-03-03 09:10 wash\nlog 2025-04-14 C3 \"hail\"\n";
    let finding = found(piece, "record-before-begins");
    assert!(finding.message.starts_with("`done` is dated 2025-03-03"), "{}", finding.message);
    assert_eq!(
        (finding.related.len(), codes(piece).iter().filter(|c| **c == "record-before-begins").count()),
        (2, 1)
    );
    assert!(!has("log 2026-03-02 C3 \"hail\"\n", "record-before-begins"));
}

/// Each coat has a window of its own, and the record is held against it.
#[test]
fn a_later_coat_is_held_against_its_own_window() {
    let product = bay(
        "    coats 3 after 1 to 3 h\n    coat 1 20 ml per m2\n    coat 3 10 ml per m2, after 24 to 48 h\n",
    );
    let done = |third: &str| {
        format!(
            "{product}done 2026-03-03 10:00  coat 1 of bay\ndone 2026-03-03 12:00  coat 2 of bay\n\
             done {third}  coat 3 of bay\n"
        )
    };
    let early = found(&done("2026-03-03 14:00"), "second-coat-outside-window").message;
    assert!(
        early.contains("coat 3 of `bay` went on 2 h after coat 2, too soon: its window is 24 to 48 h"),
        "{early}"
    );
    assert!(has(&done("2026-03-05 12:30"), "second-coat-outside-window"));
    assert!(!has(&done("2026-03-04 13:00"), "second-coat-outside-window"));
}

/// 19 degC at 90 %: g = ln 0.9 + 17.62 x 19 / 262.12 = 1.1718, dew point 243.12 x 1.1718 / (17.62 - 1.1718) = 17.3 degC.
#[test]
fn a_surface_below_the_dew_point_was_wet() {
    let done = "done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 90 % humidity  surface 16 degC\n";
    let message = found(done, "surface-near-dew-point").message;
    assert!(
        message.starts_with("coat 1 of `bay` went on 1.3 degC below the dew point: the surface was wet"),
        "{message}"
    );
}

#[test]
fn a_coat_before_its_first_and_a_day_to_come_are_said_so() {
    let product = "product bay \"Bay seal\", a spray sealant\n    bought 20.00 EUR for 500 ml\n    coats 2 after 1 to 3 h\n    \
                   sheet \"bay-sheet.pdf\"\n";
    let done = |first: &str, second: &str| {
        format!(
            "{product}done {first} 10:00  coat 1 of bay\ndone {second} 09:00  coat 2 of bay\n--- date 2026-03-20\n"
        )
    };
    let before = found(&done("2026-03-04", "2026-03-03"), "second-coat-outside-window").message;
    assert_eq!(before, "coat 2 of `bay` is recorded on 2026-03-03 09:00, before coat 1 on 2026-03-04 10:00");
    let slip = done("2052-03-03", "2026-03-03");
    assert!(!has(&slip, "second-coat-outside-window"), "the slip of the year is said by itself");
    assert_eq!(
        found(&slip, "record-in-future").message,
        "`done` is dated 2052-03-03, and the study is looked at as of 2026-03-20"
    );
}

/// Waits of the preparation against the time from the first day of work to the first coat: the first day that is possible is named.
#[test]
fn a_preparation_that_outlasts_its_time_names_the_first_day_possible() {
    let prep = |dry: &str, more: &str| {
        format!(
            "prep\n    wash with soap,  1 part to 200 water,  rinse\n    dry {dry}\n    wipe with spirit 35 % by volume, fresh cloth, wait 5 min\n{more}"
        )
    };
    // From 2 March at midnight; coats go on on 3 March at 9 o'clock, 33 h later.
    assert!(!has(&prep("32 h", ""), "prep-longer-than-time"));
    let finding = found(&prep("33 h", ""), "prep-longer-than-time");
    assert!(finding.help[0].contains("`on 2026-03-04`"), "{}", finding.help[0]);
    let finding = found(&prep("2 h", "    wait 5 days\n"), "prep-longer-than-time");
    assert!(finding.message.contains("5.1 days"), "{}", finding.message);
    assert!(
        finding.help[0].contains("`on 2026-03-07`") && finding.help[0].contains("2026-02-26"),
        "{}",
        finding.help[0]
    );
    // Specimens are prepared beside the panel, and not after it.
    let slips = |wait: &str| {
        format!(
            "specimens slips\n    each 50 x 50 mm\n    one for each product and bare\nprep slips\n    wipe with spirit 35 % by volume, fresh cloth, wait {wait}\n{}",
            prep("32 h", "")
        )
    };
    assert!(!has(&slips("20 h"), "prep-longer-than-time"));
    assert!(found(&slips("3 days"), "prep-longer-than-time").message.contains("of `slips`"));
    // What was coated had its time.
    let coated = prep("2 days", "") + "done 2026-03-03 09:00  coat 1 of bay\n";
    assert!(!has(&coated, "prep-longer-than-time"));
}

#[test]
fn a_round_before_the_panel_goes_out_or_long_after_it_came_in_is_told() {
    let out = |days: &str| format!("exposure \"Test yard\"\n    faces south,  tilt 45 deg\n{days}");
    let late = out("    put out 2026-07-12\n");
    let finding = found(&late, "round-outside-exposure");
    assert!(finding.severity == Severity::Warning && finding.message.contains("is decided at `month 3`"));
    assert!(finding.help[0].contains("`month 3  3 months after put out`"), "{}", finding.help[0]);
    let open = "study \"Sealers\"\n    begins 2026-03-02\n";
    let finding = found(&(late + open), "round-outside-exposure");
    assert_eq!(finding.severity, Severity::Advice);
    assert!(finding.message.contains("`month 3` (2026-06-03) lies before"), "{}", finding.message);
    // A last reading within two weeks after it came in is one of its exposure.
    let came_in = |day: &str| out(&format!("    put out 2026-03-12\n    brought in {day}\n"));
    assert!(!has(&came_in("2026-05-20"), "round-outside-exposure"));
    assert!(
        found(&came_in("2026-04-20"), "round-outside-exposure").message.contains("after it was brought in")
    );
}

#[test]
fn upkeep_waits_until_the_films_have_cured() {
    let upkeep = |from: &str| {
        let cured = bay("    dry 12 h\n    cure 7 days\n");
        format!(
            "{cured}upkeep\n    every 3 weeks  wash with soap,  1 part to 200 water,  rinse  from {from} after apply\n"
        )
    };
    let finding = found(&upkeep("2 days"), "upkeep-before-cure");
    assert!(finding.message.contains("`bay` (7 days, until 2026-03-10)"), "{}", finding.message);
    assert!(finding.help[0].contains("`from 7 days after apply`"), "{}", finding.help[0]);
    assert!(!has(&upkeep("7 days"), "upkeep-before-cure"));
    // Before it has dried is the graver finding, and one is enough.
    assert!(has(&upkeep("2 h"), "water-before-dry") && !has(&upkeep("2 h"), "upkeep-before-cure"));
}

/// A window wider than the time between two rounds is one slip, however many rounds it lets collide.
#[test]
fn many_rounds_that_collide_are_one_finding() {
    let piece = |weeks: u32| {
        let round = |week: u32| format!("    week {week}  within 10 days\n");
        let rounds = (2..=weeks).map(round).collect::<Vec<_>>().concat();
        format!(
            "rounds\n    baseline  after wipe\n    fresh  8 days after apply  within 1 day\n{rounds}    every round gloss-20 5 times\n"
        )
    };
    let told = |weeks: u32| codes(&piece(weeks)).iter().filter(|code| **code == "rounds-collide").count();
    assert_eq!((told(4), told(40)), (3, 1));
    let finding = found(&piece(40), "rounds-collide");
    assert!(
        finding.message.ends_with("; 38 more rounds run into the one before them"),
        "{}",
        finding.message
    );
    assert_eq!((finding.about.as_slice(), finding.related.len()), (&["rounds".to_owned()][..], 39));
}

/// Once a round was read its days count; before that a window that nobody wrote is named as the default.
#[test]
fn a_round_before_cure_is_told_by_its_readings_once_it_was_read() {
    let round = |lines: &str| {
        format!(
            "{}{}",
            rounds(&format!("    baseline after wipe\n    fresh {lines}\n    month 3 within 3 days\n")),
            bay("    cure 20 days\n")
        )
    };
    let table = |day: &str| {
        format!(
            "--- date 2026-04-10\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n{day},fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n"
        )
    };
    // The film has cured on the 23rd; a tenth of 21 days is 2 days.
    let finding = found(&round("21 days after apply"), "round-before-cure");
    assert!(
        finding.help[0].starts_with("its window is the default; write `within 1 day`"),
        "{}",
        finding.help[0]
    );
    let read = |day: &str| round("21 days after apply") + &table(day);
    assert!(!has(&read("2026-03-24"), "round-before-cure"));
    let finding = found(&read("2026-03-22"), "round-before-cure");
    assert!(finding.message.starts_with("`fresh` was read from 2026-03-22"), "{}", finding.message);
}

#[test]
fn a_window_that_begins_before_the_certificate_is_told_as_that() {
    let gauge = |from: &str| {
        format!(
            "gauge glossy\n    reads gloss-20\n    two readings agree within 0.4 GU\n    certified {from} for 12 months\n"
        )
    };
    let rounds = rounds(
        "    baseline on 2026-03-03 within 2 days\n    fresh 8 days after apply within 1 day\n    month 3 within 3 days\n",
    );
    let finding = found(&(gauge("2026-03-03") + &rounds), "certificate-lapses");
    assert!(
        finding.message.starts_with("`baseline` may be read from 2026-03-01, 2 days before the certificate"),
        "{}",
        finding.message
    );
    assert!(finding.help[0].contains("read `baseline` on 2026-03-03 or later"), "{}", finding.help[0]);
    assert!(!has(&(gauge("2026-03-01") + &rounds), "certificate-lapses"));
}

/// The window of a coat that no order of the products keeps; with the usual pace it is a question only.
#[test]
fn work_that_one_pair_of_hands_cannot_do_is_told() {
    let apply = |pace: &str| format!("apply\n    on 2026-03-03 from 09:00\n{pace}");
    let flash = |flash: &str| {
        format!(
            "product bay \"Bay seal\", a spray sealant\n    bought 20.00 EUR for 500 ml\n    sheet \"a.pdf\"\n    flash {flash}\n"
        )
    };
    let slow = apply("    pace lay on 3 min, wipe off 1 min\n");
    let finding = found(&format!("{slow}{}", flash("1 to 2 min")), "more-work-than-hands");
    assert!(
        finding.severity == Severity::Warning && finding.message.contains("`bay`"),
        "{}",
        finding.message
    );
    assert!(!has(&format!("{slow}{}", flash("5 to 10 min")), "more-work-than-hands"));
    let usual = found(&format!("{}{}", apply(""), flash("30 s")), "more-work-than-hands");
    assert!(
        usual.severity == Severity::Advice && usual.help[0].contains("`pace lay on"),
        "{}",
        usual.help[0]
    );
    let done = format!("{slow}{}done 2026-03-03 09:00  coat 1 of bay\n", flash("1 to 2 min"));
    assert!(!has(&done, "more-work-than-hands"));
}

/// Whatever the help proposes is tried.
#[test]
fn what_is_proposed_for_hands_mends_it() {
    let bay = "product bay \"Bay seal\", a spray sealant\n    bought 20.00 EUR for 500 ml\n    sheet \"a.pdf\"\n    flash ";
    for (pace, flash) in [
        ("    pace lay on 3 min, wipe off 1 min\n", "1 to 2 min"),
        ("    pace lay on 2 min, wipe off 1 min, change 4 min\n", "90 s"),
        ("", "30 s"),
        ("", "5 s"),
    ] {
        let text = |pace: &str| format!("apply\n    on 2026-03-03 from 09:00\n{pace}{bay}{flash}\n");
        let help = found(&text(pace), "more-work-than-hands").help[0].clone();
        let proposed = help.split('`').find(|part| part.starts_with("pace "));
        if let Some(proposed) = proposed {
            assert!(!has(&text(&format!("    {proposed}\n")), "more-work-than-hands"), "{proposed}");
        }
        assert_eq!(proposed.is_none(), flash == "5 s", "{help}");
        let waived = help.split('`').find(|part| part.starts_with("allow ")).unwrap();
        assert!(!has(&format!("{}{waived}\n", text(pace)), "more-work-than-hands"), "{waived}");
    }
}

/// A measure that no round needs to read fresh can be waived by itself, and the others stay.
#[test]
fn a_waiver_may_name_one_measure() {
    let measures = |more: &str| {
        format!(
            "measure gloss-60 in GU\n    higher is better\n    change from fresh\nmeasure gloss-85 in GU\n    higher is better\n    change from fresh\n\
             rounds\n    baseline after wipe\n    fresh 8 days after apply within 1 day gloss-20 5 times\n    month 3 within 3 days gloss-20 5 times, gloss-60 once{more}\n\
             allow no fresh round for gloss-60 because \"read once, as a look\"\n"
        )
    };
    let one = codes(&measures(""));
    assert!(!one.contains(&"no-fresh-round") && !one.contains(&"waiver-not-needed"), "{one:?}");
    let two = found(&measures(", gloss-85 once"), "no-fresh-round");
    assert!(two.help.iter().any(|help| help.contains("`gloss-85` is not in it")), "{:?}", two.help);
}
