//! Every pair of the catalog by itself: it speaks where the two meet, and is silent where a full rinse parts them.

use super::{codes, findings, told};
use tapeline::catalog::{Catalog, Class, Danger, Pair, Reach};
use tapeline::diag::{Finding, Severity};

/// Two classes whose worst meeting at a place is this pair.
fn classes(pair: &Pair, place: Reach) -> Option<(&'static Class, &'static Class)> {
    let catalog = Catalog::built_in();
    let bought = || catalog.classes().iter().filter(|class| class.id != "sanding-dust");
    bought().find_map(|one| {
        let is_worst = |other: &&Class| {
            let worst = catalog.meet_in(place, one, other);
            worst.is_some_and(|worst| (worst.a, worst.b) == (pair.a, pair.b))
        };
        bought().find(is_worst).map(|other| (one, other))
    })
}

/// Two supplies, with everything named that a grave class asks for, and the steps that use them.
fn study(one: &Class, other: &Class, mix: &str, steps: &str) -> String {
    format!(
        "supply gluconate, calcium gluconate gel\nsupply air-line, supplied air\n\
         supply first-agent, {}\n    mix {mix}\n    strength 99 % by volume\n    sheet \"first.pdf\"\n\
         supply other-agent, {}\n    mix neat\n    strength 99 % by volume\n    sheet \"other.pdf\"\n\
         rounds\n    baseline before apply\n    fresh 8 days after apply\n    month 3 within 3 days\n    every round gloss-20 5 times\n\
         prep\n{steps}    label\n",
        one.name, other.name
    )
}

fn spoken(piece: &str, code: &str) -> Vec<Finding> {
    findings(piece).1.into_iter().filter(|finding| finding.code == code).collect()
}

fn of_its_severity(finding: &Finding, pair: &Pair) -> bool {
    match pair.severity {
        Danger::Forbid => finding.severity == Severity::Error && finding.binding,
        Danger::Spoil => finding.severity == Severity::Warning && !finding.binding,
    }
}

/// CLP, NIOSH and the papers named at each pair say what happens; this proves that each of them is told.
#[test]
fn every_pair_that_counts_on_a_section_speaks_without_a_rinse_and_is_silent_with_one() {
    let catalog = Catalog::built_in();
    let pairs: Vec<&Pair> = catalog.pairs().iter().filter(|pair| pair.reach == Reach::Any).collect();
    assert!(pairs.len() > 12, "{}", pairs.len());
    for pair in pairs {
        let (one, other) = classes(pair, Reach::Any).unwrap_or_else(|| panic!("{} and {}", pair.a, pair.b));
        let name = format!("{} and {}", one.id, other.id);
        for (first, second) in [("first-agent", "other-agent"), ("other-agent", "first-agent")] {
            let met =
                format!("    wash with {first}\n    wait 1 h\n    dry\n    wash with {second}, rinse\n");
            let met = study(one, other, "neat", &met);
            let said = spoken(&met, "chemicals-in-contact");
            assert_eq!(said.len(), 1, "{name}\n{}", told(&met, &findings(&met).1));
            assert!(of_its_severity(&said[0], pair), "{name}: {:?}", said[0]);
            assert_eq!(said[0].label, pair.result.trim_end_matches('.'), "{name}");
            assert!(said[0].help[0].contains("`rinse`"), "{name}");
            let parted = format!("    wash with {first}, rinse\n    dry\n    wash with {second}, rinse\n");
            assert!(spoken(&study(one, other, "neat", &parted), "chemicals-in-contact").is_empty(), "{name}");
            let own_step = format!("    wash with {first}\n    rinse\n    wash with {second}\n    rinse\n");
            assert!(
                spoken(&study(one, other, "neat", &own_step), "chemicals-in-contact").is_empty(),
                "{name}"
            );
        }
        // A rinse of the panel does not rinse a mitt.
        let tool = "    wash with first-agent, rinse, tool \"grey mitt\"\n    wash with other-agent, rinse, tool \"Grey  mitt\"\n";
        assert_eq!(
            spoken(&study(one, other, "neat", tool), "chemicals-in-contact").len(),
            1,
            "{name}: one tool"
        );
        // Nobody can waive what makes gas, fire or burns.
        let met = "    wash with first-agent\n    wash with other-agent, rinse\n";
        let waived = format!(
            "{}allow chemicals-in-contact for prep because \"we are careful\"\n",
            study(one, other, "neat", met)
        );
        let stays = codes(&waived).contains(&"chemicals-in-contact");
        assert_eq!(stays, pair.severity == Danger::Forbid, "{name}: waived");
    }
}

#[test]
fn every_pair_speaks_in_one_mix_and_is_silent_in_two_buckets() {
    for pair in Catalog::built_in().pairs() {
        let (one, other) =
            classes(pair, Reach::Vessel).unwrap_or_else(|| panic!("{} and {}", pair.a, pair.b));
        let name = format!("{} and {}", one.id, other.id);
        let used = "    wash with first-agent, rinse\n";
        let mixed = study(one, other, "1 part to 1 other-agent", used);
        let said = spoken(&mixed, "chemicals-in-one-mix");
        assert_eq!(said.len(), 1, "{name}\n{}", told(&mixed, &findings(&mixed).1));
        assert!(of_its_severity(&said[0], pair), "{name}: {:?}", said[0]);
        let apart = format!("{used}    wash with other-agent, rinse\n");
        let apart = study(one, other, "neat", &apart);
        assert!(spoken(&apart, "chemicals-in-one-mix").is_empty(), "{name}");
        if pair.reach == Reach::Vessel {
            let on_section = "    wash with first-agent\n    wash with other-agent, rinse\n";
            let told = spoken(&study(one, other, "neat", on_section), "chemicals-in-contact");
            let own = told.iter().filter(|finding| finding.label == pair.result.trim_end_matches('.'));
            assert_eq!(own.count(), 0, "{name}: a dried film is no vessel");
        }
    }
}

/// CLP Annex II, EUH206: bleach and ammonia on patches of one specimen, in one cycle and from one to the next.
#[test]
fn cleaners_of_a_cycle_meet_unless_each_is_rinsed_off() {
    let met = |clean: &str| {
        let text = include_str!("../language/cycles.study")
            .replace("| spray+gel  pen+gel  pull |", "| pen+foam  pen+glass  pull |")
            .replace("spray+gel", "pen+foam")
            .replace(
                "supply gel, a solvent wipe",
                "supply foam, a bleach\n    sheet \"foam.pdf\"\nsupply glass, an ammonia cleaner\n    sheet \"glass.pdf\"\n\
                 supply gel, a solvent wipe",
            )
            .replace("each patch with its cleaner, fresh cloth, rinse", clean);
        let found = tapeline::pipeline::check(
            "cycles.study",
            &text,
            &[],
            tapeline::pipeline::Day::AsOf(jiff::civil::date(2026, 3, 1)),
        )
        .findings;
        let met: Vec<Finding> = found.into_iter().filter(|one| one.code == "chemicals-in-contact").collect();
        assert!(met.iter().all(|one| one.severity == Severity::Error && one.binding));
        met.iter().map(|one| one.message.clone()).collect::<Vec<_>>()
    };
    assert_eq!(
        met("each patch with its cleaner, fresh cloth"),
        ["`glass` meets `foam` with no full rinse between"]
    );
    assert_eq!(met("each patch with its cleaner, fresh cloth, rinse"), [""; 0]);
}
