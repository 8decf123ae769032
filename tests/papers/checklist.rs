//! The checklist carries a safety box beside every chemical step.

use super::{MAP, output, study};
use tapeline::pipeline::check;

fn checklist(text: &str) -> String {
    output(&check("lid.study", text, &[], super::DAY), "checklist.html")
}

fn replaced(with: &str) -> String {
    study(MAP, "").replace("    wash  with soap, rinse\n", with)
}

#[test]
fn every_chemical_step_has_its_box() {
    let page = checklist(&study(MAP, ""));
    // Wash in preparation, four products, wash before each round; drying and the baseline reading need none.
    assert_eq!(page.matches("<aside class=\"card\">").count(), 6);
    assert_eq!(page.matches("<article").count(), 9);
    assert!(page.contains("H319") && page.contains("Local poison centre"));
    assert!(page.contains("Follow local codes and licensed practice"));
}

#[test]
fn a_step_of_unknown_class_stops_the_work() {
    let text =
        replaced("    wash  with mystery, rinse\n").replace("supply soap", "supply mystery\nsupply soap");
    let page = checklist(&text);
    assert!(
        page.contains("class not stated: follow the product&#39;s data sheet; do not start without it"),
        "{page}"
    );
    let none = checklist(&replaced("    wash  rinse\n"));
    assert!(none.contains("class not stated"), "a wash with nothing named");
}

#[test]
fn isopropanol_is_labelled_by_its_strength() {
    let text = replaced("    wash  with soap, rinse\n    wipe  with spirit 5 % by volume\n")
        .replace("supply soap", "supply spirit, isopropanol\n    strength 99 % by volume\nsupply soap");
    let weak = checklist(&text);
    let neat = checklist(&text.replace("spirit 5 % by volume", "spirit"));
    assert!(weak.contains("5 % by volume is about 4 % by mass"), "{weak}");
    assert!(neat.contains("99 % by volume is about 99 % by mass"));
    let flammable = "Highly flammable liquid and vapour";
    assert_eq!((weak.matches(flammable).count(), neat.matches(flammable).count()), (0, 1));
}

#[test]
fn chemicals_that_must_not_meet_stand_at_the_top() {
    let text = replaced("    wash  with bleach, rinse\n    wash  with soap, rinse\n    decontaminate  with lime-off for 3 min, rinse\n")
        .replace("supply soap", "supply bleach, hypochlorite\nsupply lime-off, an acid cleaner\nsupply soap");
    let page = checklist(&text);
    let box_at = page.find("These must never meet").unwrap();
    assert!(box_at < page.find("Before work starts").unwrap());
    assert!(
        page[box_at..].contains("bleach (bleach) with lime-off (acid cleaner)"),
        "{}",
        &page[box_at..box_at + 900]
    );
    assert!(!checklist(&study(MAP, "")).contains("These must never meet"));
}

#[test]
fn oily_rags_are_named_for_oils_only() {
    let oil = study(MAP, "").replace("\"Rue spray\", a spray sealant", "\"Rue oil\", a drying oil");
    assert!(checklist(&oil).contains("Oily rags heat up by themselves"));
    assert!(!checklist(&study(MAP, "")).contains("Oily rags"));
}

#[test]
fn the_foot_of_each_page_has_study_page_date_and_version() {
    let page = checklist(&study(MAP, ""));
    assert!(page.contains("counter(page) \" of \" counter(pages)"));
    assert!(page.contains("Four sprays on a locker lid"), "{page}");
    assert!(page.contains("2026\\2d 01\\2d 10"), "the date in the foot");
}
