//! The map is true to scale, whatever its sections are.

use super::{HEAD, MAP, TAIL, changes, output, readings, sound, study};
use tapeline::pipeline::{Day, check};

#[test]
fn a_section_is_drawn_in_mm_where_it_lies() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let svg = output(&sound(&study(MAP, ""), &csv), "map.svg");
    // B3: 44 + 2 x (150 + 20) from the left, 44 + 120 + 20 from the top.
    assert!(svg.contains(r#"<rect x="384" y="184" width="150" height="120" class="section""#), "{svg}");
    assert!(svg.contains(r#"<rect x="0" y="0" width="900" height="700" class="panel""#));
    assert!(svg.contains(">200 mm</text>") && svg.contains(">up</text>") && svg.contains(">datum</text>"));
}

#[test]
fn colours_of_the_file_are_literal_and_bare_is_hatched() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let svg = output(&sound(&study(MAP, ""), &csv), "map.svg");
    assert!(!svg.contains("var("), "viewers outside of a browser know no custom properties");
    assert_eq!(svg.matches("fill:url(#map-bare)").count(), 4);
}

#[test]
fn ten_thousand_sections_are_drawn() {
    let row = format!("    |{}|\n", " bay bare".repeat(50));
    let map = format!("\nmap  sections 8 x 6 mm  gap 1 mm  from left 0 mm, top 0 mm\n{}", row.repeat(100));
    let text = format!("{HEAD}{map}{TAIL}");
    let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
    assert_eq!(outcome.study.sections.len(), 10_000);
    let svg = output(&outcome, "map.svg");
    // The paper, the panel and the grounds of four hatches are rectangles too.
    assert_eq!(svg.matches("<rect").count(), 10_000 + 6);
}

#[test]
fn a_map_without_measures_says_what_is_not_drawn() {
    let text = study(MAP, "").replace("  sections 150 x 120 mm  gap 20 mm  from left 44 mm, top 44 mm", "");
    let text = text.replace("    size        900 x 700 mm\n", "");
    let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
    let svg = output(&outcome, "map.svg");
    assert!(svg.contains("The study does not state the size of the panel."), "{svg}");
    assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
}

#[test]
fn a_panel_that_lies_flat_has_a_top_edge_and_no_way_up() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let lies = |tilt: &str| {
        sound(
            &study(MAP, &format!("\nexposure \"Roof\"\n    faces south, {tilt}\n    put out 2025-06-10\n")),
            &csv,
        )
    };
    let flat = lies("tilt 0 deg");
    let (svg, report) = (output(&flat, "map.svg"), output(&flat, "report.md"));
    assert!(svg.contains(">top</text>") && !svg.contains(">up</text>"), "{svg}");
    assert!(report.contains("towards the top edge of the map"), "{report}");
    assert!(
        report.contains("Minus the one towards the top edge") && !report.contains("Minus the one above"),
        "{report}"
    );
    let stands = lies("tilt 45 deg");
    assert!(output(&stands, "map.svg").contains(">up</text>"));
    assert!(output(&stands, "report.md").contains("Minus the one above"));
}
