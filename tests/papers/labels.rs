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

/// The labels of a page: the code, and what stands below it.
fn labels(page: &str) -> Vec<(&str, &str)> {
    let all = between(page, "<li>", "</li>");
    let code = |label: &&'_ str| label.split_once("\">").unwrap().1.split_once("</span>").unwrap().0.len();
    all.iter()
        .map(|label| {
            let rest = label.split_once("\">").unwrap().1;
            (&rest[..code(label)], between(label, "<span class=\"of\">", "</span>")[0])
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
        found.iter().all(|(_, of)| *of == "Four sprays on a locker lid<br>Application 2025-06-03"),
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
