//! Names are found as people write them, and none means two things.

use std::collections::BTreeSet;

use tapeline::catalog::same_name;

use crate::{catalog, class};

#[test]
fn names_fold_capitals_blanks_and_hyphens() {
    assert!(same_name("iron remover", "Iron-Remover"));
    assert!(same_name("  iron   remover ", "iron_remover"));
    assert!(!same_name("iron remover", "ironremover"));
    assert!(!same_name("iron remover", "iron"));
    assert!(!same_name("", "iron"));
}

#[test]
fn every_class_that_a_study_may_name_is_here() {
    for (name, id) in [
        ("neutral shampoo", "shampoo"),
        ("shampoo", "shampoo"),
        ("car shampoo", "shampoo"),
        ("alkaline cleaner", "alkaline-cleaner"),
        ("tar remover", "tar-remover"),
        ("iron remover", "iron-remover"),
        ("fallout remover", "iron-remover"),
        ("acid cleaner", "acid-cleaner"),
        ("clay lubricant", "clay-lubricant"),
        ("compound", "compound"),
        ("polish", "polish"),
        ("IPA", "isopropanol"),
        ("ipa", "isopropanol"),
        ("Isopropanol", "isopropanol"),
        ("panel wipe", "panel-wipe"),
        ("solvent wiping agent", "solvent-wipe"),
        ("silica coating", "silica-coating"),
        ("Ceramic Coating", "silica-coating"),
        ("spray sealant", "spray-sealant"),
        ("polymer sealant", "polymer-sealant"),
        ("wax", "wax"),
        ("carnauba-wax", "wax"),
        ("hypochlorite", "hypochlorite"),
        ("bleach", "hypochlorite"),
        ("mould cleaner", "hypochlorite"),
        ("ammonia cleaner", "ammonia-cleaner"),
        ("plain water", "water"),
        ("peroxide", "peroxide"),
        ("fluoride cleaner", "fluoride-cleaner"),
        ("isocyanate coating", "isocyanate-coating"),
        ("drying oil", "drying-oil"),
        ("white spirit", "mineral-spirits"),
        ("oxalic cleaner", "oxalic-cleaner"),
    ] {
        assert_eq!(class(name).id, id, "{name}");
    }
    assert!(catalog().class("moon dust").is_none());
}

/// What stands on a shelf is mostly called by an everyday name: it must reach the pairs and the label of its class. Where a name
/// is used for two, it means the graver one.
#[test]
fn everyday_names_reach_their_class() {
    for (id, names) in [
        ("hypochlorite", &["household bleach", "chlorine bleach", "bleach", "chlorine", "pool chlorine"][..]),
        (
            "acid-cleaner",
            &[
                "hydrochloric acid",
                "muriatic acid",
                "nitric acid",
                "acetic acid",
                "citric acid",
                "vinegar",
                "descaler",
                "brick acid",
                "brick cleaner",
                "stone acid",
            ],
        ),
        ("fluoride-cleaner", &["wheel acid", "aluminium brightener"]),
        ("alkaline-cleaner", &["caustic soda", "lye", "oven cleaner", "sodium hydroxide"]),
        ("ammonia-cleaner", &["glass cleaner", "ammonia glass cleaner"]),
        ("thinner", &["thinner", "lacquer thinner", "toluene", "petrol"]),
        ("mineral-spirits", &["turpentine"]),
        ("panel-wipe", &["ethanol"]),
        (
            "isocyanate-coating",
            &["2K clear", "two-pack clear", "urethane hardener", "polyurethane hardener", "hardener"],
        ),
        ("silica-coating", &["polysilazane", "silazane coating"]),
        ("paint-marker", &["paint marker", "felt pen"]),
        ("masonry-repellent", &["water repellent", "siloxane", "stone sealer", "hydrophobic impregnation"]),
        ("glass-repellent", &["rain repellent", "windscreen coating"]),
        ("varnish", &["yacht varnish", "alkyd varnish"]),
        ("waterborne-coating", &["acrylic varnish", "masonry paint", "wood stain"]),
    ] {
        for name in names {
            assert_eq!(class(name).id, id, "{name}");
        }
    }
    // These are sold as acid and as bleach; and methanol poisons, which no class here says.
    assert!(catalog().class("patio cleaner").is_none() && catalog().class("methanol").is_none());
}

fn assert_unique(names: impl Iterator<Item = (&'static str, &'static str)>) {
    let all: Vec<_> = names.collect();
    for (at, (name, owner)) in all.iter().enumerate() {
        for (other, other_owner) in &all[..at] {
            let clash = owner != other_owner && same_name(name, other);
            assert!(!clash, "`{name}` names {owner} and {other_owner}");
        }
    }
}

#[test]
fn no_name_means_two_things() {
    let c = catalog();
    assert_unique(c.classes().iter().flat_map(|x| x.names().map(move |n| (n, x.id))));
    let with_id = |id: &'static str, aliases: &'static [&'static str]| {
        std::iter::once(id).chain(aliases.iter().copied()).map(move |name| (name, id))
    };
    assert_unique(c.steps().iter().flat_map(|x| with_id(x.id, &x.aliases)));
    assert_unique(c.measures().iter().flat_map(|x| with_id(x.id, &x.aliases)));
    assert_unique(c.surfaces().iter().flat_map(|x| with_id(x.id, &x.aliases)));
}

#[test]
fn no_alias_repeats_another_of_its_class() {
    for class in catalog().classes() {
        let aliases = &class.aliases;
        for (at, alias) in aliases.iter().enumerate() {
            assert!(!aliases[..at].iter().any(|other| same_name(alias, other)), "{alias}");
            assert!(!same_name(alias, class.name), "{alias}");
        }
    }
}

#[test]
fn ids_are_kebab_case_and_single() {
    let c = catalog();
    let ids = c.classes().iter().map(|x| x.id);
    let ids = ids.chain(c.lines().iter().map(|x| x.id)).chain(c.measures().iter().map(|x| x.id));
    let mut seen = BTreeSet::new();
    for id in ids {
        let kebab = id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        assert!(kebab && seen.insert(id), "{id}");
    }
}
