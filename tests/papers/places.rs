//! From the bench to the place and back: putting out, upkeep with its days, bringing in, and the sheets of later cycles.

#![allow(clippy::disallowed_methods, reason = "a test reads an example")]

use super::{MAP, output, study};
use std::path::Path;
use tapeline::pipeline::{Day, check};
use tapeline::report::SheetOf;

const PLACE: &str = "exposure \"Canal shed\"\n    faces south-west, tilt 60 deg\n    put out 2025-06-12\n    brought in 2025-12-10\n";

fn checklist(more: &str) -> String {
    output(&check("lid.study", &study(MAP, more), &[], Day::AsOf(super::DAY)), "checklist.html")
}

#[test]
fn putting_out_and_bringing_in_are_steps() {
    let page = checklist(PLACE);
    let out = page.split_once("<h2>At its place</h2>").unwrap().1;
    let (out, end) = out.split_once("<h2>At the end</h2>").unwrap();
    for words in [
        "Put the panel out: Canal shed",
        "2025-06-12",
        "south-west",
        "60° from level",
        "every coat has cured",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
    for words in [
        "Bring the panel in: Canal shed",
        "2025-12-10",
        "the readings of month 6",
        "check each against the map",
    ] {
        assert!(end.contains(words), "{words}: {end}");
    }
    assert!(!checklist("").contains("At the end"));
    // What is planned for a later day is read where the panel is brought to.
    let early = checklist(&PLACE.replace("2025-12-10", "2025-12-01"));
    let end = early.split_once("<h2>At the end</h2>").unwrap().1;
    assert!(end.contains("<dt>After it</dt><dd>the readings of month 6</dd>"), "{end}");
}

/// From 2025-06-03 every 4 weeks up to month 6, 2025-12-03: from 1 July to 16 December is too far, so 1 July to 18 November.
#[test]
fn upkeep_has_a_box_for_each_of_its_days_and_says_them_once() {
    let page = checklist("upkeep\n    every 4 weeks wash with soap, rinse from 4 weeks after apply\n");
    let upkeep = page.split_once("<h2>Upkeep</h2>").unwrap().1.split("<section").next().unwrap();
    assert!(
        upkeep.contains("6 times, planned from 2025-07-01 to 2025-11-18; tick each, and write the true day and initials behind it"),
        "{upkeep}"
    );
    for day in ["2025-07-01", "2025-07-29", "2025-08-26", "2025-09-23", "2025-10-21", "2025-11-18"] {
        let item = upkeep.split("<li>").find(|item| item.contains(&format!("<span>{day}")));
        let item = item.unwrap_or_else(|| panic!("{day}: {upkeep}"));
        assert!(item.starts_with("<span class=\"tick\"></span>"), "a box: {item}");
        assert!(item.contains("<span class=\"true\"></span></li>"), "a line for the true day: {item}");
    }
    assert_eq!(upkeep.matches("<p class=\"line\">").count(), 0, "no line says again what the boxes say");
    assert!(page.contains("upkeep 6 times"), "the shopping list counts the same days");
}

#[test]
fn a_patch_that_was_stopped_is_on_no_later_sheet() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/marked-cladding");
    let read = |name: &str| std::fs::read(folder.join(name)).unwrap();
    let text = String::from_utf8(read("marked-cladding.study")).unwrap();
    let files = [("readings.csv".to_owned(), read("readings.csv"))];
    let outcome = check("marked-cladding.study", &text, &files, Day::AsOf(jiff::civil::date(2025, 6, 30)));
    let (study, readings) = (&outcome.study, &outcome.readings);
    let rounds = study.cycle.as_ref().unwrap().rounds.clone();
    let last = *rounds.last().unwrap();
    let stopped: Vec<&str> = study
        .places()
        .filter(|(id, _)| readings.stopped(study, *id, last))
        .map(|(_, place)| place.code.as_str())
        .collect();
    assert!(!stopped.is_empty(), "the example stops patches");
    let sheets = outcome.edition().sheets(&[rounds[0], last].map(SheetOf::Round)).unwrap();
    let text = |at: usize| super::without_holds(std::str::from_utf8(&sheets[at][0].bytes).unwrap());
    let (first, last) = (text(0), text(1));
    for code in stopped {
        assert!(first.contains(code) && !last.contains(code), "{code}");
    }
}

#[test]
fn the_method_says_who_decides_that_a_patch_is_stopped() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/marked-cladding");
    let text = std::fs::read_to_string(folder.join("marked-cladding.study")).unwrap();
    let report =
        |text: &str| output(&check("marked-cladding.study", text, &[], Day::AsOf(super::DAY)), "report.md");
    assert!(
        report(&text)
            .contains("**Stopping a patch:** by ghost the median of its marks in that cycle decides.")
    );
    let two = text.replacen(
        "    spent at 3 or worse\n",
        "    rated by 2 people, each alone\n    spent at 3 or worse\n",
        1,
    );
    assert!(report(&two).contains("the median of the marks that its 2 raters gave it in that cycle"));
}

#[test]
fn what_a_product_is_is_its_kind_and_not_its_category() {
    let text = study(MAP, "").replacen(
        "    cure        1 day\n",
        "    cure        1 day\n    category permanent\n",
        1,
    );
    let report = output(&check("lid.study", &text, &[], Day::AsOf(super::DAY)), "report.md");
    assert!(
        report.contains("| a spray sealant (permanent) |")
            || report.contains("| spray sealant (permanent) |"),
        "{report}"
    );
}

/// Whoever reads the baseline has the checklist and no other paper.
#[test]
fn a_rating_of_the_baseline_has_its_marks_and_a_gauge_its_name() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/marked-cladding");
    let text = std::fs::read_to_string(folder.join("marked-cladding.study")).unwrap();
    let page = output(&check("marked-cladding.study", &text, &[], Day::AsOf(super::DAY)), "checklist.html");
    assert!(page.contains(
        "0 to 4: 0 nothing left; 1 seen only along the surface; 2 a shade, seen at arm&#39;s length"
    ));
    assert!(page.contains("<dt>Gauge</dt><dd>gloss-block</dd>") && page.contains("3 on each patch"));
    let two = text.replacen(
        "    spent at 3 or worse\n",
        "    rated by 2 people, each alone\n    spent at 3 or worse\n",
        1,
    );
    let page = output(&check("marked-cladding.study", &two, &[], Day::AsOf(super::DAY)), "checklist.html");
    assert!(page.contains("2 people, each without knowing the others&#39; marks"));
}
