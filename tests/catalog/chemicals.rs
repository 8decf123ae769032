//! Handling and work of the chemical classes.

use crate::{catalog, class};

#[test]
fn every_class_has_two_to_four_short_cautions() {
    for class in catalog().classes() {
        assert!((2..=4).contains(&class.handling.cautions.len()), "{}", class.id);
        for caution in &class.handling.cautions {
            assert!(caution.ends_with('.') && caution.len() <= 90, "{}: {caution}", class.id);
        }
    }
}

#[test]
fn no_text_of_a_class_is_empty() {
    for class in catalog().classes() {
        let h = &class.handling;
        let protection = [h.gloves, h.eyes, h.breathing, h.ventilation];
        let rest = [h.first_aid, h.waste, h.storage, class.hazards.note, class.name];
        assert!(protection.iter().chain(&rest).all(|text| !text.is_empty()), "{}", class.id);
    }
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
