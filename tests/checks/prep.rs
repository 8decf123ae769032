//! Preparation: what must be said, and what must not be held against a sound order.

use super::{codes, findings, found, told};
use tapeline::diag::Severity;

/// A preparation of the frame's steps, each by its verb; other lines stand as they are.
fn prep(steps: &[&str]) -> String {
    let line = |step: &&str| {
        match *step {
            "wash" => "wash with soap, 1 part to 200 water, rinse",
            "decontaminate" => "decontaminate with iron-off for 5 min, rinse",
            "clay" => "clay with slick, rinse",
            "compound" => "compound with smooth-out tool \"wool pad\"",
            "polish" => "polish with smooth-out tool \"foam pad\"",
            "wipe" => "wipe with spirit 35 % by volume, fresh cloth",
            "tape" => "tape lines 6 mm wide",
            other => other,
        }
        .to_owned()
    };
    let lines: Vec<String> = steps.iter().map(|step| format!("    {}\n", line(step))).collect();
    format!("prep\n{}", lines.concat())
}

fn has(piece: &str, code: &str) -> bool {
    codes(piece).contains(&code)
}

#[test]
fn a_polish_after_the_wipe_is_residue_and_not_a_wrong_order() {
    let piece = prep(&["wash", "decontaminate", "dry", "wipe", "polish", "tape", "label"]);
    assert!(has(&piece, "residue-before-apply"));
    assert!(!has(&piece, "order-of-prep"));
    let mended = prep(&["wash", "decontaminate", "dry", "wipe", "polish", "wipe", "tape", "label"]);
    assert!(!has(&mended, "residue-before-apply"));
}

#[test]
fn a_polish_after_wipe_and_tape_is_one_finding_that_says_where_it_belongs() {
    for steps in [
        &["wash", "decontaminate", "dry", "wipe", "tape", "label", "polish"][..],
        &["wash", "decontaminate", "dry", "wipe", "tape", "polish", "label"],
    ] {
        let piece = prep(steps);
        assert!(!has(&piece, "residue-before-apply"));
        let finding = found(&piece, "order-of-prep");
        assert!(finding.message.starts_with("`polish` stands after `wipe`"), "{}", finding.message);
        assert_eq!(finding.help, ["write `polish` above `wipe`"]);
        assert_eq!(codes(&piece).iter().filter(|code| **code == "order-of-prep").count(), 1);
    }
}

#[test]
fn residue_without_any_wipe_is_told_once() {
    let rounds = ROUNDS.replace("after wipe", "before apply");
    let piece = format!("{rounds}{}", prep(&["wash", "decontaminate", "dry", "polish", "tape", "label"]));
    assert!(has(&piece, "no-wipe"));
    assert!(!has(&piece, "residue-before-apply"));
}

#[test]
fn a_wipe_with_something_oily_takes_nothing_off() {
    let oily =
        "supply spirit, isopropanol\n    strength 99 % by volume\n    leaves oils\n    sheet \"s.pdf\"\n";
    assert_eq!(found(oily, "residue-before-apply").message.matches("wipe").count(), 2);
}

#[test]
fn tape_may_guard_trim_and_be_laid_again() {
    let again = prep(&["wash", "decontaminate", "dry", "tape", "polish", "wipe", "tape", "label"]);
    assert!(!has(&again, "order-of-prep"));
    let torn = prep(&["wash", "decontaminate", "dry", "tape", "label", "polish", "wipe"]);
    // Tape and label each have to move, whatever they stand before.
    assert_eq!(codes(&torn).iter().filter(|code| **code == "order-of-prep").count(), 2);
}

#[test]
fn a_step_in_the_wrong_place_is_one_finding_however_many_orders_it_breaks() {
    let orders = |steps: &[&str]| {
        let piece = prep(steps);
        let all = codes(&piece);
        let own = all.iter().filter(|code| **code == "order-of-prep").count();
        (own, found(&piece, "order-of-prep"))
    };
    let (count, wipe) = orders(&["wipe", "wash", "decontaminate", "dry", "polish", "tape", "label"]);
    assert!(wipe.message.starts_with("`wipe` stands before `wash` and `decontaminate`"), "{}", wipe.message);
    assert_eq!((count, wipe.help), (1, vec!["write `wipe` below `decontaminate`".to_owned()]));
    let (count, wash) = orders(&["decontaminate", "dry", "polish", "wipe", "tape", "label", "wash", "dry"]);
    let after = "`wash` stands after `decontaminate`, `polish`, `wipe`, `tape` and `label`";
    assert!(wash.message.starts_with(after), "{}", wash.message);
    assert_eq!((count, wash.help), (1, vec!["write `wash` above `decontaminate`".to_owned()]));
    let (count, tape) = orders(&["wash", "tape", "decontaminate", "dry", "polish", "wipe", "label"]);
    assert!(tape.message.starts_with("`tape` stands before"), "{}", tape.message);
    assert_eq!(count, 1);
}

#[test]
fn a_wipe_before_the_wash_is_told_as_that_and_not_as_residue() {
    let piece = prep(&["wipe", "wash", "decontaminate", "dry", "polish", "tape", "label"]);
    assert!(has(&piece, "order-of-prep") && !has(&piece, "residue-before-apply"));
    let sound =
        prep(&["wash", "dry", "wipe", "wash", "decontaminate", "dry", "polish", "wipe", "tape", "label"]);
    assert!(!has(&sound, "order-of-prep"));
}

#[test]
fn a_second_wash_after_the_polish_is_no_fault() {
    let piece = prep(&[
        "wash",
        "decontaminate",
        "clay",
        "dry",
        "compound",
        "polish",
        "wash",
        "dry",
        "wipe",
        "tape",
        "label",
    ]);
    assert!(!has(&piece, "order-of-prep"));
}

#[test]
fn a_compound_after_the_last_polish_leaves_its_marks() {
    let piece = prep(&["wash", "decontaminate", "dry", "polish", "compound", "wipe", "tape", "label"]);
    assert!(found(&piece, "order-of-prep").message.starts_with("`polish` stands before `compound`"));
    let test_spot =
        prep(&["wash", "decontaminate", "dry", "polish", "compound", "polish", "wipe", "tape", "label"]);
    assert!(!has(&test_spot, "order-of-prep"));
}

#[test]
fn tape_on_water_is_told_and_a_dry_panel_may_be_read_as_it_comes() {
    let film = "measure film in um\n    neither is better\n";
    let first = prep(&["read film at 9 places", "wash", "decontaminate", "dry", "wipe", "tape", "label"]);
    assert!(!has(&format!("{film}{first}"), "order-of-prep"));
    let wet = prep(&["wash", "decontaminate", "read film at 9 places", "dry", "wipe", "tape", "label"]);
    assert!(
        found(&format!("{film}{wet}"), "order-of-prep").message.starts_with("`read` meets a wet surface")
    );
}

#[test]
fn a_line_that_could_not_be_read_hides_what_may_be_missing() {
    let piece = prep(&["wash with soap, 1 part to 200 water, rince", "dry", "wipe"]);
    let codes = codes(&piece);
    assert!(codes.contains(&"unreadable-line"));
    for code in ["no-wash", "no-decontamination", "no-tape", "order-of-prep", "supply-not-used"] {
        assert!(!codes.contains(&code), "{code}");
    }
}

const ACID: &str = "supply lime-off, an acid cleaner\n    mix neat\n    sheet \"lime-off.pdf\"\n";
const BLEACH: &str = "supply mould-off, bleach\n    mix 1 part to 10 water\n    sheet \"mould-off.pdf\"\n";
const ROUNDS: &str = "rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
";

#[test]
fn only_a_full_rinse_parts_two_chemicals() {
    let acid = "decontaminate with lime-off for 1 min, rinse";
    let left = "decontaminate with iron-off for 5 min";
    for between in [&["dry", "wipe"][..], &["wash with soap"], &["wait 5 min"], &[]] {
        let steps = [&["wash", left], between, &[acid, "dry", "wipe", "tape", "label"]].concat();
        let finding = found(&format!("{ACID}{}", prep(&steps)), "chemicals-in-contact");
        assert!(finding.binding && finding.severity == Severity::Error);
        assert_eq!(finding.about, ["lime-off", "iron-off"]);
    }
    let steps = ["wash", left, "rinse", acid, "dry", "wipe", "tape", "label"];
    assert!(!has(&format!("{ACID}{}", prep(&steps)), "chemicals-in-contact"));
}

#[test]
fn what_stays_after_preparation_meets_the_wash_of_a_round_and_spirit_does_not() {
    let round = format!("{BLEACH}{ROUNDS}    before each round  wash with mould-off for 5 min, rinse, dry\n");
    let salt = prep(&["wash", "decontaminate with iron-off for 5 min", "dry", "wipe", "tape", "label"]);
    assert!(has(&format!("{round}{salt}"), "chemicals-in-contact"));
    // The frame ends with a wipe of isopropanol, which is gone long before the first round.
    assert!(!has(&round, "chemicals-in-contact"));
    let same_day =
        prep(&["wash", "dry", "wipe", "wash with mould-off for 5 min, rinse", "dry", "tape", "label"]);
    assert!(has(&format!("{BLEACH}{same_day}"), "chemicals-in-contact"));
}

const PEROXIDE: &str = "supply perox, a peroxide cleaner\n    mix neat\n    sheet \"p.pdf\"\n\
    supply lye, an alkaline cleaner\n    mix neat\n    sheet \"l.pdf\"\n\
    supply tarry, a tar remover\n    sheet \"t.pdf\"\n";

#[test]
fn peroxide_that_is_not_rinsed_meets_spirit_lye_and_tar_remover() {
    for later in ["wipe", "wash with lye for 2 min, rinse", "decontaminate with tarry for 90 s, rinse"] {
        for (rinse, expected) in [("", 1), (", rinse", 0)] {
            let wet = format!("wash with perox for 6 min{rinse}");
            let steps = ["wash", &wet, later, "rinse", "dry", "polish", "wipe", "tape", "label"];
            let all = codes(&format!("{PEROXIDE}{}", prep(&steps)));
            let own = |code: &str| all.iter().filter(|one| **one == code).count();
            assert_eq!(own("chemicals-in-contact"), expected, "{later}: {all:?}");
            assert_eq!(own("no-rinse"), 0, "{later}: {all:?}");
        }
    }
}

#[test]
fn what_a_polish_left_has_dried_before_a_round_and_is_wet_in_preparation() {
    let round = format!("{BLEACH}{ROUNDS}    before each round  wash with mould-off for 5 min, rinse, dry\n");
    assert!(!has(&round, "chemicals-in-contact"));
    let after = prep(&[
        "wash",
        "dry",
        "polish",
        "wash with mould-off for 5 min, rinse",
        "dry",
        "wipe",
        "tape",
        "label",
    ]);
    let finding = found(&format!("{BLEACH}{after}"), "chemicals-in-contact");
    assert!(finding.binding && finding.label.starts_with("Fire"), "{}", finding.label);
}

#[test]
fn a_step_that_meets_every_product_is_one_finding_and_its_rinse_is_asked_for_once() {
    let steps = ["wash", "dry", "polish", "wipe", "wash with mould-off for 5 min", "dry", "tape", "label"];
    let piece = format!("{BLEACH}{}", prep(&steps));
    let (_, findings) = super::findings(&piece);
    let own: Vec<_> = findings.iter().filter(|finding| finding.code == "chemicals-in-contact").collect();
    // The spirit before it is a meeting of its own; the polish was wiped off.
    assert_eq!(own.len(), 2);
    let coats =
        own.iter().find(|finding| finding.message.starts_with("`bay`, `clove` and `cumin` meet")).unwrap();
    assert!(coats.binding && coats.related.len() == 3);
    assert_eq!(coats.about, ["bay", "clove", "cumin", "mould-off"]);
    assert!(!has(&piece, "no-rinse"));
}

#[test]
fn upkeep_meets_the_wash_of_a_round() {
    let piece = format!(
        "{BLEACH}{ACID}{ROUNDS}    before each round  wash with mould-off for 5 min, rinse, dry\n\
         upkeep\n    every 2 weeks  wash with lime-off for 1 min\n"
    );
    assert!(has(&piece, "chemicals-in-contact"));
    assert!(!has(&piece.replace("for 1 min", "for 1 min, rinse"), "chemicals-in-contact"));
}

#[test]
fn a_tool_carries_a_chemical_past_the_rinse() {
    let steps = |other: &str| {
        prep(&[
            "wash with mould-off for 5 min, rinse, tool \"grey brush\"",
            &format!("decontaminate with lime-off for 1 min, rinse, tool \"{other}\""),
            "dry",
            "wipe",
            "tape",
            "label",
        ])
    };
    let chemicals = format!("{ACID}{BLEACH}");
    assert!(
        found(&format!("{chemicals}{}", steps("grey brush")), "chemicals-in-contact")
            .message
            .contains("same tool")
    );
    assert!(!has(&format!("{chemicals}{}", steps("red brush")), "chemicals-in-contact"));
}

#[test]
fn what_spoils_a_mix_is_a_warning_and_what_gives_a_gas_off_an_error() {
    let of = |kind: &str, liquid: &str| {
        let piece =
            format!("product bay \"Bay\", {kind}\n    mix 1 part to 3 {liquid}\n    sheet \"bay.pdf\"\n");
        found(&piece, "chemicals-in-one-mix")
    };
    let spoilt = of("an isocyanate coating", "spirit");
    assert!(spoilt.severity == Severity::Warning && !spoilt.binding);
    for (kind, gas) in [("a silica coating", "ammonia"), ("an isocyanate coating", "Carbon dioxide")] {
        let told = of(kind, "water");
        assert!(
            told.severity == Severity::Error && told.binding && told.label.contains(gas),
            "{}",
            told.label
        );
    }
}

#[test]
fn a_chlorine_mix_cannot_be_waived() {
    let piece =
        format!("{ACID}supply mould-off, bleach\n    mix 1 part to 10 lime-off\n    sheet \"m.pdf\"\n");
    let used = prep(&["wash with mould-off for 5 min, rinse", "dry", "wipe"]);
    let finding = found(&format!("{piece}{used}"), "chemicals-in-one-mix");
    assert!(finding.binding && finding.label.starts_with("Chlorine gas"), "{}", finding.label);
}

#[test]
fn spirit_by_mass_or_neat_of_an_unknown_bottle_is_unclear() {
    let wipe = |mix: &str| prep(&["wash", "dry", &format!("wipe with spirit {mix}"), "tape", "label"]);
    assert!(has(&wipe("30 % by mass"), "mix-unclear"));
    assert!(!has(&wipe("neat"), "mix-unclear"));
    let unknown = "supply spirit, isopropanol\n    sheet \"s.pdf\"\n";
    assert!(has(&format!("{unknown}{}", wipe("neat")), "mix-unclear"));
}

#[test]
fn the_usual_dwell_of_a_class_is_advice_and_the_limits_of_a_supply_are_not() {
    let without = "supply iron-off, an iron remover\n    mix neat\n    sheet \"i.pdf\"\n";
    let long = prep(&["wash", "decontaminate with iron-off for 8 min, rinse", "dry", "wipe"]);
    assert_eq!(found(&format!("{without}{long}"), "dwell-outside-limits").severity, Severity::Advice);
    assert_eq!(found(&long, "dwell-outside-limits").severity, Severity::Warning);
}

#[test]
fn upkeep_and_rounds_are_rinsed_too() {
    let piece = format!("{ROUNDS}    before each round  wash with soap, dry\n");
    assert_eq!(found(&piece, "no-rinse").about, ["soap", "rounds"]);
}

#[test]
fn a_clearcoat_guards_the_metal_below_it() {
    let alkali = "supply soap, an alkaline cleaner\n    mix 1 part to 10 water\n    sheet \"s.pdf\"\n";
    let panel =
        |material: &str| format!("{alkali}surface panel\n    material {material}\n    size 880 x 580 mm\n");
    assert!(has(&panel("aluminium"), "cleaner-attacks-surface"));
    assert!(!has(&panel("clearcoat on aluminium"), "cleaner-attacks-surface"));
}

#[test]
fn gel_on_site_is_found_by_name_or_kind() {
    let etch = "supply etch, a fluoride cleaner\n    sheet \"e.pdf\"\n";
    assert!(found(etch, "fluoride-without-gel").binding);
    assert!(!has(&format!("{etch}supply calcium-gluconate-gel\n"), "fluoride-without-gel"));
    assert!(has(&format!("{etch}supply gel, a cooling gel\n"), "fluoride-without-gel"));
}

#[test]
fn a_step_may_name_every_kind_of_the_catalog_that_begins_with_a_letter() {
    let kinds: Vec<&str> = tapeline::catalog::Catalog::built_in()
        .class_names()
        .filter(|kind| kind.starts_with(|c: char| c.is_ascii_alphabetic()))
        // `rinse` and `dust` are steps, and nothing is cleaned with rinse water or with what sanding leaves.
        .filter(|kind| *kind != "rinse water" && !kind.ends_with(" dust"))
        .collect();
    assert!(kinds.iter().filter(|kind| kind.contains(' ')).count() > 40, "{kinds:?}");
    for kind in kinds {
        let piece = prep(&["wash", &format!("decontaminate with {kind} for 2 min, rinse"), "dry", "wipe"]);
        let (study, findings) = findings(&piece);
        let unread = findings
            .iter()
            .any(|finding| ["unreadable-line", "undefined-name", "not-a-number"].contains(&finding.code));
        assert!(!unread, "{kind}\n{}", told(&study, &findings));
    }
}

#[test]
fn what_must_not_meet_is_found_for_kinds_of_several_words() {
    for (one, other) in [("acid cleaner", "chlorine cleaner"), ("ammonia glass cleaner", "mould cleaner")] {
        let (one, other) =
            (format!("wash with {one} for 1 min"), format!("wash with {other} for 1 min, rinse"));
        let finding = found(&prep(&[&one, &other, "dry", "wipe", "tape", "label"]), "chemicals-in-contact");
        assert!(finding.binding, "{one} and {other}");
    }
}

#[test]
fn a_waiver_names_a_kind_of_several_words_with_hyphens() {
    let piece = prep(&["wash", "decontaminate with iron remover, rinse", "dry", "wipe", "tape", "label"]);
    assert!(has(&piece, "no-dwell"));
    let waiver = "allow no dwell for iron-remover because \"rinsed at once\"\n";
    let codes = codes(&format!("{waiver}{piece}"));
    assert!(!codes.contains(&"no-dwell") && !codes.contains(&"waiver-not-needed"), "{codes:?}");
}

const FILM: &str = "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 120 um
    leave       at least 92 um
measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
supply level, a compound
    sheet       \"level.pdf\"
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    dry
    compound    with level  tool \"wool pad\"
    dry
    polish      with smooth-out  tool \"foam pad\"  TIMES
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    label
rounds
    raw         after decontaminate  film once
    cut         after compound  film once
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
--- date 2026-03-03
--- readings.csv
date,round,section,measure,unit,1
";

/// The cuts that are still to come are held against the last film that was read before them.
#[test]
fn a_film_that_was_read_between_two_cuts_takes_the_place_of_the_stated_one() {
    let piece = |times: &str, rows: &str| format!("{}{rows}", FILM.replace("TIMES", times));
    let silent = |times: &str, rows: &str| !has(&piece(times, rows), "film-budget");
    // 100 um less 4 um and 1 um at most is above 92 um; four more polishes are not.
    assert!(silent("once", "") && !silent("5 times", ""));
    let found = found(&piece("5 times", ""), "film-budget");
    assert_eq!(found.severity, Severity::Warning);
    assert!(
        found.message.starts_with("100 um of film less 2 to 9 um in 6 cuts may end at 91 um"),
        "{}",
        found.message
    );
    // After the compound 95 um are left on A2: two polishes still fit, five do not.
    let read = "2026-03-02,cut,A1,film,um,99\n2026-03-02,cut,A2,film,um,95\n";
    assert!(silent("twice", read));
    let later = super::found(&piece("5 times", read), "film-budget");
    assert!(
        later.message.starts_with("95 um at `cut` of film less 1 to 5 um in 5 cuts may end at 90 um"),
        "{}",
        later.message
    );
    assert_eq!(later.label, "thinnest on A2");
    assert!(later.help[0].contains("`read film`"));
    // Where even the least that they take is too much, nothing may be built on it.
    let gone = super::found(&piece("5 times", "2026-03-02,cut,A2,film,um,92.5\n"), "film-budget");
    assert_eq!(gone.severity, Severity::Error);
}

#[test]
fn a_film_limit_that_the_study_does_not_set_is_the_habit_of_the_trade_and_is_said_to_be() {
    let own = FILM.replace("TIMES", "5 times").replace("    leave       at least 92 um\n", "");
    let own = own.split("--- readings.csv").next().unwrap().to_owned();
    let told = found(&own, "film-budget");
    assert!(
        told.help.iter().any(|help| help.contains("the 8 um that trade practice takes at most")),
        "{:?}",
        told.help
    );
    let gelcoat = own.replace("clearcoat on steel", "gelcoat");
    assert!(!has(&gelcoat, "film-budget"), "no habit is known there");
}

/// Rounds of which none counts from a step.
const FREE_ROUNDS: &str = "rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
";

#[test]
fn findings_about_preparation_name_the_sections_that_are_prepared() {
    let piece = prep(&["wash", "decontaminate", "dry", "polish", "tape", "label"]);
    assert_eq!(found(&format!("{piece}{FREE_ROUNDS}"), "no-wipe").label, "on all of 12 prepared sections");
}

#[test]
fn steps_that_a_material_does_not_need_are_not_missed() {
    let bare = |material: &str| {
        let surface = format!("surface panel\n    material    {material}\n    size        880 x 580 mm\n");
        codes(&format!("{surface}{}{FREE_ROUNDS}", prep(&["dry", "label"])))
    };
    let missed = |material: &str, code| bare(material).contains(&code);
    assert!(missed("clearcoat on steel", "no-decontamination") && missed("clearcoat on steel", "no-wash"));
    assert!(!missed("glass", "no-decontamination") && missed("glass", "no-wipe"));
    assert!(!missed("oak boards", "no-wash") && !missed("oak boards", "no-wipe"));
    assert!(missed("oak boards", "no-sanding") && missed("oak boards", "end-grain-open"));
    assert!(!missed("brick", "no-wipe") && missed("brick", "no-wash") && !missed("brick", "no-sanding"));
    assert!(missed("moon rock", "no-wipe"), "what is not known needs all");
}

#[test]
fn a_solvent_that_is_only_by_its_sheet_flammable_keeps_machines_away() {
    let wipe = "wipe with prep-mist, fresh cloth";
    let steps = prep(&[
        "wash",
        "decontaminate",
        "dry",
        wipe,
        "polish with smooth-out tool \"orbital machine\"",
        "wipe",
        "label",
    ]);
    let with = |hazards: &str| {
        format!(
            "supply prep-mist, moon dust\n    mix neat\n    sheet \"mist.pdf\"\n    hazards {hazards}\n{steps}"
        )
    };
    let told = found(&with("H226"), "machine-after-solvent");
    assert!(told.binding && told.severity == Severity::Error);
    assert!(!has(&with("H319"), "machine-after-solvent"));
}

#[test]
fn a_machine_waits_ten_minutes_for_a_solvent() {
    let after = |wait: &str, pause: &str| {
        let wipe = format!("wipe with spirit 35 % by volume, fresh cloth{wait}");
        let polish = "polish with smooth-out tool \"orbital machine\"";
        let mut lines = vec!["wash", "decontaminate", "dry", wipe.as_str()];
        lines.extend((!pause.is_empty()).then_some(pause));
        lines.extend([polish, "wipe", "label"]);
        has(&prep(&lines), "machine-after-solvent")
    };
    assert!(after("", "") && after(", wait 1 s", "") && after("", "wait 1 s") && after("", "dry"));
    assert!(!after(", wait 10 min", "") && !after("", "wait 10 min") && !after(", wait 5 min", "wait 5 min"));
}

/// OSHA 29 CFR 1910.106(e)(6)(i): open flames, hot surfaces and radiant heat are sources of ignition.
#[test]
fn heat_comes_neither_at_nor_after_a_wet_solvent() {
    let with = |wipe: &str, then: &[&str]| {
        let mut lines = vec!["wash", "decontaminate", "dry", wipe];
        lines.extend(then);
        prep(&[&lines[..], &["label"]].concat())
    };
    let wipe = "wipe with spirit 35 % by volume, fresh cloth";
    let lamp = "dry 20 min tool \"heat lamp\"";
    let told = found(&with(wipe, &[lamp]), "heat-after-solvent");
    assert!(told.binding && told.severity == Severity::Error && told.message.contains("`spirit`"));
    let has = |wipe: &str, then: &[&str]| has(&with(wipe, then), "heat-after-solvent");
    assert!(has("wipe with spirit 35 % by volume, tool \"cloth under a heater\"", &[]), "in the step itself");
    assert!(has(wipe, &["tape", lamp]), "another step does not dry it");
    assert!(has(wipe, &["wait 9 min", lamp]) && !has(wipe, &["wait 10 min", lamp]));
    assert!(!has(wipe, &["wait 5 min", "tape", "wait 5 min", lamp]) && !has(wipe, &["rinse", lamp]));
    assert!(!has(wipe, &["dry 20 min tool \"fan\""]), "moving air is no heat");
    assert!(!has("wipe with soap, fresh cloth", &[lamp]), "soap does not burn");
    let coats = |between: &str| {
        format!(
            "product sage, a drying oil\n    coats 2 after 4 h\n    between {between}\n    sheet \"s.pdf\"\n"
        )
    };
    let told = found(&coats("dry it under a heat lamp"), "heat-after-solvent");
    assert!(!told.binding && told.severity == Severity::Warning);
    assert!(!codes(&coats("rub with 180 grit")).contains(&"heat-after-solvent"));
}

#[test]
fn a_compound_is_refined_by_something_finer_and_not_by_itself() {
    let cut = "supply cut, a compound\n    sheet \"cut-sheet.pdf\" dated 2025-10-01\n";
    let done = |polish: &str| {
        format!("{cut}{}", prep(&["wash", "compound with cut tool \"wool pad\"", polish, "wipe"]))
    };
    assert!(has(&done("polish with cut tool \"sponge pad\""), "compound-not-refined"));
    assert!(!has(&done("polish with smooth-out tool \"sponge pad\""), "compound-not-refined"));
    // The same polish on a finer pad is finer, on the same pad it is not.
    let same =
        |pad: &str| prep(&["wash", "compound", &format!("polish with smooth-out tool \"{pad}\""), "wipe"]);
    assert!(!has(&same("foam pad"), "compound-not-refined"));
    assert!(has(&same("Wool  pad"), "compound-not-refined"));
}
