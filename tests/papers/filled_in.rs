//! What the papers ask to be written down: the film before each cut, the tape by the clock, and words that fit what is used.

use super::{MAP, output, study};
use tapeline::pipeline::{Day, check};

fn checklist(text: &str) -> String {
    output(&check("lid.study", text, &[], Day::AsOf(super::DAY)), "checklist.html")
}

/// The article of a step of which the title has some words.
fn step<'a>(page: &'a str, title: &str) -> &'a str {
    let has = |article: &&str| article.split("</h3>").next().is_some_and(|head| head.contains(title));
    let steps = page.split("<article").skip(1).find(has);
    steps.unwrap_or_else(|| panic!("no step `{title}`")).split("</article>").next().unwrap()
}

/// The study with a preparation, more supplies and what is read.
fn prepared(prep: &str, more: &str) -> String {
    let text = study(MAP, "").replace("    wash  with soap, rinse\n    dry\n", prep);
    text.replacen("supply soap", &format!("{more}\nsupply soap"), 1).replacen(
        "size        900 x 700 mm\n",
        "size        900 x 700 mm\n    leave at least 80 um\n",
        1,
    )
}

const CUTS: &str =
    "measure film in um\n    neither is better\nsupply grit, a compound\nsupply shine, a polish";

const TWO_CUTS: &str = "    wash  with soap, rinse\n    dry\n    read film at 5 places, 3 times\n    compound with grit\n    \
                        polish with shine\n    tape lines 6 mm wide\n    label\n";

#[test]
fn the_film_is_read_at_the_same_places_before_each_cut() {
    let page = checklist(&prepared(TWO_CUTS, CUTS));
    assert!(page.contains("The film is read before each cut, at the places of step 3; of several readings the lowest counts."), "{page}");
    assert!(!page.contains("at its thinnest place"));
    // Read just before the first cut, so that nothing is written twice; before the second each place has its line.
    let (first, second) = (step(&page, "Compound with grit"), step(&page, "Polish with shine"));
    assert!(
        first.contains("begin only where step 3 read 85 µm or more") && !first.contains("place 1, µm"),
        "{first}"
    );
    assert!(second.contains("<dt>Read film</dt><dd>once more, at each of the places of step 3"), "{second}");
    assert!(second.contains("begin only where it reads 81 µm or more"), "{second}");
    let lines: Vec<usize> = (1..=6).map(|n| second.matches(&format!(">place {n}, µm<")).count()).collect();
    assert_eq!(lines, [1, 1, 1, 1, 1, 0], "{second}");
    // The places are marked on the map, which stands where tape is laid by it.
    assert!(step(&page, "Read film").contains("; the map stands before step 6"), "{page}");
}

#[test]
fn more_places_than_there_are_lines_leave_the_lowest_to_be_written() {
    let page = checklist(&prepared(&TWO_CUTS.replace("at 5 places", "at 16 places"), CUTS));
    let second = step(&page, "Polish with shine");
    assert!(second.contains(">lowest, µm<") && second.contains(">at place<"), "{second}");
    assert!(!second.contains(">place 1, µm<"));
}

#[test]
fn film_that_no_step_reads_is_read_on_each_section() {
    let page = checklist(&prepared(&TWO_CUTS.replace("    read film at 5 places, 3 times\n", ""), CUTS));
    assert!(page.contains("Read the film before each cut, on each section at its thinnest place"), "{page}");
    // Twelve sections, each with its line, at both cuts.
    assert_eq!(page.matches(">C4, µm<").count(), 2, "{page}");
}

#[test]
fn film_is_measured_only_where_the_study_has_a_measure_of_it() {
    let without = CUTS.replace("measure film in um\n    neither is better\n", "");
    let prep = TWO_CUTS.replace("    read film at 5 places, 3 times\n", "");
    for (text, told) in [(prepared(TWO_CUTS, CUTS), true), (prepared(&prep, &without), false)] {
        let page = checklist(&text);
        let cut = step(&page, "Compound with grit");
        assert_eq!(cut.contains("Measure the film before and after."), told, "{cut}");
        assert!(cut.contains("It takes paint away"), "{cut}");
    }
}

#[test]
fn tape_lies_outside_of_its_section_and_comes_off_by_times_that_have_room() {
    let text = prepared(TWO_CUTS, CUTS).replacen(
        "    on          2025-06-03\n",
        "    on          2025-06-03 from 09:00\n    tape off    30 to 60 min after last coat\n",
        1,
    );
    let page = checklist(&text);
    assert!(step(&page, "Tape").contains("outside each section, its edge on these mm"), "{page}");
    assert!(page.contains("Tape lies outside of a section, up to its edge."));
    let coat = step(&page, "Apply Bay spray on A1 and B3");
    assert!(coat.contains(">tape off from</th>") && coat.contains(">to</th>"), "{coat}");
    // Of several coats in one step a line is of a coat, and the tape of a section has a place of its own.
    let two = text.replacen(
        "\"Bay spray\", a spray sealant\n",
        "\"Bay spray\", a spray sealant\n    coats 2 after 1 to 3 h\n",
        1,
    );
    let page = checklist(&two);
    let coat = step(&page, "Apply Bay spray on A1 and B3");
    let two = |code: &str| {
        format!(">{code}: tape off from</span></span><span class=\"write\"><span class=\"for\">to<")
    };
    assert!(
        coat.contains(&two("A1")) && coat.contains(&two("B3")) && !coat.contains(">tape off from</th>"),
        "{coat}"
    );
    assert!(!page.contains("from __"));
}

/// Words of a mix beside what is used as it comes make one look for the mix.
#[test]
fn what_is_used_neat_has_no_words_of_a_mix() {
    let own = "supply scale-off, an acid cleaner\n    dwell 1 to 3 min\n    ";
    for (mix, told) in [("mix neat", false), ("mix 1 part to 10 water", true)] {
        let prep = "    wash with soap, rinse\n    decontaminate with scale-off for 2 min, rinse\n    dry\n";
        let page = checklist(&prepared(prep, &format!("{own}{mix}")));
        let work = step(&page, "Decontaminate with scale-off");
        assert!(work.contains("a bucket and brush of its own"), "{work}");
        assert_eq!(work.contains("a fresh mix when it is grey"), told, "{work}");
        assert_eq!(work.contains("Pour acid into water, never water into acid."), told, "{work}");
    }
}

#[test]
fn what_is_done_before_each_round_is_told_at_the_baseline_too() {
    let told = "Before it, as before each round: Wash with soap and Dry.";
    let page = checklist(&study(MAP, ""));
    assert!(page.contains(told), "{page}");
    // Directly after a step of the preparation the surface is as that leaves it.
    let after = study(MAP, "").replacen("baseline    on 2025-06-02", "baseline    after dry", 1);
    assert!(!checklist(&after).contains("as before each round"));
}

#[test]
fn a_spare_tenth_is_told_where_an_amount_is() {
    let tenth = "A tenth of each amount is to spare.";
    let plain = study(MAP, "").replacen("    mix         1 part to 200 water\n", "", 1);
    assert!(!checklist(&plain).contains(tenth));
    let stated = plain.replacen(
        "\"Bay spray\", a spray sealant\n",
        "\"Bay spray\", a spray sealant\n    uses 30 ml per m2\n",
        1,
    );
    assert!(checklist(&stated).contains(tenth));
}
