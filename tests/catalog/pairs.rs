//! Reactivity groups and what happens where two classes meet.

use std::collections::BTreeSet;

use tapeline::catalog::{Danger, Reach};

use crate::{catalog, class};

#[test]
fn groups_of_classes_and_pairs_are_declared_and_used() {
    let c = catalog();
    let declared: BTreeSet<&str> = c.groups().iter().map(|group| group.id).collect();
    let of_classes = c.classes().iter().flat_map(|class| class.nature.groups.iter().copied());
    assert_eq!(declared, of_classes.collect(), "declared groups are those of the classes");
    for pair in c.pairs() {
        assert!(declared.contains(pair.a) && declared.contains(pair.b), "{}, {}", pair.a, pair.b);
        assert_ne!(pair.a, pair.b);
    }
    for harm in c.surfaces().iter().flat_map(|surface| &surface.harmed_by) {
        assert!(declared.contains(harm.group), "{}", harm.group);
    }
    for when in c.lines().iter().map(|line| line.when) {
        let known = declared.contains(when) || c.hazards().iter().any(|hazard| hazard.code == when);
        assert!(known || ["always", "unknown", "mixed", "card", "cards"].contains(&when), "{when}");
    }
}

#[test]
fn no_pair_is_written_twice() {
    let mut seen = BTreeSet::new();
    for pair in catalog().pairs() {
        let key = (pair.a.min(pair.b), pair.a.max(pair.b));
        assert!(seen.insert(key), "{key:?}");
    }
}

#[test]
fn meeting_is_symmetric_and_a_class_never_meets_itself() {
    let c = catalog();
    for one in c.classes() {
        assert!(c.meet(one, one).is_none(), "{}", one.id);
        for other in c.classes() {
            let there = c.meet(one, other).map(|pair| (pair.a, pair.b));
            let back = c.meet(other, one).map(|pair| (pair.a, pair.b));
            assert_eq!(there, back, "{} and {}", one.id, other.id);
        }
    }
}

#[test]
fn meeting_tells_the_worst() {
    let c = catalog();
    for one in c.classes() {
        for other in c.classes().iter().filter(|other| other.id != one.id) {
            let worst = c.meet(one, other).map(|pair| (pair.severity, pair.reach));
            let all = c.meetings(one, other);
            assert_eq!(worst, all.iter().map(|pair| (pair.severity, pair.reach)).max());
        }
    }
}

/// CLP Annex II: EUH031 for acids, EUH206 for other products together with active chlorine.
#[test]
fn bleach_is_forbidden_with_what_clp_warns_of() {
    let bleach = class("bleach");
    for (name, note) in [
        ("acid cleaner", "EUH031"),
        ("fluoride cleaner", "EUH031"),
        ("ammonia cleaner", "EUH206"),
        ("isopropanol", "EUH206"),
        ("acetone", "EUH206"),
        ("peroxide", "EUH206"),
        ("iron remover", "EUH206"),
    ] {
        let pair = catalog().meet(bleach, class(name)).unwrap_or_else(|| panic!("{name}"));
        assert_eq!(pair.severity, Danger::Forbid, "{name}");
        assert!(pair.a == "hypochlorite" || pair.b == "hypochlorite", "{name}");
        assert!(pair.source.as_str().contains("CLP Regulation"), "{name}");
        assert!(pair.source.as_str().contains(note), "{name}");
    }
    assert!(catalog().meet(bleach, class("acid cleaner")).expect("a pair").result.contains("Chlorine"));
    assert!(bleach.hazards.statements.contains(&"EUH031"));
}

#[test]
fn other_grave_pairs_are_forbidden_and_harmless_ones_are_not() {
    let severity = |a, b| catalog().meet(class(a), class(b)).map(|pair| pair.severity);
    assert_eq!(severity("iron remover", "acid cleaner"), Some(Danger::Forbid));
    assert_eq!(severity("iron remover", "peroxide"), Some(Danger::Forbid));
    assert_eq!(severity("acid cleaner", "alkaline cleaner"), Some(Danger::Forbid));
    assert_eq!(severity("peroxide", "drying oil"), Some(Danger::Forbid));
    assert_eq!(severity("isocyanate coating", "isopropanol"), Some(Danger::Spoil));
    // Silazanes give off ammonia with whatever has a free hydroxyl: water, acids in water, alcohols.
    for other in ["water", "acid cleaner", "isopropanol", "panel wipe"] {
        assert_eq!(severity("silica coating", other), Some(Danger::Forbid), "{other}");
    }
    for (a, b) in [
        ("shampoo", "iron remover"),
        ("shampoo", "bleach"),
        ("iron remover", "clay lubricant"),
        ("polish", "isopropanol"),
        ("iron remover", "tar remover"),
        ("water", "bleach"),
    ] {
        assert_eq!(severity(a, b), None, "{a} and {b}");
    }
}

/// What burns is kept away from what feeds a fire (UN GHS, Annex 3, P210 and P220): every flammable class, not petroleum alone.
#[test]
fn everything_flammable_is_forbidden_with_oxidisers() {
    let c = catalog();
    for burns in c.classes().iter().filter(|class| class.is_in("flammable")) {
        for feeds in c.classes().iter().filter(|class| class.is_in("oxidiser")) {
            let pair = c.meet_in(Reach::Any, burns, feeds);
            assert_eq!(pair.map(|pair| pair.severity), Some(Danger::Forbid), "{} and {}", burns.id, feeds.id);
        }
    }
}

/// CLP Annex III, EUH029 and EUH031: what gives a toxic gas off names the gas, and is no mere loss of the test.
#[test]
fn whatever_gives_off_a_gas_is_forbidden_and_names_it() {
    for pair in catalog().pairs() {
        let gas = ["gas", "fumes", "vapours", "mmonia"].iter().any(|word| pair.result.contains(word));
        assert!(!gas || pair.severity == Danger::Forbid, "{}, {}: {}", pair.a, pair.b, pair.result);
    }
    for other in ["water", "acid", "alcohol"] {
        let pair = catalog().pair("silazane", other).expect("a pair");
        assert!(pair.result.contains("mmonia"), "{other}: {}", pair.result);
    }
}

#[test]
fn a_pair_of_groups_is_found_either_way() {
    let there = catalog().pair("acid", "hypochlorite").expect("a pair");
    let back = catalog().pair("hypochlorite", "acid").expect("a pair");
    assert_eq!(there.result, back.result);
    assert!(catalog().pair("acid", "surfactant").is_none());
}

#[test]
fn a_place_leaves_out_what_counts_in_a_vessel_only() {
    let on_section = |a, b| catalog().meet_in(Reach::Any, class(a), class(b));
    assert!(on_section("isocyanate coating", "ammonia cleaner").is_none());
    assert!(on_section("silica coating", "water").is_none());
    assert!(on_section("bleach", "acid cleaner").is_some());
    for other in ["isopropanol", "alkaline cleaner", "tar remover", "drying oil"] {
        assert_eq!(on_section("peroxide", other).map(|pair| pair.severity), Some(Danger::Forbid), "{other}");
    }
    let in_vessel = catalog().meet_in(Reach::Vessel, class("isocyanate coating"), class("ammonia cleaner"));
    assert_eq!(in_vessel.map(|pair| pair.severity), Some(Danger::Forbid));
}

/// Every pair of classes, worked out by hand from the chemistry and not from the file: `X` toxic gas, fire or burns
/// wherever they meet; `v` the same in one vessel, cloth or bin; `s` spoils the test in one vessel; `.` nothing.
/// Isocyanate and water is `v`: it gives carbon dioxide, and a can that is closed on the mix may burst.
const MATRIX: &str = "
water                -
shampoo              . -
alkaline-cleaner     . . -
tar-remover          . . . -
iron-remover         . . X . -
acid-cleaner         . . X . X -
oxalic-cleaner       . . X . X . -
fluoride-cleaner     . . X . X X X -
hypochlorite         . . . X X X X X -
ammonia-cleaner      . . . . X X X X X -
peroxide             . . X X X X X X X X -
clay-lubricant       . . . . . . . . . . . -
compound             . . . . . . . . X . X . -
polish               . . . . . . . . X . X . . -
isopropanol          . . . . . . . . X . X . . . -
panel-wipe           . . . . . . . . X . X . . . . -
solvent-wipe         . . . . . . . . X . X . . . . . -
mineral-spirits      . . . . . . . . X . X . . . . . . -
acetone              . . . . . . . . X . X . . . . . . . -
thinner              . . . . . . . . X . X . . . . . . . . -
spray-paint          . . . . . . . . X . X . . . . . . . . . -
paint-marker         . . . . . . . . X . X . . . . . . . . . . -
sanding-dust         . . . . . . . . . . . . . . . . . . . . . . -
silica-coating       v . s s . v v v X s X . s s v v s s . s s v . -
spray-sealant        . . s s . . . . X s X . s s . . s s . s s s . v -
polymer-sealant      . . . . . . . . X . X . . . . . . . . . . . . s s -
wax                  . . . . . . . . X . X . . . . . . . . . . . . s s . -
drying-oil           . . . . . . . . X . X . . . . . . . . . . . . s s . . -
isocyanate-coating   v . v . . . . . X v X . . . s s . . . . . s . . s . . . -
masonry-repellent    . . s s . . . . X s X . s s . . s s . s s s . . . s s s . -
glass-repellent      . . s s . . . . X s X . s s . . s s . s s s . v . s s s s . -
varnish              . . . . . . . . X . X . . . . . . . . . . . . s s . . . . s s -
waterborne-coating   . . . . . . . . . . . . . . . . . . . . . . . v . . . . v . . . -
";

#[test]
fn every_pair_of_classes_is_what_its_chemistry_says() {
    let rows: Vec<Vec<&str>> = MATRIX
        .lines()
        .filter(|line| !line.is_empty())
        .map(|line| line.split_whitespace().collect())
        .collect();
    let classes: Vec<&str> = catalog().classes().iter().map(|class| class.id).collect();
    assert_eq!(rows.iter().map(|row| row[0]).collect::<Vec<_>>(), classes, "a row for each class");
    let mut wrong = Vec::new();
    for (at, row) in rows.iter().enumerate() {
        assert_eq!(row.len(), at + 2, "{}", row[0]);
        for (column, &wanted) in row[1..=at].iter().enumerate() {
            let (one, other) = (class(row[0]), class(rows[column][0]));
            let found = match catalog().meet(one, other).map(|pair| (pair.severity, pair.reach)) {
                Some((Danger::Forbid, Reach::Any)) => "X",
                Some((Danger::Forbid, Reach::Vessel)) => "v",
                Some((Danger::Spoil, Reach::Vessel)) => "s",
                Some((Danger::Spoil, Reach::Any)) => "S",
                None => ".",
            };
            if found != wanted {
                wrong.push(format!("{} and {}: {found}, not {wanted}", row[0], rows[column][0]));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
