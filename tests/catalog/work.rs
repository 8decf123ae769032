//! Steps and the order in which they come.

use tapeline::catalog::CautionWork;

use crate::{catalog, class};

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
        "sand",
        "dust",
        "brush",
        "seal",
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
        "brush",
        "clay",
        "compound",
        "polish",
        "sand",
        "dust",
        "seal",
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

/// The cautions of a piece of work, by id.
fn cautions(verb: &str, with: Option<&str>, texts: &[&str], height_mm: Option<f64>) -> Vec<&'static str> {
    let work = CautionWork { verb, class: with.map(class), hazards: &[], texts, height_mm };
    catalog().cautions().iter().filter(|caution| caution.arises(&work)).map(|caution| caution.id).collect()
}

#[test]
fn cautions_stand_where_they_arise_and_nowhere_else() {
    assert_eq!(cautions("polish", Some("polish"), &[], None), ["machine", "machine-and-vapour", "dust"]);
    assert_eq!(cautions("wipe", Some("isopropanol"), &[], None), ["ignition"]);
    assert_eq!(cautions("apply", Some("drying oil"), &[], None), ["ignition"]);
    assert_eq!(cautions("wash", Some("shampoo"), &["mitt"], Some(900.0)), [""; 0]);
    assert_eq!(cautions("wipe", Some("clay lubricant"), &["UV torch"], None), ["uv-lamp"]);
    assert_eq!(cautions("read", None, &["a suvival kit"], None), [""; 0], "only whole words count");
    assert_eq!(cautions("wash", None, &["from a ladder"], None), ["height"]);
    assert_eq!(cautions("wash", None, &[], Some(2400.0)), ["height"]);
    assert_eq!(cautions("wash", None, &["random orbit machine"], None), ["machine"]);
}

#[test]
fn cautions_name_known_verbs_and_groups() {
    let c = catalog();
    for caution in c.cautions() {
        for verb in &caution.verbs {
            assert!(c.steps().iter().any(|step| step.id == *verb), "{}: {verb}", caution.id);
        }
        for group in &caution.groups {
            assert!(c.groups().iter().any(|known| known.id == *group), "{}: {group}", caution.id);
        }
        let somewhere = !caution.verbs.is_empty() || !caution.groups.is_empty() || !caution.words.is_empty();
        assert!(somewhere && caution.text.ends_with('.'), "{}", caution.id);
    }
    for step in c.steps() {
        for id in &step.raises {
            assert!(c.classes().iter().any(|class| class.id == *id), "{id}");
        }
    }
}
