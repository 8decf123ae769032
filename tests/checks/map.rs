//! The map: outlines against each other, the panel and the gauge; places against habit.

use super::{codes, found};
use tapeline::diag::Severity;

fn has(piece: &str, code: &str) -> bool {
    codes(piece).contains(&code)
}

fn surface(lines: &str) -> String {
    format!("surface panel\n    material clearcoat on steel\n    size 880 x 580 mm\n{lines}")
}

fn map(head: &str, rows: &[&str]) -> String {
    let rows: Vec<String> = rows.iter().map(|row| format!("    | {row} |\n")).collect();
    format!("map {head}\n{}", rows.concat())
}

const HEAD: &str = "sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm";

#[test]
fn a_round_dent_counts_as_round() {
    // C4 ends at 762 mm from left and 428 mm from top. The box around the first dent reaches into it.
    let dent = |left: u32, top: u32| {
        surface(&format!(
            "    avoid dent round, 20 mm across, centre left {left} mm, top {top} mm because \"filled\"\n"
        ))
    };
    assert!(!has(&dent(770, 436), "on-avoided-area"));
    assert!(found(&dent(766, 432), "on-avoided-area").about.contains(&"C4".to_owned()));
}

#[test]
fn one_area_is_one_finding_with_all_its_sections() {
    let piece = surface("    curved swage from left 0 mm, top 300 mm size 880 x 20 mm because \"pressed\"\n");
    let finding = found(&piece, "on-curved-area");
    assert!(finding.message.starts_with("`C1`, `C2`, `C3` and `C4` lie"), "{}", finding.message);
    assert_eq!(codes(&piece).iter().filter(|code| **code == "on-curved-area").count(), 1);
}

#[test]
fn a_panel_with_a_corner_cut_off_is_no_rectangle() {
    let cut = "surface panel\n    material clearcoat on steel\n    \
               corners 0 x 0, 880 x 0, 880 x 240, 540 x 580, 0 x 580 mm\n";
    let finding = found(cut, "off-the-surface");
    assert!(
        finding.message.contains("off `panel`") && finding.about.contains(&"C4".to_owned()),
        "{}",
        finding.message
    );
}

#[test]
fn a_foot_may_stand_and_a_foot_that_does_not_fit_is_an_error() {
    let rows = ["bay clove bare cumin", "bare cumin bay clove", "clove bay cumin bare"];
    let piece = |size: &str| map(&format!("sections {size} gap 18 mm from left 44 mm, top 44 mm"), &rows);
    assert!(!has(&piece("55 x 120 mm"), "smaller-than-foot"));
    assert_eq!(found(&piece("54 x 120 mm"), "smaller-than-foot").severity, Severity::Warning);
    assert_eq!(found(&piece("44 x 120 mm"), "smaller-than-foot").severity, Severity::Error);
}

#[test]
fn a_named_section_needs_its_gap_too() {
    let rows = ["bay clove bare cumin", "bare cumin bay clove", "clove bay cumin bare"];
    let piece = |top: u32| {
        format!(
            "{}    section E1 of bare, from left 40 mm, top {top} mm, size 150 x 100 mm\n",
            map(HEAD, &rows)
        )
    };
    assert!(!has(&piece(440), "gap-narrower-than-tape"));
    assert!(found(&piece(431), "gap-narrower-than-tape").message.contains("3 mm between `C1` and `E1`"));
    assert!(has(&piece(427), "sections-overlap"));
    assert!(!has(&piece(427), "gap-narrower-than-tape"));
}

#[test]
fn a_map_without_a_gap_has_no_room_for_tape() {
    let rows = ["bay clove bare cumin", "bare cumin bay clove", "clove bay cumin bare"];
    let piece = map("sections 166 x 116 mm from left 44 mm, top 44 mm", &rows);
    assert!(found(&piece, "gap-narrower-than-tape").message.starts_with("the map has no gap"));
}

#[test]
fn a_habit_is_one_finding_for_all_products() {
    let piece = map(HEAD, &["bay bay bay bare", "clove clove clove bare", "cumin cumin bare cumin"]);
    let finding = found(&piece, "like-products-together");
    assert!(finding.message.contains("`bay` and `clove`"), "{}", finding.message);
    assert_eq!(finding.about, ["map"]);
}

#[test]
fn a_name_that_is_not_known_may_be_a_bare_section() {
    let piece = map(HEAD, &["bay clove baer cumin", "bay cumin bay clove", "clove bay cumin bay"]);
    let codes = codes(&piece);
    assert!(codes.contains(&"undefined-name"));
    for code in ["no-bare-section", "product-not-on-map", "like-products-together"] {
        assert!(!codes.contains(&code), "{code}");
    }
}

#[test]
fn bare_sections_in_one_half_are_bunched_though_they_do_not_touch() {
    let piece = map(HEAD, &["bare clove bay cumin", "bay bare cumin clove", "bare cumin clove bay"]);
    assert!(found(&piece, "bare-sections-bunched").message.ends_with("all lie in the left half"));
    let row = map(HEAD, &["bay clove cumin bay", "bare bare bare bare", "clove cumin bay clove"]);
    assert!(found(&row, "bare-sections-bunched").message.ends_with("all touch each other"));
}

#[test]
fn one_bare_section_is_few_where_products_have_several() {
    let piece = map(HEAD, &["bay clove bare cumin", "cumin bay clove .", "clove cumin bay ."]);
    assert!(has(&piece, "few-bare-sections"));
}

#[test]
fn a_benchmark_may_have_more_sections() {
    let piece = map(HEAD, &["bay clove bare cumin", "bare bay clove bay", "bay cumin bare bay"]);
    assert!(has(&piece, "unequal-sections"));
    assert!(!has(&format!("benchmark bay\n{piece}"), "unequal-sections"));
}

#[test]
fn many_sections_off_the_panel_are_one_finding() {
    let row = "bay clove bare cumin ".repeat(25);
    let piece = map("sections 120 x 60 mm gap 10 mm from left 10 mm, top 10 mm", &vec![row.trim(); 100]);
    let codes = codes(&piece);
    assert_eq!(codes.iter().filter(|code| **code == "off-the-surface").count(), 1);
    assert!(!codes.contains(&"sections-overlap"));
}

#[test]
fn a_spot_lies_in_its_foot_whichever_way_it_is_written() {
    let gauge = |spot: &str, foot: &str| {
        format!("gauge glossy\n    reads gloss-20\n    spot {spot}\n    foot {foot}\n    spread 0.2 GU\n")
    };
    for (spot, foot, told) in [
        ("12 mm across", "30 mm across", false),
        ("30 mm across", "12 mm across", true),
        ("40 x 10 mm", "45 x 110 mm", false),
        ("10 x 60 mm", "50 x 50 mm", true),
        ("1 inch across", "25.4 x 25.4 mm", false),
    ] {
        assert_eq!(has(&gauge(spot, foot), "spot-larger-than-foot"), told, "{spot} in {foot}");
    }
    let message = found(&gauge("30 mm across", "12 x 10 mm"), "spot-larger-than-foot").message;
    assert_eq!(message, "the spot of `glossy`, 30 mm across, is larger than its foot, 12 x 10 mm");
}

/// Rows of a tilted panel get unlike water: a product of one row, or one that is never in a row though it has a section for each.
#[test]
fn a_product_of_one_row_is_told_on_a_tilted_panel_only() {
    let one_row = map(HEAD, &["bay clove bare bay", "bare cumin clove bare", "clove bare cumin clove"]);
    let finding = found(&one_row, "product-in-one-row");
    assert!(finding.severity == Severity::Advice && finding.message.contains("all of `bay` stands in row A"));
    assert!(finding.help[0].starts_with("exchange `A1` with "), "{}", finding.help[0]);
    let never = map(HEAD, &["bay clove bare bay", "bay cumin clove bare", "clove bare cumin clove"]);
    assert!(found(&never, "product-in-one-row").message.contains("`bay` never stands in row C"));
    // The exchange that is proposed leaves none.
    let mended = map(HEAD, &["clove cumin bare bay", "bare bay clove bare", "bay bare cumin clove"]);
    assert!(!has(&mended, "product-in-one-row"));
    let flat = format!("{one_row}exposure \"Test yard\"\n    flat\n    put out 2026-03-12\n");
    assert!(!has(&flat, "product-in-one-row"));
    // One section each, or a single row, cannot be spread.
    for rows in
        [&["bay clove", "cumin bare", "bare bare"][..], &["bay bare clove bay cumin clove bare cumin"]]
    {
        let small = map("sections 60 x 60 mm  gap 18 mm", rows);
        assert!(!has(&small, "product-in-one-row"), "{rows:?}");
    }
}

/// Beyond the other rows nothing is asked of a place, so a study with one builds nothing.
#[test]
fn a_place_too_many_is_an_error_and_one_too_few_is_none() {
    let row = |places: &str| {
        let map = "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n";
        let piece = format!(
            "{map}    | bay    clove  bare   cumin  |\n    {places}\n    | clove  bay    cumin  bare   |\n"
        );
        found(&piece, "ragged-rows").severity
    };
    assert_eq!(row("| bare cumin bay clove bare |"), Severity::Error);
    assert_eq!(row("| bare cumin bay |"), Severity::Warning);
}
