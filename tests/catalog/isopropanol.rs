//! Isopropanol by strength: mass, flash point, borders and statements.

use tapeline::catalog::{Signal, Support};

use crate::{catalog, class, close};

/// 0.785 and 0.998 g/ml at 20 degC: 27.5 g of alcohol and 64.9 g of water.
#[test]
fn thirty_five_percent_by_volume_is_about_thirty_by_mass() {
    let mix = catalog().isopropanol_at(35.0).expect("a strength");
    assert!(close(mix.percent_by_mass, 29.75, 0.01), "{}", mix.percent_by_mass);
    assert_eq!(mix.statements, ["H225", "H319", "H336"]);
    assert_eq!(mix.signal, Signal::Danger);
    assert_eq!(mix.pictograms, ["GHS02", "GHS07"]);
    assert!(mix.modelled && !mix.near_border);
    assert!(mix.sources.iter().any(|source| source.support() == Support::Model));
}

/// NIOSH Pocket Guide: the neat alcohol flashes at 53 degF, which is 12 degC.
#[test]
fn neat_isopropanol_flashes_at_the_published_point() {
    let neat = catalog().isopropanol_at(100.0).expect("a strength");
    assert!(close(neat.percent_by_mass, 100.0, 1e-9));
    assert!(close(neat.flash_deg_c.expect("a point"), (53.0 - 32.0) / 1.8, 0.5));
    assert_eq!(neat.statements, class("isopropanol").hazards.statements);
    assert_eq!(neat.pictograms, class("isopropanol").hazards.pictograms);
    assert_eq!(neat.signal, class("isopropanol").hazards.signal);
}

#[test]
fn near_a_border_the_more_severe_statement_is_taken() {
    // 23 % by volume is 19.0 % by mass: about 25 degC, above the border of 23 but within 3.
    let near = catalog().isopropanol_at(23.0).expect("a strength");
    assert!(near.flash_deg_c.is_some_and(|flash| flash > 23.0 && flash < 26.0));
    assert!(near.near_border);
    assert_eq!(near.statements[0], "H225");
    // 12 % by volume is 9.7 % by mass: far from both borders, and too weak for the eye statement.
    let weak = catalog().isopropanol_at(12.0).expect("a strength");
    assert!(!weak.near_border);
    assert_eq!(weak.statements, ["H226"]);
    assert_eq!(weak.signal, Signal::Warning);
    assert_eq!(weak.pictograms, ["GHS02"]);
}

/// CLP Annex I: eyes from 10 % (Table 3.3.3), drowsiness from 20 % (3.8.3.4.5), both by mass.
#[test]
fn shares_bring_their_statements_by_mass() {
    let has = |volume, code| catalog().isopropanol_at(volume).expect("a strength").statements.contains(&code);
    assert!(!has(12.3, "H319") && has(12.5, "H319"));
    assert!(!has(24.0, "H336") && has(24.2, "H336"));
}

/// UN GHS, Annex 3: each hazard class has its own precautions; what is not classified has none.
#[test]
fn precautions_follow_the_class_of_the_strength() {
    let at = |volume| catalog().isopropanol_at(volume).expect("a strength");
    let of = |volume| catalog().precautions_of(&at(volume).statements, false);
    let has = |volume, code| of(volume).contains(&code);
    let flammable = [
        "P210",
        "P233",
        "P240",
        "P241",
        "P242",
        "P243",
        "P280",
        "P303+P361+P353",
        "P370+P378",
        "P403+P235",
        "P501",
    ];
    assert_eq!(of(8.0), flammable, "flammable and no more");
    // Eyes from 10 % by mass bring glasses and an eye rinse, dizziness from 20 % brings air.
    assert!(!has(12.3, "P305+P351+P338") && has(12.5, "P305+P351+P338") && has(12.5, "P337+P317"));
    assert!(!has(24.0, "P271") && !has(24.0, "P304+P340"));
    assert!(has(24.2, "P271") && has(24.2, "P304+P340") && has(24.2, "P261"));
    assert_eq!(of(100.0), catalog().precautions_of_class(class("isopropanol")));
    for tenth in 1..=1000 {
        let mix = at(f64::from(tenth) / 10.0);
        let precautions = catalog().precautions_of(&mix.statements, false);
        for code in &precautions {
            assert!(catalog().precaution(code).is_some(), "{code}");
        }
        for (statement, precaution) in [("H319", "P264+P265"), ("H336", "P271")] {
            let (is, goes) = (mix.statements.contains(&statement), precautions.contains(&precaution));
            assert_eq!(is, goes, "{statement} at {}", mix.percent_by_volume);
        }
    }
}

#[test]
fn below_the_table_the_flash_point_is_not_invented() {
    let faint = catalog().isopropanol_at(3.0).expect("a strength");
    assert_eq!(faint.flash_deg_c, None);
    assert_eq!(faint.statements, ["H226"]);
}

#[test]
fn strengths_outside_the_scale_are_refused() {
    for strength in [0.0, -1.0, 100.1, f64::NAN, f64::INFINITY] {
        assert_eq!(catalog().isopropanol_at(strength), None, "{strength}");
    }
}

#[test]
fn more_alcohol_never_flashes_later_and_never_says_less() {
    let mut last = catalog().isopropanol_at(0.1).expect("a strength");
    for tenth in 2..=1000 {
        let next = catalog().isopropanol_at(f64::from(tenth) / 10.0).expect("a strength");
        assert!(next.percent_by_mass > last.percent_by_mass);
        assert!(next.signal >= last.signal && next.statements.len() >= last.statements.len());
        if let Some(flash) = last.flash_deg_c {
            assert!(next.flash_deg_c.expect("a point") <= flash);
        }
        last = next;
    }
}

#[test]
fn the_flash_table_rises_in_strength_and_falls_in_temperature() {
    let points = &catalog().isopropanol().expect("a table").flash.points;
    for two in points.windows(2) {
        assert!(two[0].percent_by_mass < two[1].percent_by_mass);
        assert!(two[0].flash_deg_c > two[1].flash_deg_c);
    }
    assert!(close(points[points.len() - 1].percent_by_mass, 100.0, 0.0));
}
