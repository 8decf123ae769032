//! What whoever has the papers alone would have to ask: where sections lie, where cloths go, which mask, on which day, who with.

use super::{DAY, as_written, output, without_holds};
use tapeline::pipeline::{Day, Outcome, check};

const MARKED: &str = include_str!("../../examples/marked-cladding/marked-cladding.study");
const DOOR: &str = include_str!("../../examples/coach-door/coach-door.study");
const SLATS: &str = include_str!("../../examples/bench-slats/bench-slats.study");
const DECK: &str = include_str!("../../examples/foredeck/foredeck.study");
const GATE: &str = include_str!("../../examples/beginner/beginner.study");

fn planned(text: &str) -> Outcome {
    check("lid.study", text, &[], Day::AsOf(DAY))
}

fn paper(text: &str, name: &str) -> String {
    output(&planned(text), name)
}

/// The text of the step of a title.
fn step<'p>(page: &'p str, title: &str) -> &'p str {
    let at = page.find(title).unwrap_or_else(|| panic!("{title}: {page}"));
    page[at..].split("</article>").next().unwrap()
}

#[test]
fn the_map_stands_before_the_tape_and_the_tape_names_its_sections() {
    let page = paper(DOOR, "checklist.html");
    let (map, tape) = (page.find("id=\"map\"").unwrap(), page.find("Tape</span></h3>").unwrap());
    assert!(map < tape && tape - map < page.len() / 3 && page.matches("id=\"map\"").count() == 1);
    for code in ["A1", "C4", "E7"] {
        assert!(page[map..tape].contains(&format!(">{code}<")), "{code}");
    }
    let taped = step(&page, "Tape</span></h3>");
    assert!(taped.contains("these 30 sections and no other places: A1, A2, A3,"), "{taped}");
    assert!(!taped.contains("B6") && taped.contains("E7"), "{taped}");
    assert!(step(&page, "Label</span></h3>").contains("before step 12: it has each section"), "{page}");
    // Without tape and labels it stands before the baseline, which is read by it.
    let gate = paper(GATE, "checklist.html");
    let (head, map) = (gate.find(">Baseline readings<").unwrap(), gate.find("id=\"map\"").unwrap());
    assert!(head < map && map < gate.find(">Application<").unwrap(), "{gate}");
    assert!(gate[head..map].contains("Where the sections lie. From left:"), "{gate}");
}

#[test]
fn each_section_has_its_line_with_its_code() {
    let page = paper(DOOR, "checklist.html");
    let borage = step(&page, "Apply Borage Glass");
    for row in ["B4, coat 1", "D7, coat 1", "B4, coat 2", "D7, coat 2"] {
        assert_eq!(borage.matches(&format!("<span>{row}</span></span></th>")).count(), 1, "{row}: {borage}");
    }
    assert_eq!(borage.matches("<th>date</th>").count(), 1, "heads once: {borage}");
    assert!(!borage.contains("<th>sections</th>"), "{borage}");
}

#[test]
fn the_run_sheet_says_where_cloths_go_and_what_is_breathed_through() {
    let slats = paper(SLATS, "run-sheet.html");
    assert!(
        slats.contains("Weld Hard Wax Oil and Woad Shed Oil: Oily rags heat up by themselves"),
        "{slats}"
    );
    assert!(
        slats.contains("Rubbing between coats (Alkanet Slat Oil and Madder Dark Oil): suction cleaner"),
        "{slats}"
    );
    assert!(!slats.contains("One mask for the whole run"), "one filter for all: {slats}");
    let door = paper(DOOR, "run-sheet.html");
    assert!(
        door.contains("One mask for the whole run") && door.contains("Uncured they are never shut in"),
        "{door}"
    );
    assert!(!door.contains("Oily rags") && !door.contains("Rubbing between coats"), "{door}");
    let cards = paper(SLATS, "safety-cards.html");
    let work = &cards[cards.find("Cautions of the work").unwrap()..cards.find("class=\"cards\"").unwrap()];
    assert!(work.contains("Oily rags heat up by themselves"), "{work}");
}

#[test]
fn water_is_among_what_must_never_meet() {
    let page = paper(MARKED, "run-sheet.html");
    assert!(page.contains("what is wet: gloves, cloths, mixes"), "{page}");
    let slats = paper(SLATS, "run-sheet.html");
    assert!(!slats.contains("what is wet: gloves"), "{slats}");
}

#[test]
fn cloths_that_gas_are_shut_in_only_when_they_have_cured_and_lye_goes_into_no_metal() {
    let page = paper(MARKED, "checklist.html");
    assert!(page.contains("cloths with Foehn Permanent, once they have cured"), "{page}");
    assert!(page.contains("held against wind, where cloths and applicators cure"), "{page}");
    assert!(
        !page.contains(
            "A closed metal can, and a lidded drum outdoors for it to be emptied into <span class=\"for\">– for cloths with Foehn Permanent, and what else is"
        ),
        "{page}"
    );
    let bin = page.find("A lidded bin of plastic, never of metal").unwrap();
    assert!(page[bin..bin + 300].contains("Slate Facade Wash"), "{page}");
}

/// 35 of 99 % of 1 l are 353.5 ml, measured out as 354; a part of eleven of 1 l is 91 ml.
#[test]
fn what_is_bought_of_a_mix_is_the_sum_of_its_batches_as_they_are_measured_out() {
    let page = paper(MARKED, "checklist.html");
    assert!(page.contains("354 ml") && page.contains("708 ml") && !page.contains("707 ml"), "{page}");
    assert!(page.contains("546 ml") && !page.contains("545 ml"), "{page}");
    // 2 sections of 0.26 ml.
    let door = paper(DOOR, "checklist.html");
    assert!(step(&door, "Apply Dill Carnauba").contains("0.52 g: 2 sections"), "{door}");
    assert!(door.contains("which have a tenth to spare where the study says what an area takes"), "{door}");
    // 30 labels and a tenth.
    let labels = &door[door.find("one for each section, and spare ones").unwrap()..][..80];
    assert!(labels.contains("<td>33</td>"), "{labels}");
}

#[test]
fn what_the_study_leaves_to_the_hand_has_a_place_to_be_written() {
    let page = paper(SLATS, "checklist.html");
    assert!(step(&page, "Seal with Twin End Seal").contains("<span class=\"for\">used</span>"), "{page}");
    assert!(step(&page, "Sand</span></h3>").contains("note: passes"), "{page}");
    let door = paper(DOOR, "checklist.html");
    let wash = step(&door, "Wash with meadow-suds");
    assert!(!wash.contains("<span class=\"for\">used</span>"), "its amount is stated: {wash}");
    assert!(door.contains("which water, its hardness"), "{door}");
}

#[test]
fn what_is_wiped_up_first_is_told_before_its_rinse() {
    let page = paper(DOOR, "checklist.html");
    let rinse = "wiped up with a cloth first, then in full, until it runs clear; its water caught";
    assert!(step(&page, "Decontaminate with road-tar-lift").contains(rinse), "{page}");
    assert_eq!(page.matches("wiped up with a cloth first").count(), 1, "{page}");
}

#[test]
fn a_coat_that_is_on_record_on_another_day_is_told_on_the_plan() {
    let (from, to) = ("done 2025-04-08 13:40  coat 1 of nutmeg", "done 2025-04-09 13:40  coat 1 of nutmeg");
    let page = paper(&DOOR.replace(from, to), "run-sheet.html");
    assert!(page.contains("By the record other than here: Nutmeg Soft Wax on 2025-04-09."), "{page}");
    assert!(!paper(DOOR, "run-sheet.html").contains("By the record other than here"));
}

#[test]
fn patches_are_told_in_mm_and_each_has_its_times_on_the_sheet_of_the_cycle() {
    let outcome = planned(MARKED);
    let page = output(&outcome, "checklist.html");
    assert!(page.contains("a1 (spray+gel) from left 120 to 270, from top 50 to 170"), "{page}");
    assert!(page.contains("b2 (pull) from left 330 to 480, from top 230 to 350"), "{page}");
    assert_eq!(page.matches("Each patch has its own time").count(), 1, "{page}");
    let sheet = |round: &str| {
        let rounds = outcome.sheets_asked(&[round.to_owned()]).unwrap();
        let files = outcome.edition().sheets(&rounds).unwrap();
        without_holds(std::str::from_utf8(&files[0][1].bytes).unwrap())
    };
    // Three kinds of patch, each marked once for its two measures.
    assert_eq!(sheet("cycle 1").matches("<th>Marked at</th>").count(), 3);
    assert_eq!(sheet("fresh").matches("<th>Marked at</th>").count(), 0);
}

/// The deck is afloat from 8 May to 27 October: neither at the fresh round of 7 May nor, from the day it comes in, at the last.
#[test]
fn cautions_of_a_place_stand_at_the_rounds_that_are_read_there_and_name_the_second_one() {
    let page = paper(DECK, "checklist.html");
    let before = &page[page.find(">Before each round<").unwrap()..page.find(">Upkeep<").unwrap()];
    assert!(before.contains("Rounds month 1, month 2 and month 4: Work over or beside water"), "{before}");
    assert!(before.contains("Two people go there"), "{before}");
    assert!(step(&page, "Put the panel out").contains("two: one works, the other stays in sight"), "{page}");
    let door = paper(DOOR, "checklist.html");
    assert!(step(&door, "Put the panel out").contains("A rack on the flat roof of the workshop"), "{door}");
    assert!(!paper(GATE, "checklist.html").contains("Two people"));
}

#[test]
fn the_tape_of_bare_sections_has_its_row_and_what_is_timed_together_stands_together() {
    let page = as_written(&planned(DECK), "run-sheet.html");
    let last = page.rfind("<tr").unwrap();
    assert!(
        page[last..].contains("none: they are bare") && page[last..].contains("A2, A4, B5, C2, D1, D5"),
        "{page}"
    );
    assert!(page.contains("tr.pair { break-after: avoid; }") && page.contains("pair\""), "{page}");
}
