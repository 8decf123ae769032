//! Papers that leave no question: a night after the wipe, coats that nobody buffs, oily dust, places and days.

use super::{DAY, MAP, output, study};
use tapeline::pipeline::{Day, check};

fn paper(text: &str, name: &str) -> String {
    output(&check("lid.study", text, &[], Day::AsOf(DAY)), name)
}

fn with(from: &str, to: &str) -> String {
    let text = study(MAP, "");
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

/// The work begins on 2 June and the first coat is on 3 June, so the wipe is done twice: 12 cloths each time, and a tenth to spare.
#[test]
fn a_wipe_that_a_night_follows_is_counted_twice_and_told_before_the_coats() {
    let supply = "supply spirit, isopropanol\n    strength 99 % by volume\n    uses 10 ml per m2\n";
    let wiped = with(
        "    wash  with soap, rinse\n",
        "    wash  with soap, rinse\n    wipe with spirit 35 % by volume, fresh cloth, wait 10 min\n",
    ) + supply;
    let page = paper(&wiped, "checklist.html");
    let again = "Where a night has passed since step 2 of the preparation: do that step once more before the first coat";
    assert!(page.contains(again) && page.contains("Wait 10 min after it."), "{page}");
    assert!(page.contains("<td>27</td>"), "cloths: {page}");
    assert!(page.contains("Clean film or a sheet that covers what was wiped"));
    let same_day = wiped.replacen("begins      2025-06-02", "begins      2025-06-03", 1);
    let page = paper(&same_day, "checklist.html");
    assert!(!page.contains("Where a night has passed") && page.contains("<td>14</td>"), "{page}");
}

#[test]
fn what_is_left_as_it_is_has_no_word_of_buffing_and_no_cloth() {
    let waxed = |flash: &str| {
        let text = study(MAP, "").replace("a spray sealant", "a wax");
        text.replace("    cure        1 day\n", &format!("    cure        1 day\n    flash       {flash}\n"))
    };
    let left = paper(&waxed("none"), "checklist.html");
    assert!(
        left.contains("not wiped and not buffed") && !left.contains("Buff before it sets hard"),
        "{left}"
    );
    assert!(!left.contains("Cloths to wipe off or buff") && left.contains("Applicators, one for each"));
    let buffed = paper(&waxed("5 to 10 min"), "checklist.html");
    assert!(buffed.contains("Buff before it sets hard") && buffed.contains("Cloths to wipe off or buff"));
}

/// Dust of a drying oil heats up by itself, so the card of dust does not send it into a closed bag.
#[test]
fn the_card_of_dust_parts_oily_dust_from_other_dust() {
    let oiled = |between: &str| {
        let text = study(MAP, "").replacen(
            "a spray sealant\n",
            &format!("a drying oil\n    coats 2 after 24 h\n{between}"),
            1,
        );
        paper(&text, "safety-cards.html")
    };
    let page = oiled("    between rub with 180 grit, dust off\n");
    let at = page.find("abrasion dust").expect("a card of dust");
    let card = &page[at..];
    let oily = card.find("goes where the oily rags go").expect("where oily dust goes");
    assert!(card.find("what is not oily").is_some_and(|other| oily < other), "{card}");
    assert!(!oiled("").contains("what is not oily"));
}

#[test]
fn water_that_leaves_by_itself_is_not_wiped_off() {
    let dried = |time: &str| {
        let text = with("    dry\n", &format!("    dry {time}\n"));
        paper(&text.replacen("rinse, dry\n", "rinse\n", 1), "checklist.html")
    };
    let long = dried("14 days");
    assert!(
        long.contains("Lets the water leave by itself") && long.contains("14 days before what comes next"),
        "{long}"
    );
    assert!(!long.contains("turn the towel often") && !long.contains("Drying towels"), "{long}");
    assert!(dried("2 h").contains("turn the towel often"));
}

#[test]
fn one_coat_has_no_next_one() {
    let coats = |number: u32| {
        let text =
            study(MAP, "").replacen("a spray sealant\n", "a spray sealant\n    coats 2 after 4 to 24 h\n", 1);
        paper(
            &text
                .replacen(
                    "product thyme",
                    &format!("product mint\n    like bay\n    coats {number}\nproduct thyme"),
                    1,
                )
                .replacen("bay    bare   thyme", "mint   bare   thyme", 1),
            "checklist.html",
        )
    };
    assert!(coats(2).matches("the next after 4 to 24 h").count() == 2, "{}", coats(2));
    assert!(coats(1).matches("the next after 4 to 24 h").count() == 1, "{}", coats(1));
}

/// A caution of one place does not stand at another.
#[test]
fn cautions_of_a_place_stand_at_that_place() {
    let racks = "surface boards\n    material oak\n    each 300 x 90 mm\nmap roof rack 1 rows of 3\n    | bay bare rue |\nmap sea rack 1 rows of 3\n    | bare rue bay |\n\
        exposure roof \"Roof in town\"\n    put out 2025-06-10\nexposure sea \"Sea wall\"\n    put out 2025-06-10\n";
    let text = study(MAP, "");
    let (head, rest) = text.split_at(text.find("surface lid").unwrap());
    let rest = &rest[rest.find("gauge pen").unwrap()..];
    let (rest, tail) = rest.split_at(rest.find("map  sections").unwrap());
    let tail = &tail[tail.find("prep").unwrap()..];
    let text = format!("{head}{rest}{racks}{tail}");
    let page = paper(&text, "checklist.html");
    let step = |title: &str| {
        page[page.find(title).expect("a step")..].split("</section>").next().unwrap_or_default()
    };
    assert!(step("out: Roof in town").contains("2 m from every edge"), "{page}");
    assert!(!step("out: Sea wall").contains("2 m from every edge"), "{page}");
}

#[test]
fn a_measure_without_a_gauge_asks_for_one_and_spray_for_a_cup() {
    let text = study(MAP, "");
    let from = text.find("gauge pen").unwrap();
    let to = text.find("measure gloss-60").unwrap();
    let page = paper(&format!("{}{}", &text[..from], &text[to..]), "checklist.html");
    assert!(page.contains("A gauge for gloss-60; name it in the study"), "{page}");
    assert!(page.contains("A cup to spray into, and card or film to shield what lies beside"));
    assert!(!paper(&text, "checklist.html").contains("A gauge for gloss-60"));
}

/// Words for a tilt, and a name for print of a gauge.
#[test]
fn a_panel_may_stand_upright_and_a_gauge_has_a_name_for_print() {
    let placed =
        |lines: &str| format!("{}exposure \"Yard\"\n{lines}    put out 2025-06-10\n", study(MAP, ""));
    for (lines, deg) in [
        ("    faces north, upright\n", 90.0),
        ("    faces north, tilt upright\n", 90.0),
        ("    upright\n", 90.0),
        ("    faces north, flat\n", 0.0),
        ("    faces north, tilt 45 deg\n", 45.0),
    ] {
        let outcome = check("lid.study", &placed(lines), &[], Day::AsOf(DAY));
        let told: Vec<_> = outcome.findings.iter().map(|one| one.message.as_str()).collect();
        assert_eq!(outcome.study.exposures[0].tilt_deg, Some(deg), "{lines}: {told:?}");
    }
    let named = with("gauge pen\n", "gauge pen \"Pen meter 60 deg\"\n");
    let page = paper(&named, "checklist.html");
    assert!(page.contains("Pen meter 60 deg <span class=\"for\">– reads gloss-60"), "{page}");
}
