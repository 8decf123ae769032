//! Spray cans: their label, cautions, storage and waste stand on every paper besides those of what is in them.

use super::{MAP, output, study};
use tapeline::catalog::Catalog;
use tapeline::pipeline::{Day, Outcome, check};

/// A study with one more supply, which a wipe uses.
fn with(supply: &str) -> Outcome {
    let text = study(MAP, "")
        .replace("    dry\n\napply", "    dry\n    wipe with blast, fresh cloth, wait 5 min\n\napply")
        .replacen("supply soap", &format!("{supply}\nsupply soap"), 1);
    check("lid.study", &text, &[], Day::AsOf(super::DAY))
}

fn card(outcome: &Outcome) -> String {
    let page = output(outcome, "safety-cards.html");
    let cards: Vec<&str> = page.split("<article class=\"card\">").skip(1).collect();
    let own = cards.into_iter().find(|card| card.contains("<strong>blast</strong>")).unwrap();
    own.split("</article>").next().unwrap().to_owned()
}

fn has(card: &str, code: &str) -> bool {
    card.contains(&format!("<strong>{code}</strong>"))
}

fn codes(outcome: &Outcome) -> Vec<&'static str> {
    outcome.findings.iter().map(|finding| finding.code).collect()
}

/// CLP Regulation (EC) 1272/2008, Annex I, table 2.3.1: category 1 has the flame, Danger, H222 and H229, and P210, P211, P251 and
/// P410+P412. That an aerosol is not classified as a flammable liquid besides: UN GHS, chapter 2.3, from memory.
#[test]
fn a_spray_can_has_the_label_of_an_aerosol_and_that_of_its_content() {
    let plain = card(&with("supply blast, an acetone\n    sheet \"b.pdf\""));
    assert!(has(&plain, "H225") && has(&plain, "P240") && !has(&plain, "H222") && !has(&plain, "P251"));
    let can = card(&with("supply blast, an acetone\n    packed aerosol\n    sheet \"b.pdf\""));
    for code in ["H222", "H229", "P210", "P211", "P251", "P410+P412"] {
        assert!(has(&can, code), "{code}");
    }
    for code in ["H319", "H336", "P261", "P271", "P305+P351+P338"] {
        assert!(has(&can, code), "{code} of its content");
    }
    // Vessels that are bonded belong to a liquid that is poured.
    assert!(!has(&can, "H225") && !has(&can, "P240") && !has(&can, "P403+P235"), "{can}");
    assert!(can.contains("Aerosol 1;") && !can.contains("Aerosol 1, 2 or 3"), "{can}");
    assert!(can.contains("GHS02") && can.contains("<span class=\"signal\">Danger</span>"));
    assert!(can.contains("blast: acetone, in a spray can"), "{can}");
    assert!(
        can.contains("Never above 50 °C, in the sun") && can.contains("Do not pierce, crush or burn the can")
    );
    assert!(can.contains("Source: UN GHS, chapter 2.3 and Annex 3"), "{can}");
}

#[test]
fn every_word_for_a_spray_can_is_taken() {
    for words in ["aerosol", "as aerosol", "spray can", "in a spray can", "as an aerosol"] {
        let outcome = with(&format!("supply blast, an acetone\n    packed {words}\n    sheet \"b.pdf\""));
        assert!(has(&card(&outcome), "H222"), "{words}");
        assert!(!codes(&outcome).contains(&"packing-not-stated"), "{words}");
    }
}

#[test]
fn a_spray_paint_is_a_spray_can_without_a_word() {
    let paint = card(&with("supply blast, a spray paint\n    sheet \"b.pdf\""));
    for code in ["H222", "H229", "H319", "H336", "P210", "P211", "P251", "P410+P412"] {
        assert!(has(&paint, code), "{code}");
    }
    assert_eq!(paint.matches("Never above 50 °C").count(), 1);
    assert!(!paint.contains("in a spray can, in a spray can"));
}

#[test]
fn the_step_says_what_a_spray_can_asks_for() {
    let outcome = with("supply blast, an acetone\n    packed aerosol\n    sheet \"b.pdf\"");
    let list = output(&outcome, "checklist.html");
    let step = &list[list.find("Wipe with blast").unwrap()..];
    let step = step.split("</article>").next().unwrap();
    for words in [
        "Spray can: never toward a flame",
        "never above 50 °C",
        "Never pierced or burnt, even when empty",
        "<strong>H222</strong>",
    ] {
        assert!(step.contains(words), "{words}: {step}");
    }
    let plain = output(&with("supply blast, an acetone\n    sheet \"b.pdf\""), "checklist.html");
    assert!(!plain.contains("Spray can:"));
}

#[test]
fn what_the_data_sheet_states_of_a_can_is_kept_and_what_it_lacks_is_told() {
    let of = |hazards: &str| {
        with(&format!(
            "supply blast, an acetone\n    packed aerosol\n    sheet \"b.pdf\"\n    hazards {hazards}"
        ))
    };
    // Category 3: H229 alone, no flame (the same table).
    let third = of("H229, P210, P251, P410+P412");
    assert!(!has(&card(&third), "H222") && card(&third).contains("<span class=\"signal\">Warning</span>"));
    assert!(!codes(&third).contains(&"aerosol-not-on-sheet"));
    let liquid = of("H225, H319, P210");
    assert!(codes(&liquid).contains(&"aerosol-not-on-sheet"));
    let card = card(&liquid);
    assert!(has(&card, "H222") && has(&card, "H229") && has(&card, "H225"), "nothing stated is lost: {card}");
    assert!(has(&card, "P211") && has(&card, "P410+P412"));
}

/// The label stands in the statements of a data sheet too, where the study does not say how the thing is packed.
#[test]
fn a_sheet_with_h229_makes_a_spray_can() {
    let outcome = with("supply blast, an acetone\n    sheet \"b.pdf\"\n    hazards H222, H229, H336");
    assert!(card(&outcome).contains("Do not pierce, crush or burn the can"));
    assert!(!codes(&outcome).contains(&"packing-not-stated"));
}

#[test]
fn a_can_of_a_class_that_is_not_known_has_the_label_of_a_can() {
    let card = card(&with("supply blast, moon dust\n    packed aerosol\n    sheet \"b.pdf\""));
    assert!(
        has(&card, "H222") && has(&card, "H229") && has(&card, "P251") && card.contains("class not stated")
    );
    assert!(card.contains("GHS02") && card.contains("Do not pierce, crush or burn the can"), "{card}");
}

#[test]
fn what_may_be_a_can_is_asked_about() {
    let asked = |supply: &str| {
        codes(&with(&format!("{supply}\n    sheet \"b.pdf\""))).contains(&"packing-not-stated")
    };
    assert!(asked("supply blast \"Parts spray\", an acetone"));
    assert!(asked("supply blast \"Foam aerosol\", a shampoo"));
    assert!(asked("supply blast \"Wheel cleaner in a spray can\", a shampoo"));
    assert!(!asked("supply blast \"Parts spray\", an acetone\n    packed bottle"));
    assert!(!asked("supply blast \"Parts spray\", a shampoo"), "water does not burn");
    assert!(!asked("supply blast, an acetone"));
    let product = study(MAP, "").replacen("\"Bay spray\"", "\"Bay aerosol\"", 1);
    assert!(codes(&check("lid.study", &product, &[], Day::AsOf(super::DAY))).contains(&"packing-not-stated"));
}

/// The pack is held against the statements that it adds (UN GHS, Annex 3, section 3: precautions by hazard).
#[test]
fn the_precautions_of_the_pack_are_those_of_its_statements() {
    let catalog = Catalog::built_in();
    let pack = catalog.aerosol().unwrap();
    let of: Vec<&str> =
        pack.statements.iter().flat_map(|code| catalog.hazard(code).unwrap().precautions.clone()).collect();
    assert!(pack.precautions.iter().all(|code| of.contains(code)));
    assert!(pack.displaced.iter().all(|code| catalog.hazard(code).is_some()));
}

#[test]
fn a_can_is_not_measured_and_a_mix_that_is_forbidden_has_no_amounts() {
    let steps = |supply: &str| output(&with(supply), "checklist.html");
    let thinned = "an isocyanate coating\n    mix 1 part to 3 water\n    sheet \"b.pdf\"";
    let forbidden = steps(&format!("supply blast, {thinned}"));
    assert!(forbidden.contains("do not mix blast with water: Carbon dioxide gas"), "{forbidden}");
    assert!(!forbidden.contains(" of blast, then top up"));
    assert!(
        forbidden.contains("Breathing: Wear supplied air when it is sprayed, as the data sheet requires")
    );
    assert!(!forbidden.contains("Breathing: as said below"));
    let mixed = "supply blast, a shampoo\n    mix 1 part to 3 water\n    sheet \"b.pdf\"";
    assert!(steps(mixed).contains(" of blast, then top up"));
    let can = with(&format!("{mixed}\n    packed aerosol"));
    assert!(codes(&can).contains(&"mixed-aerosol") && !codes(&with(mixed)).contains(&"mixed-aerosol"));
}

/// UN GHS, chapter 2.3: a can is under pressure; what is in it is neither opened nor thinned.
#[test]
fn a_mix_of_a_can_is_an_error_wherever_it_stands_and_neat_is_none() {
    let told = |supply: &str, step: &str| {
        let text = study(MAP, "")
            .replace("    dry\n\napply", &format!("    dry\n    wipe with blast{step}, wait 5 min\n\napply"))
            .replacen("supply soap", &format!("supply blast, {supply}\n    sheet \"b.pdf\"\nsupply soap"), 1);
        let found = check("lid.study", &text, &[], Day::AsOf(super::DAY)).findings;
        found.into_iter().filter(|finding| finding.code == "mixed-aerosol").collect::<Vec<_>>()
    };
    let in_step = told("isopropanol\n    packed aerosol\n    strength 70 % by volume", " 35 % by volume");
    assert!(in_step.len() == 1 && in_step[0].severity == tapeline::diag::Severity::Error);
    assert_eq!(told("an acetone\n    packed aerosol\n    mix 1 part to 4 water", "").len(), 1);
    assert!(told("an acetone\n    packed aerosol\n    mix neat", "").is_empty());
    assert!(told("an acetone\n    packed bottle\n    mix 1 part to 4 water", "").is_empty());
}

/// Nobody opens a can, and its mist asks for goggles and a filter on the card, on the step and on the list.
#[test]
fn a_can_of_coating_is_not_opened_and_its_mist_has_goggles_and_filter() {
    let coat = |packed: &str| {
        study(MAP, "").replacen(
            "\"Bay spray\", a spray sealant",
            &format!("\"Bay mist\", a silica coating\n    packed {packed}"),
            1,
        )
    };
    let pages = |packed: &str| {
        let outcome = check("lid.study", &coat(packed), &[], Day::AsOf(super::DAY));
        (output(&outcome, "checklist.html"), output(&outcome, "safety-cards.html"))
    };
    let (list, cards) = pages("bottle");
    assert!(list.contains("Open the bottle only") && cards.contains("Open the bottle only"));
    assert!(!list.contains("AX-P2"), "{list}");
    let (list, cards) = pages("aerosol");
    assert!(!list.contains("Open the bottle only") && !cards.contains("Open the bottle only"));
    for page in [&list, &cards] {
        assert!(page.contains("closed goggles against the mist") && page.contains("combined filter AX-P2"));
        assert!(
            page.contains("Its content asks for: air from outside, or a filter AX with K (EN 14387)"),
            "{page}"
        );
    }
    assert!(
        list.contains(
            "Breathing: air from outside, or outdoors a combined filter AX-P2 against vapour and mist"
        ),
        "to have at hand"
    );
    // A filter mask does not do for an isocyanate (its card), so that no filter is named in its place.
    let hard = coat("aerosol").replacen("a silica coating", "an isocyanate coating", 1);
    let cards = output(&check("lid.study", &hard, &[], Day::AsOf(super::DAY)), "safety-cards.html");
    assert!(cards.contains("a filter mask does not do there") && !cards.contains("AX-P2"));
}

/// Whoever lays a coat on with a gun breathes its mist, as with a can; an isocyanate asks for supplied air, and no filter.
#[test]
fn a_spray_gun_raises_goggles_and_filter_and_is_on_the_papers() {
    let pages = |kind: &str, tool: &str| {
        let text = study(MAP, "").replacen(
            "\"Bay spray\", a spray sealant",
            &format!("\"Bay coat\", {kind}\n    tool \"{tool}\""),
            1,
        );
        let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
        ["checklist.html", "safety-cards.html", "report.md"].map(|page| output(&outcome, page))
    };
    let [list, cards, _] = pages("a silica coating", "applicator pad, suede cloth");
    assert!(!list.contains("AX-P2") && !cards.contains("closed goggles against the mist"));
    let gun = "HVLP spray gun, nozzle 1.3 mm, 2 bar";
    let [list, cards, report] = pages("a silica coating", gun);
    for page in [&list, &cards] {
        assert!(page.contains("closed goggles against the mist") && page.contains("combined filter AX-P2"));
    }
    assert!(
        list.contains(
            "Breathing: air from outside, or outdoors a combined filter AX-P2 against vapour and mist"
        ),
        "to have at hand"
    );
    assert!(list.contains(&format!("<dt>Tool</dt><dd>{gun}</dd>")), "{list}");
    assert!(list.contains(&format!("{gun} <span class=\"for\">– to apply Bay coat</span>")), "{list}");
    assert!(list.contains("Mist of what burns catches fire at any temperature"));
    assert!(report.contains(&format!("laid on with {gun}")), "{report}");
    let [list, cards, _] = pages("an isocyanate coating", gun);
    for page in [&list, &cards] {
        assert!(page.contains("a filter mask does not do there"), "{page}");
        assert!(!page.contains("AX-P2") && page.contains("Mist of what burns"), "{page}");
    }
    assert!(list.contains("Wear supplied air when it is sprayed"));
}
