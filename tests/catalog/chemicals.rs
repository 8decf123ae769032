//! Handling and work of the chemical classes.

use std::collections::BTreeSet;

use crate::{catalog, class};

#[test]
fn every_class_has_two_to_four_short_cautions() {
    for class in catalog().classes() {
        let (handling, cautions) = (&class.handling, &class.handling.cautions);
        let others = handling.pouring.iter().chain(&handling.diluting).chain(&handling.film);
        assert!((2..=4).contains(&(cautions.len() + others.clone().count())), "{}", class.id);
        assert!(!cautions.is_empty(), "{}", class.id);
        for caution in cautions.iter().chain(others) {
            assert!(caution.ends_with('.') && caution.len() <= 90, "{}: {caution}", class.id);
        }
    }
}

/// Rinsing and "nothing to the drain" go together only where the paper says what becomes of the water.
#[test]
fn what_is_rinsed_off_says_where_its_water_goes() {
    for class in catalog().classes() {
        let (handling, id) = (&class.handling, class.id);
        // A wipe may be rinsed off, and what is caught then is no drain's business.
        let wipes = &catalog().step("wipe").expect("a step").uses;
        let may_be = class.work.rinse_required || wipes.contains(&id);
        assert_eq!(may_be, handling.rinse_water.is_some(), "{id}");
        let Some(water) = handling.rinse_water else { continue };
        let caught = water.contains("not to the drain");
        assert!(caught || water.contains("foul drain"), "{id}: {water}");
        let no_drain = handling.waste.contains("othing of it goes to the drain")
            || handling.waste.contains("othing to the drain");
        assert!(!no_drain || caught, "{id}: {water}");
        if class.hazards.statements.iter().any(|code| ["H400", "H410", "H411"].contains(code)) {
            assert!(caught || water.contains("alone"), "{id}: {water}");
        }
    }
}

/// What a step is for is told by what it is done with: soap is no acid, and a peroxide dissolves no tar.
#[test]
fn each_cleaner_says_what_it_does_itself() {
    let uses = |step: &str| catalog().step(step).expect("a step").uses.clone();
    let cleaners = [uses("wash"), uses("decontaminate")].concat();
    for id in cleaners {
        let work = &class(id).work;
        let purpose = work.purpose.unwrap_or_else(|| panic!("{id} says nothing"));
        assert!(purpose.ends_with('.'), "{id}: {purpose}");
        assert_eq!(purpose.contains("soap"), id == "shampoo", "{id}: {purpose}");
        assert_eq!(work.change.is_none(), ["shampoo", "water"].contains(&id), "{id}: a mitt is for soap");
    }
    assert!(class("peroxide").work.purpose.is_some_and(|text| !text.contains("tar")));
}

#[test]
fn no_text_of_a_class_is_empty() {
    for class in catalog().classes() {
        let h = &class.handling;
        let protection = [h.gloves, h.eyes, h.breathing, h.ventilation];
        let rest = [h.first_aid, h.waste, h.storage, class.hazards.note, class.name];
        assert!(protection.iter().flatten().chain(&rest).all(|text| !text.is_empty()), "{}", class.id);
        // A bare "none" reads as a promise; what is not usual is left out, and the card says that the sheet governs.
        let promises = ["none", "normal", "as liked", "harmless", "safe", "not needed", "not classified"];
        for text in protection.iter().flatten().chain(&rest) {
            let said = promises.iter().find(|promise| {
                text.to_lowercase().split([';', '.', ',']).any(|part| part.trim() == **promise)
                    || text.contains("not classified")
            });
            assert!(said.is_none(), "{}: {text}", class.id);
        }
        assert!(h.gloves.is_some() || class.hazards.statements.is_empty(), "{}: gloves", class.id);
    }
}

/// CLP Annex IV, P301+P330+P331, P302+P361+P354, P304+P340 and P305+P354+P338: what burns has first aid for all four routes. The 15
/// minutes are usual advice, from memory, follow the data sheet.
#[test]
fn first_aid_covers_every_route_of_what_burns_and_never_soothes() {
    for class in catalog().classes() {
        let (aid, label) = (class.handling.first_aid, &class.hazards);
        let burns = label.statements.contains(&"H314")
            || label.stronger.iter().any(|label| label.statements.contains(&"H314"));
        if burns {
            let words =
                ["Eyes", "kin", "15 minutes", "Swallowed", "do not vomit", "Breathed in", "fresh air"];
            for word in words {
                assert!(aid.contains(word), "{}: {word}: {aid}", class.id);
            }
            assert!(aid.contains("doctor at once") || aid.contains("hospital"), "{}: {aid}", class.id);
        }
        if label.statements.contains(&"H304") {
            assert!(aid.contains("do not vomit. Hospital or poison centre at once."), "{}: {aid}", class.id);
        }
        assert!(!aid.contains(" if it holds") && !aid.contains("spots pass"), "{}: {aid}", class.id);
        let breathing = class.handling.breathing.unwrap_or_default();
        assert!(!breathing.contains("is usual"), "{}: {breathing}", class.id);
    }
}

/// UN GHS, Annex 3: each statement has first aid by its route (P305, P302 and P303, P304, P301), and so has the card that carries it.
#[test]
fn first_aid_has_the_route_of_every_statement() {
    let routes = [
        ("Eyes", &["H314", "H318", "H319"][..]),
        ("kin", &["H225", "H226", "H310", "H311", "H312", "H314", "H315", "H317"]),
        ("Breathed in", &["H330", "H331", "H332", "H334", "H335", "H336"]),
        ("Swallowed", &["H300", "H301", "H302", "H304"]),
    ];
    for class in catalog().classes() {
        let stronger = class.hazards.stronger.iter().map(|label| &label.statements);
        for code in stronger.chain([&class.hazards.statements]).flatten() {
            for (route, _) in routes.iter().filter(|(_, codes)| codes.contains(code)) {
                assert!(class.handling.first_aid.contains(route), "{}: {code} has no `{route}`", class.id);
            }
        }
    }
}

/// The types of a filter stand in the words that ask for it, so that list and card say the same.
#[test]
fn the_types_of_a_filter_are_those_of_its_words() {
    let mut typed = 0;
    for class in catalog().classes() {
        let words = class.handling.breathing.unwrap_or_default();
        for one in &class.handling.filter {
            let gas = words.split("type ").nth(1).unwrap_or_default();
            let gas = gas.split(|c: char| !c.is_ascii_uppercase()).next().unwrap_or_default();
            assert!(
                words.contains(one) && (one.len() > 1 || gas.contains(one) || *one == "K"),
                "{one}: {words}"
            );
            typed += 1;
        }
        let asks =
            ["(type ", "A2-P2", "filter AX", "P2 filter", "P2 mask"].iter().any(|ask| words.contains(ask));
        let brushed = words.contains("a filter mask does not do there");
        assert_eq!(!class.handling.filter.is_empty(), asks && !brushed, "{}: {words}", class.id);
    }
    assert!(typed > 25, "{typed}");
}

/// EN 14387, from memory: type A is for organic vapour that boils above 65 degC, AX for what boils lower. NIOSH Pocket Guide: methanol
/// boils at 64 degC (147 degF), acetone at 56 degC (133 degF).
#[test]
fn what_boils_low_has_a_filter_that_holds_it() {
    let mut met = 0;
    for class in catalog().classes() {
        let low = class.handling.limits.iter().any(|limit| ["methanol", "acetone"].contains(limit));
        if low {
            met += 1;
            assert!(class.handling.breathing.is_some_and(|text| text.contains("AX")), "{}", class.id);
        }
    }
    assert!(met >= 3, "silica coating, acetone and spray paint");
}

#[test]
fn dwell_and_ph_are_ranges_in_order() {
    for class in catalog().classes() {
        let (work, nature) = (&class.work, &class.nature);
        if let (Some(min), Some(max)) = (work.dwell_min_s, work.dwell_max_s) {
            assert!(0.0 < min && min < max, "{}", class.id);
        }
        assert_eq!(nature.ph_min.is_some(), nature.ph_max.is_some(), "{}", class.id);
        if let (Some(min), Some(max)) = (nature.ph_min, nature.ph_max) {
            assert!((0.0..=14.0).contains(&min) && min < max && max <= 14.0, "{}", class.id);
        }
        assert!(!work.needs_dwell || work.rinse_required, "{}: a dwell ends in a rinse", class.id);
    }
}

#[test]
fn an_iron_remover_dwells_three_to_five_minutes() {
    let work = &class("iron remover").work;
    assert_eq!((work.dwell_min_s, work.dwell_max_s), (Some(180.0), Some(300.0)));
    assert!(work.must_not_dry_on && work.rinse_required && work.needs_dwell);
}

#[test]
fn oils_lubricants_and_waxes_leave_residue_and_wipes_do_not() {
    for name in ["polish", "compound", "clay lubricant", "wax", "tar remover", "drying oil"] {
        assert!(class(name).work.leaves_residue, "{name}");
    }
    for name in ["isopropanol", "panel wipe", "plain water", "iron remover"] {
        assert!(!class(name).work.leaves_residue, "{name}");
    }
}

/// CLP Annex I, Table 2.6.1: below 23 degC H225, from there to 60 degC H226.
#[test]
fn flash_points_agree_with_the_flammable_statement() {
    for class in catalog().classes() {
        let has = |code| class.hazards.statements.contains(&code);
        let Some(fire) = class.fire else {
            assert!(!has("H225") && !has("H226"), "{}: flammable, and no flash point is told", class.id);
            continue;
        };
        assert!(fire.flash_min_deg_c <= fire.flash_max_deg_c && fire.flash_max_deg_c <= 60.0, "{}", class.id);
        assert_eq!(has("H225"), fire.flash_min_deg_c < 23.0, "{}", class.id);
        assert_eq!(has("H226"), fire.flash_min_deg_c >= 23.0, "{}", class.id);
    }
}

#[test]
fn what_is_flammable_is_in_the_group_that_keeps_sparks_away() {
    for class in catalog().classes() {
        let flammable = class.fire.is_some();
        // A spray sealant is often water; its few flammable ones are told by its note and its statements.
        assert!(class.is_in("flammable") || !flammable || class.id == "spray-sealant", "{}", class.id);
    }
}

/// The values as the NIOSH Pocket Guide and OSHA 29 CFR 1910.1000 print them.
#[test]
fn exposure_limits_are_the_published_ones_and_all_are_used() {
    let c = catalog();
    let limit = |id: &str| c.limits().iter().find(|limit| limit.id == id).expect("a limit");
    for (id, rel, pel, idlh) in [
        ("isopropyl-alcohol", "400 ppm, 15 min 500 ppm", "400 ppm", "2000 ppm"),
        ("acetone", "250 ppm", "1000 ppm", "2500 ppm"),
        ("mineral-spirits", "350 mg/m³, 15 min never above 1800 mg/m³", "500 ppm", "20 000 mg/m³"),
        ("oxalic-acid", "1 mg/m³, 15 min 2 mg/m³", "1 mg/m³", "500 mg/m³"),
        ("hydrogen-fluoride", "3 ppm, 15 min never above 6 ppm", "3 ppm", "30 ppm"),
        ("ethyl-silicate", "10 ppm", "100 ppm", "700 ppm"),
        ("butoxyethanol", "5 ppm", "50 ppm", "700 ppm"),
        ("hexamethylene-diisocyanate", "0.005 ppm, 10 min never above 0.020 ppm", "none", "none"),
    ] {
        assert_eq!((limit(id).rel, limit(id).pel, limit(id).idlh), (rel, pel, idlh), "{id}");
    }
    for one in c.limits() {
        let source = one.source.as_str();
        assert!(one.rel == "none" || source.contains("NIOSH Pocket Guide"), "{}", one.id);
        assert!(
            one.pel == "none" || one.pel.starts_with("as ") || source.contains("OSHA 29 CFR"),
            "{}",
            one.id
        );
    }
    let used: BTreeSet<&str> = c.classes().iter().flat_map(|class| class.handling.limits.clone()).collect();
    assert_eq!(used, c.limits().iter().map(|limit| limit.id).collect::<BTreeSet<_>>());
    for class in c.classes() {
        assert_eq!(c.limits_of(class).len(), class.handling.limits.len(), "{}", class.id);
    }
    assert_eq!(c.limits_of(class("acetone"))[0].substance, "acetone");
}

#[test]
fn the_classes_of_the_trade_are_here() {
    for name in [
        "shampoo",
        "alkaline cleaner",
        "tar remover",
        "iron remover",
        "acid cleaner",
        "oxalic cleaner",
        "fluoride cleaner",
        "clay lubricant",
        "compound",
        "polish",
        "isopropanol",
        "acetone",
        "mineral spirits",
        "silica coating",
        "spray sealant",
        "polymer sealant",
        "wax",
        "drying oil",
        "isocyanate coating",
        "bleach",
        "ammonia cleaner",
        "peroxide",
        "abrasion dust",
    ] {
        let class = class(name);
        assert!(!class.handling.first_aid.is_empty() && !class.handling.storage.is_empty(), "{name}");
    }
    assert_ne!(class("white spirit").id, class("wax and grease remover").id);
}

/// What is told of fire goes by one list (UN GHS, chapters 2.2, 2.3, 2.6 and 2.7): a label, a class and the papers alike.
#[test]
fn what_burns_is_told_by_one_list() {
    let burns = tapeline::catalog::burns;
    for code in ["H220", "H221", "H222", "H223", "H224", "H225", "H226", "H228"] {
        assert!(burns(code), "{code}");
    }
    // A combustible liquid is no flammable one, and a can under pressure burns by its other statement.
    for code in ["H227", "H229", "H270", "H290", "H319", "EUH066"] {
        assert!(!burns(code), "{code}");
    }
    assert!(
        class("isopropanol").burns() && class("spray paint").burns() && !class("neutral shampoo").burns()
    );
}
