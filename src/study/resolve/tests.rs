//! Resolving on the frame: what is bound, and that one mistake stays one finding.

use super::resolve;
use crate::catalog::Catalog;
use crate::study::{Placing, Study, Treatment, Verb};
use crate::syntax::parse;
use jiff::civil::date;

const FRAME: &str = include_str!("../../checks/frame.study");

fn both(text: &str) -> (Study, Vec<String>) {
    let (tree, mut findings) = parse(text);
    let (study, more) = resolve(&tree, Catalog::built_in(), None);
    findings.extend(more);
    (study, findings.into_iter().map(|finding| format!("{}: {}", finding.code, finding.message)).collect())
}

#[test]
fn the_frame_is_bound_whole() {
    let (study, findings) = both(FRAME);
    assert_eq!(findings, [""; 0]);
    assert_eq!(study.sections.len(), 12);
    assert_eq!(study.sections_of(Treatment::Bare).count(), 3);
    assert_eq!(study.prep.iter().map(|step| step.verb).next_back(), Some(Verb::Label));
    let month = study.round(study.round_named("month 3").unwrap());
    assert!(matches!(month.placing, Placing::After(..)));
    assert_eq!(month.date(), Some(date(2026, 6, 3)));
    assert_eq!(month.reads.len(), 1);
    assert_eq!(month.reads[0].times, 5);
    assert!(
        study.supplies.iter().all(|supply| supply.kind.as_ref().is_some_and(|kind| kind.class.is_some()))
    );
    assert!(study.products.iter().all(|product| product.price.is_some()));
}

#[test]
fn sections_are_named_by_row_and_place_and_lie_where_they_are_drawn() {
    let (study, _) = both(FRAME);
    let c3 = study.sections.iter().find(|section| section.code == "C3").unwrap();
    let (left, top, right, bottom) = c3.outline.as_ref().unwrap().bounds();
    assert_eq!((left, top, right, bottom), (412.0, 312.0, 578.0, 428.0));
}

#[test]
fn a_place_from_the_right_is_the_same_as_one_from_the_left() {
    let moved = FRAME.replace("from left 44 mm, top 44 mm", "from right 118 mm, bottom 152 mm");
    let (study, findings) = both(&moved);
    assert_eq!(findings, [""; 0]);
    let (left, top, ..) = study.sections[0].outline.as_ref().unwrap().bounds();
    assert_eq!((left, top), (44.0, 44.0));
}

#[test]
fn one_mistake_is_one_finding() {
    let cases = [
        (
            "two readings agree within 0.4 GU",
            "two readings agree within 0.4 mim",
            "unknown-unit: there is no unit `mim`",
        ),
        (
            "size        880 x 580 mm",
            "size        880 x 580 min",
            "wrong-dimension: `580 min` is a time, but a length belongs here",
        ),
        ("2026-03-03 from", "03/04/2026 from", "day-or-month-first: `03/04/2026` can be read two ways"),
        ("begins      2026-03-02", "begins      2026-02-30", "no-such-day: there is no day `2026-02-30`"),
        (
            "begins      2026-03-02",
            "begins      2026-3-2",
            "date-spelling: a date is year, month, day with two figures each",
        ),
        (
            "with soap,  1 part to 200 water",
            "with soap,  3:1",
            "mix-two-ways: `3:1` does not say what its parts are",
        ),
        ("spirit 35 % by volume", "spirit 35 %", "percent-of-what: `35 %` does not say percent of what"),
        ("| bare   cumin  bay", "| control cumin bay", "undefined-name: no product is called `control`"),
        (
            "product bay \"Bay seal\",",
            "product bay \"Bay seal\" iz",
            "unreadable-line: `iz` does not fit here",
        ),
        ("gloss-20 at month 3", "gloss-20 at month 4", "undefined-name: no round is called `month 4`"),
        (
            "for 5 min,  rinse",
            "5 min,  rinse",
            "time-of-what: a time alone does not say whether it acts or waits",
        ),
        ("reads       gloss-20", "reads       glos-20", "undefined-name: no measure is called `glos-20`"),
        (
            "alike       within 2 GU",
            "alike       within 2,5 GU",
            "comma-in-number: `2,5` has a comma where decimals have a point",
        ),
        (
            "flash       2 to 4 min\n    dry         12 h\n    cure        7 days\n    sheet       \"bay",
            "flash       4 to 2 min\n    dry         12 h\n    cure        7 days\n    sheet       \"bay",
            "range-backwards: this range runs from the higher to the lower value",
        ),
        ("product clove", "product bay", "duplicate-name: product `bay` stands twice"),
    ];
    for (from, to, expected) in cases {
        assert!(FRAME.contains(from), "{from}");
        let (_, findings) = both(&FRAME.replacen(from, to, 1));
        // A name that is gone is then missing where it was used; everything else is one finding.
        let findings: Vec<&String> = findings.iter().filter(|found| !found.contains("`clove`")).collect();
        assert_eq!(findings, [expected], "{to}");
    }
}

#[test]
fn harmless_variants_are_taken() {
    let study = FRAME
        .replace("880 x 580 mm", "880 mm × 580 mm")
        .replace("2 to 4 min", "2-4 mins")
        .replace("18 to 22 degC", "18 °C to 22 °C")
        .replace("for 5 min", "For 5 min")
        .replace("100 to 130 um", "100..130 µm")
        .replace("| bay    clove", "| BAY    Clove")
        .replace("\"Test yard\"", "“Test yard”");
    assert_eq!(both(&study).1, [""; 0]);
}

#[test]
fn a_beginner_needs_few_lines() {
    let text = "study \"Three mists\"\n  begins 2026-08-24\nsurface door\n  size 880 x 580 mm\nmeasure gloss-60\nproduct sage \"Sage\"\nproduct rose\nproduct mint\nprep\n  wash with shampoo, 1 part to 200 water, rinse\n  dry\nmap sections 175 x 135 mm gap 24 mm\n  | sage bare rose mint |\n  | mint rose bare sage |\nrounds\n  baseline gloss-60 3 times\n  week 4 gloss-60 3 times\nreadings \"sheet.csv\"\n";
    let (study, findings) = both(text);
    assert_eq!(findings, [""; 0]);
    assert!(study.assumed.iter().any(|line| line.contains("middle of the surface")), "{:?}", study.assumed);
    assert_eq!(
        study.measures[0].alike.map(|alike| alike.value),
        Catalog::built_in().measure("gloss-60").unwrap().alike
    );
}

#[test]
fn the_coarsest_gauge_speaks_for_a_measure_in_the_unit_of_the_measure() {
    let (study, findings) = both(
        "surface door\n  size 880 x 580 mm\nmeasure film in um\n  neither is better\n\
         gauge pen\n  reads film\n  two readings agree within 2.8 um\n\
         gauge old\n  reads film\n  spread 0.1 mil\n\
         gauge none\n  reads film\n  spread 5 GU\n\
         map sections 175 x 135 mm gap 24 mm\n  | bare bare |\nrounds\n  baseline film 3 times\nstudy \"Film\"\n  begins 2026-03-02\n",
    );
    assert_eq!(findings, [""; 0]);
    let film = study.gauges[0].reads[0].value;
    // International yard and pound agreement, 1959: 0.1 mil is 2.54 um; ISO 5725-6: 2.8 spreads for two readings.
    assert!((study.gauge_spread(film).unwrap() - 2.54).abs() < 1e-12);
    assert!((study.gauge_limit(film).unwrap() - 2.8 * 2.54).abs() < 1e-12);
    assert_eq!(study.gauges[0].spread_in(&study.measure(film).unit), Some(1.0));
    assert_eq!(study.gauges[2].spread_in(&study.measure(film).unit), None);
}

#[test]
fn a_kind_in_a_table_has_its_class_with_and_without_its_article() {
    let table = "products, a wax\n    | name | kind |\n    | rue  | an isocyanate coating |\n    \
                 | fig  | isocyanate coating |\n    | hop  | A Two-Pack Coating |\n    | yew  | - |\n";
    let (study, findings) = both(&format!("{FRAME}{table}"));
    assert_eq!(findings, [""; 0]);
    let class = |name: &str| {
        let product = study.products.iter().find(|product| product.name.value == name);
        product.unwrap().kind.as_ref().unwrap().class.unwrap().id
    };
    assert_eq!(["rue", "fig", "hop"].map(class), ["isocyanate-coating"; 3]);
    assert_eq!(class("yew"), "wax");
}

#[test]
fn a_step_by_a_kind_takes_the_supply_of_that_name_where_there_is_one() {
    let text = FRAME
        .replace("supply iron-off,", "supply iron-remover,")
        .replace("with iron-off", "with iron remover");
    let (study, findings) = both(&text);
    assert_eq!(findings, [""; 0]);
    assert_eq!(study.supplies.len(), 5);
    assert_eq!(study.supply(study.prep[1].with.as_ref().unwrap().value).name.value, "iron-remover");
}
