//! Steps and the order in which they come.

use crate::catalog;

#[test]
fn every_step_that_a_study_may_name_is_here() {
    for verb in [
        "wash",
        "rinse",
        "decontaminate",
        "dry",
        "clay",
        "compound",
        "polish",
        "wipe",
        "tape",
        "label",
        "read",
        "wait",
        "apply",
    ] {
        assert_eq!(catalog().step(verb).expect("a step").id, verb);
    }
    assert_eq!(catalog().step("Masking").expect("a step").id, "tape");
}

#[test]
fn steps_use_known_classes_and_orders_use_known_steps() {
    for step in catalog().steps() {
        for id in &step.uses {
            assert!(catalog().classes().iter().any(|class| class.id == *id), "{id}");
        }
    }
    for order in catalog().orders() {
        let known = |id| catalog().steps().iter().any(|step| step.id == id);
        assert!(known(order.first) && known(order.then), "{}", order.because);
        assert!(order.because.ends_with('.'));
    }
}

#[test]
fn the_orders_can_all_be_kept_at_once() {
    // A usual prep, in one line; every rule must agree with it.
    let usual = [
        "wash",
        "rinse",
        "decontaminate",
        "dry",
        "clay",
        "compound",
        "polish",
        "wipe",
        "tape",
        "label",
        "read",
        "wait",
        "apply",
    ];
    let place = |id| usual.iter().position(|verb| *verb == id).expect("a usual step");
    for order in catalog().orders() {
        assert!(place(order.first) < place(order.then), "{} {}", order.first, order.then);
    }
    for (first, then) in [
        ("wash", "clay"),
        ("decontaminate", "clay"),
        ("clay", "compound"),
        ("compound", "polish"),
        ("polish", "wipe"),
        ("wipe", "apply"),
        ("wipe", "tape"),
        ("polish", "label"),
        ("dry", "read"),
    ] {
        assert!(catalog().order(first, then).is_some(), "{first} {then}");
        assert!(catalog().order(then, first).is_none(), "{then} {first}");
    }
}

#[test]
fn machine_work_names_eyes_and_dust() {
    for verb in ["compound", "polish"] {
        let ppe = catalog().step(verb).expect("a step").ppe;
        assert!(ppe.contains("glasses") && ppe.contains("mask"), "{ppe}");
    }
}
