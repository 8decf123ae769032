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
        "mark",
        "clean",
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
        let step = catalog().step(verb).expect("a step");
        assert!(step.ppe.contains("glasses"), "{}", step.ppe);
        assert_eq!(step.raises, ["sanding-dust"], "and with it its mask");
    }
    assert!(
        class("abrasion dust").handling.breathing.is_some_and(|text| text.starts_with("FFP2 mask; FFP3"))
    );
}

/// IARC Monographs, volume 100C: dust of hardwood and quartz causes cancer, so that wood and stone ask for P3 outright.
#[test]
fn wood_and_stone_ask_for_a_finer_filter_than_paint() {
    let mask = |material: &str| catalog().ground(material).expect("a ground").dust_mask;
    for material in ["oak, planed", "oiled larch", "red brick"] {
        assert!(mask(material).is_some_and(|text| text.starts_with("FFP3 mask or P3 filter")), "{material}");
    }
    assert_eq!(mask("clearcoat on steel"), None);
}

/// The cautions of a piece of work, by id.
fn cautions(verb: &str, with: Option<&str>, texts: &[&str], height_mm: Option<f64>) -> Vec<&'static str> {
    let work = CautionWork {
        verb,
        class: with.map(class),
        hazards: None,
        packing: None,
        texts,
        ground: None,
        height_mm,
    };
    catalog().cautions().iter().filter(|caution| caution.arises(&work)).map(|caution| caution.id).collect()
}

#[test]
fn cautions_stand_where_they_arise_and_nowhere_else() {
    assert_eq!(
        cautions("polish", Some("polish"), &[], None),
        ["machine", "machine-and-vapour", "dust-of-pads", "old-coating"]
    );
    assert_eq!(cautions("wipe", Some("isopropanol"), &[], None), ["ignition"]);
    assert_eq!(cautions("apply", Some("drying oil"), &[], None), ["ignition"]);
    assert_eq!(cautions("apply", Some("spray sealant"), &[], None), ["ignition"], "its usual label has H226");
    assert_eq!(cautions("read", None, &["blocked-uv"], None), ["uv-lamp"]);
    assert_eq!(cautions("wash", Some("shampoo"), &["mitt"], Some(900.0)), [""; 0]);
    assert_eq!(cautions("wipe", Some("clay lubricant"), &["UV torch"], None), ["uv-lamp"]);
    assert_eq!(cautions("read", None, &["a suvival kit"], None), [""; 0], "only whole words count");
    assert_eq!(cautions("wash", None, &["from a ladder"], None), ["height"]);
    assert_eq!(cautions("wash", None, &[], Some(2400.0)), ["height"]);
    assert_eq!(cautions("wash", None, &["random orbit machine"], None), ["machine"]);
    assert_eq!(cautions("dry", None, &["compressed air"], None), ["compressed-air"]);
    assert_eq!(cautions("wash", None, &["low pressure spray gun"], None), ["mist", "mist-filter"]);
    assert_eq!(cautions("dry", None, &["gun that sprays"], None), ["mist", "mist-filter"]);
    assert_eq!(cautions("dry", None, &["glue gun"], None), [""; 0], "only two words together");
    assert_eq!(cautions("dry", None, &["heat gun"], None), ["hot-air"]);
    assert_eq!(cautions("wash", None, &["pressure washer"], None), ["pressure-washer"]);
}

/// IARC Monographs 100C: dust of wood and of quartz causes cancer. OSHA 29 CFR 1910.1025: lead is in old coatings.
#[test]
fn dust_is_that_of_the_ground() {
    let on = |material: &str, verb: &str| -> Vec<&str> {
        let ground = catalog().ground(material);
        let work = CautionWork {
            verb,
            class: None,
            hazards: None,
            packing: None,
            texts: &[],
            ground,
            height_mm: None,
        };
        let all = catalog().cautions().iter().filter(|caution| caution.arises(&work));
        all.map(|caution| caution.id).filter(|id| *id != "dust").collect()
    };
    assert_eq!(on("oak boards", "sand"), ["wood-dust"]);
    assert_eq!(on("oiled beech", "dust"), ["wood-dust"]);
    assert_eq!(on("oak boards", "wash"), [""; 0], "no dust arises");
    assert_eq!(on("brick, lime mortar", "brush"), ["quartz-dust"]);
    assert_eq!(on("enamel on oak", "sand"), ["old-coating"], "the coat is what is sanded");
    assert_eq!(on("moon rock", "sand"), ["old-coating"], "what is not known may be painted");
}

#[test]
fn cautions_name_known_verbs_and_groups() {
    let c = catalog();
    for caution in c.cautions() {
        for ground in caution.on.iter().chain(&caution.not_on) {
            assert!(c.grounds().iter().any(|known| known.id == *ground), "{}: {ground}", caution.id);
        }
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

#[test]
fn what_the_work_touches_is_read_out_of_a_description() {
    let id = |text: &str| catalog().ground(text).map(|ground| ground.id);
    assert_eq!(id("clearcoat on steel, white"), Some("paint"));
    assert_eq!(id("topcoat on aluminium, dark green"), Some("paint"));
    assert_eq!(id("gelcoat on glass laminate, pale blue"), Some("gelcoat"));
    assert_eq!(id("oiled oak"), Some("oiled wood"));
    assert_eq!(id("oil on larch cladding"), Some("oiled wood"));
    assert_eq!(id("oak boards, planed"), Some("wood"));
    assert_eq!(id("painted brick"), Some("paint"));
    assert_eq!(id("brick, lime mortar"), Some("masonry"));
    assert_eq!(id("unglazed clay"), Some("masonry"));
    assert_eq!(id("cotton canvas"), Some("fabric"));
    assert_eq!(id("clear acrylic"), Some("plastic"));
    assert_eq!(id("unknown stuff"), None);
}

#[test]
fn grounds_need_known_steps_and_what_is_porous_has_its_drying_time() {
    for ground in catalog().grounds() {
        for step in &ground.needs {
            assert!(catalog().steps().iter().any(|known| known.id == *step), "{}: {step}", ground.id);
        }
        let pores = ground.wood || ground.masonry || ground.id == "fabric";
        assert_eq!(ground.porous, pores, "{}", ground.id);
        assert_eq!(ground.porous, ground.wait_after_water_h.is_some(), "{}", ground.id);
    }
}

#[test]
fn a_finer_grit_and_a_polish_take_less_film() {
    let c = catalog();
    let most =
        |verb: &str, with: Option<&str>, grit| c.cut(verb, with.map(class), grit).map(|cut| cut.most_um);
    assert!(most("polish", Some("polish"), None) < most("compound", Some("compound"), None));
    let sanded: Vec<f64> =
        [3000, 2000, 1200, 400].map(|grit| most("sand", None, Some(grit)).unwrap_or(0.0)).to_vec();
    assert!(sanded.is_sorted() && sanded[0] > 0.0, "{sanded:?}");
    assert_eq!(most("wipe", Some("isopropanol"), None), None);
    assert_eq!(most("sand", None, None), None, "without a grit nothing is known");
}
