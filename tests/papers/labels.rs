//! Labels to cut out: each section once, and no product on any.

use super::{MAP, changes, output, readings, sound, study};
use std::collections::BTreeSet;
use tapeline::pipeline::Outcome;

fn outcome(more: &str) -> Outcome {
    sound(&study(MAP, more), &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3))
}

/// What stands between two marks, for each time that the first comes.
fn between<'t>(text: &'t str, from: &str, to: &str) -> Vec<&'t str> {
    text.split(from).skip(1).map(|rest| rest.split(to).next().unwrap()).collect()
}

/// The labels of a page: the code, and what stands beside or below it.
fn labels(page: &str) -> Vec<(&str, Vec<&str>)> {
    between(page, "<li>", "</li>")
        .into_iter()
        .map(|one| {
            let code = one.split_once("mm\">").unwrap().1.split_once("</span>").unwrap().0;
            let rest = one.split_once("<span class=\"of\">").map_or("", |(_, rest)| rest);
            let lines = rest.split("</span>").filter_map(|part| Some(part.split_once('>')?.1));
            (code, lines.filter(|line| !line.is_empty()).collect())
        })
        .collect()
}

#[test]
fn every_section_has_one_and_none_names_a_product() {
    let outcome = outcome("");
    let page = output(&outcome, "labels.html");
    let found = labels(&page);
    let codes: BTreeSet<&str> = found.iter().map(|(code, _)| *code).collect();
    let sections: BTreeSet<&str> =
        outcome.study.sections.iter().map(|section| section.code.as_str()).collect();
    assert_eq!((codes, found.len()), (sections, 12));
    assert!(
        found.iter().all(|(_, of)| *of == ["Four sprays on a locker lid", "Coats from 2025-06-03"]),
        "{found:?}"
    );
    for product in &outcome.study.products {
        for name in [product.title(), &product.name.value] {
            assert!(!page.contains(&format!(">{name}<")) && !page.contains(&format!("{name} ")), "{name}");
        }
    }
    assert!(!page.contains(">bare<"));
}

#[test]
fn specimens_have_theirs_and_the_page_says_what_they_tell() {
    let more = "specimens slips
    material    clear acrylic
    each        50 x 50 mm
    one for each product and 2 for bare
measure haze in % on slips
    lower is better
";
    let outcome = outcome(more);
    let page = output(&outcome, "labels.html");
    let codes: Vec<&str> = labels(&page).iter().map(|(code, _)| *code).collect();
    let loose: Vec<&str> = outcome.study.loose.iter().map(|section| section.code.as_str()).collect();
    assert_eq!(&codes[12..], loose);
    assert_eq!(loose.len(), 6);
    assert!(page.contains("Specimens “slips”") && page.contains("so theirs tell it"));
}

/// The line between the sections of the small study is 20 mm wide, and a section 150 mm; a label is never wider than 60.
#[test]
fn a_label_is_no_larger_than_what_it_lies_on() {
    let page = |map: &str, more: &str| {
        let text = study(map, more).replace("readings \"readings.csv\"\n", "");
        output(&super::check("lid.study", &text, &[], super::Day::AsOf(super::DAY)), "labels.html")
    };
    let line = page(MAP, "");
    assert!(line.contains("--w: 60mm; --h: 20mm") && line.contains("in the bare line of 20 mm"), "{line}");
    let narrow = page(&MAP.replace("150 x 120 mm  gap 20 mm", "40 x 120 mm  gap 16.5 mm"), "");
    assert!(narrow.contains("--w: 40mm; --h: 16mm") && !narrow.contains("class=\"of\""), "{narrow}");
    let tape = page(&MAP.replace("gap 20 mm", "gap 6 mm"), "");
    assert!(
        tape.contains("--w: 60mm; --h: 34mm") && tape.contains("6 mm is too narrow for a label"),
        "{tape}"
    );
    let slips = |size: &str| format!("specimens slips\n    each {size}\n    one for each product and bare\n");
    assert!(page(MAP, &slips("50 x 50 mm")).contains("--w: 50mm; --h: 34mm"));
    assert!(page(MAP, &slips("10 x 50 mm")).contains("10 x 50 mm is too small for a label"));
}

#[test]
fn a_label_says_where_its_section_stands() {
    let more = "exposure \"Yard wall\"\n    put out 2025-06-12\nspecimens slips\n    each 50 x 50 mm\n    one for each product and bare\n";
    let page = output(&outcome(more), "labels.html");
    let found = labels(&page);
    assert_eq!(found.len(), 17);
    assert!(found.iter().all(|(_, of)| of.contains(&"Yard wall")), "{found:?}");
}
