//! Measures, surfaces, climate and the lines for the papers.

use tapeline::catalog::FilmGauge;

use crate::{catalog, class, close};

#[test]
fn gloss_above_one_hundred_is_legal() {
    for id in ["gloss-20", "gloss-60", "gloss-85"] {
        let gloss = catalog().measure(id).expect("a measure");
        assert_eq!(gloss.unit, "GU");
        assert_eq!((gloss.alike, gloss.seen), (Some(2.0), Some(5.0)));
        assert!(gloss.is_possible(137.6) && gloss.is_possible(0.0) && gloss.is_possible(2000.0));
        assert!(!gloss.is_possible(-0.1) && !gloss.is_possible(2000.1) && gloss.made.is_none());
    }
}

#[test]
fn measures_have_limits_in_order_and_known_names() {
    for measure in catalog().measures() {
        assert!(measure.possible_min < measure.possible_max, "{}", measure.id);
        if let (Some(alike), Some(seen)) = (measure.alike, measure.seen) {
            assert!(alike < seen && measure.seen_to.is_some_and(|to| seen < to), "{}", measure.id);
        }
    }
    let id = |name: &str| catalog().measure(name).expect("a measure").id;
    assert_eq!(id("water contact angle"), "contact-angle");
    assert_eq!(id("Film Thickness"), "film");
    assert!(catalog().measure("gloss").is_none(), "a bare gloss is asked about, not guessed");
    assert!(catalog().measure("blocked-uv").expect("a measure").made.is_some());
    assert!(catalog().measure("colour").expect("a measure").made.is_some());
}

#[test]
fn the_film_gauge_fits_the_material() {
    let gauge = |name: &str| catalog().surface(name).map(|surface| surface.film_gauge);
    assert_eq!(gauge("steel"), Some(FilmGauge::Magnetic));
    assert_eq!(gauge("aluminium"), Some(FilmGauge::EddyCurrent));
    for name in ["gelcoat", "wood", "plastic"] {
        assert_eq!(gauge(name), Some(FilmGauge::Ultrasonic), "{name}");
    }
    assert_eq!(catalog().surface("steel").expect("a surface").standard, "ISO 2178");
}

#[test]
fn the_material_is_read_out_of_a_description() {
    let id = |text: &str| catalog().surface_in(text).map(|surface| surface.id);
    assert_eq!(id("clearcoat on steel, white"), Some("steel"));
    assert_eq!(id("clearcoat on stainless steel"), Some("stainless"));
    assert_eq!(id("acrylic lacquer on aluminium"), Some("aluminium"));
    assert_eq!(id("gelcoat, ten years old"), Some("gelcoat"));
    assert_eq!(id("oil on larch cladding"), Some("wood"));
    assert_eq!(id("unknown stuff"), None);
}

#[test]
fn bare_materials_name_what_attacks_them() {
    let aluminium = catalog().surface("aluminium").expect("a surface");
    assert_eq!(aluminium.harms(class("alkaline cleaner")).count(), 1);
    assert_eq!(aluminium.harms(class("shampoo")).count(), 0);
}

#[test]
fn the_climate_rule_is_three_degrees_by_its_standards() {
    let climate = catalog().climate().expect("a rule");
    assert!(close(climate.margin_deg_c, 3.0, 0.0));
    assert!(close(climate.humidity_max_percent, 85.0, 0.0));
    let source = climate.source.as_str();
    assert!(source.contains("ISO 8502-4") && source.contains("ISO 12944-7"));
    assert!(climate.margin_text.contains("the limit that trade practice uses"));
}

#[test]
fn the_lines_of_the_papers_are_here() {
    let c = catalog();
    assert!(c.line("poison-centre").expect("a line").text.contains("poison centre"));
    let rags = c.line("oily-rags").expect("a line").text;
    assert!(rags.contains("closed metal can") && rags.contains("flat outdoors"));
    let unknown = "class not stated: follow the product's data sheet; do not start without it";
    assert_eq!(c.line("unknown-class").expect("a line").text, unknown);
    let ids = |name| c.lines_for(class(name)).iter().map(|line| line.id).collect::<Vec<_>>();
    assert_eq!(ids("fluoride cleaner"), ["gluconate-gel"]);
    assert!(ids("isocyanate coating").contains(&"isocyanate-training"));
    assert!(ids("drying oil").contains(&"oily-rags"));
}

#[test]
fn nothing_is_called_safe() {
    let c = catalog();
    let texts = c.lines().iter().map(|line| line.text);
    let cautions = c.classes().iter().flat_map(|class| class.handling.cautions.iter().copied());
    for text in texts.chain(cautions) {
        let words = text.to_lowercase();
        assert!(!words.split(|c: char| !c.is_alphabetic()).any(|word| word == "safe"), "{text}");
    }
}
