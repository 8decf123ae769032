//! Steps that some sections get and others do not: needed ones serve only those, and danger is told as if all had them.

use super::{codes, findings, found, told};
use tapeline::diag::{Finding, Severity};

/// A sound preparation of the frame, with one line in place of another.
fn with(line: &str, instead: &str) -> String {
    assert!(STEPS.contains(line), "no step `{line}`");
    format!("{}{ROUNDS}", STEPS.replace(line, instead))
}

const STEPS: &str = "prep
    wash with soap, 1 part to 200 water, rinse
    decontaminate with iron-off for 5 min, rinse
    clay with slick, rinse
    dry
    polish with smooth-out tool \"foam pad\"
    wipe with spirit 35 % by volume, fresh cloth, wait 5 min
    tape lines 6 mm wide
    label
    surface below 30 degC
    shade
";

/// Rounds of which none counts from a step.
const ROUNDS: &str = "rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
";

fn of(piece: &str, code: &str) -> Vec<Finding> {
    findings(piece).1.into_iter().filter(|finding| finding.code == code).collect()
}

const ROW_A: [&str; 4] = ["A1", "A2", "A3", "A4"];

#[test]
fn the_sound_preparation_has_nothing_of_this() {
    let (study, all) = findings(&format!("{STEPS}{ROUNDS}"));
    assert!(all.is_empty(), "{}", told(&study, &all));
}

#[test]
fn a_step_on_some_sections_is_a_treatment_and_names_them() {
    let piece = with("tool \"foam pad\"", "tool \"foam pad\" only on A1, A2 and C4 because \"swirls\"");
    let finding = found(&piece, "step-on-some-sections");
    assert_eq!(finding.severity, Severity::Warning);
    assert_eq!(
        finding.message,
        "`polish` is done on A1, A2 and C4 only, which makes it a treatment of its own"
    );
    assert_eq!(finding.about, ["prep", "A1", "A2", "C4"]);
    let lacks = found(&piece, "clay-marks-left");
    assert_eq!(lacks.label, "on A3, A4, B1, B2, B3, B4, C1, C2 and C3 only", "the polish served the others");
    let piece = piece.replace("clay with slick, rinse", "clay with slick, rinse, only on A1, A2 and C4");
    let twice = ["step-on-some-sections", "step-on-some-sections"];
    assert_eq!(codes(&piece), twice, "without clay a polish is nothing that the others lack");
    let allowed =
        format!("{piece}allow step on some sections for prep because \"the owner polished there\"\n");
    assert!(codes(&allowed).is_empty(), "{:?}", codes(&allowed));
    let part =
        format!("{piece}allow step on some sections for A1 and A2 because \"the owner polished there\"\n");
    assert_eq!(codes(&part), twice);
}

#[test]
fn whole_products_and_all_sections_are_no_treatment_beside_the_products() {
    for whole in [
        "on all",
        "only on row A",
        "only on bay",
        "only on product clove",
        "only on A1, A2, A3, A4, B1, B2, B3, B4, C1, C2, C3, C4",
    ] {
        let piece = with("tool \"foam pad\"", &format!("tool \"foam pad\" {whole}"));
        let is_told = codes(&piece).contains(&"step-on-some-sections");
        assert_eq!(is_told, whole.contains("row"), "{whole}");
    }
    let bare = with("tool \"foam pad\"", "tool \"foam pad\" only on bare");
    assert_eq!(
        codes(&bare),
        ["clay-marks-left", "step-on-some-sections"],
        "nothing compares with a bare section of another kind"
    );
}

#[test]
fn a_wipe_of_some_sections_serves_no_others() {
    let piece = with("wipe with", "wipe only on row A, with");
    let lacks = found(&piece, "no-wipe");
    assert_eq!(lacks.label, "on B1, B2, B3, B4, C1, C2, C3 and C4 only");
    assert!(lacks.about.contains(&"C4".to_owned()) && !lacks.about.contains(&"A1".to_owned()));
    let second = with(
        "wipe with",
        "wipe with spirit 35 % by volume, fresh cloth\n    polish with smooth-out tool \"other pad\" only on row A\n    wipe only on row B, with",
    );
    let residue = found(&second, "residue-before-apply");
    assert_eq!(residue.label, "on A1, A2, A3 and A4 only");
}

#[test]
fn a_rinse_and_a_drying_of_some_sections_leave_the_others_unrinsed_and_wet() {
    let unrinsed = with("for 5 min, rinse", "for 5 min\n    rinse only on row A");
    let left: Vec<String> = of(&unrinsed, "no-rinse").into_iter().map(|finding| finding.label).collect();
    assert_eq!(left, ["on B1, B2, B3, B4, C1, C2, C3 and C4 only"]);
    let wet = with("    dry\n", "    dry only on A1, A2, A3 and A4\n");
    assert_eq!(found(&wet, "no-dry").label, "on B1, B2, B3, B4, C1, C2, C3 and C4 only");
    let rounds = format!("{STEPS}{}", ROUNDS.replace("rinse, dry, wait 2 h", "rinse, dry only on row A"));
    let wet = of(&rounds, "wet-before-reading");
    assert!(wet.iter().all(|finding| ROW_A.iter().all(|code| !finding.about.contains(&(*code).to_owned()))));
    assert_eq!(wet.len(), 1, "{wet:?}");
}

#[test]
fn steps_that_never_reach_one_section_are_in_no_order() {
    let both = with(
        "    wipe with spirit 35 % by volume, fresh cloth, wait 5 min\n",
        "    wipe with spirit 35 % by volume, fresh cloth, wait 5 min, only on row A\n    wash with soap, rinse, only on row B\n    dry\n",
    );
    assert!(!codes(&both).contains(&"order-of-prep"), "{:?}", codes(&both));
    let one = both.replace("only on row B", "only on row A");
    let order = found(&one, "order-of-prep");
    assert_eq!(order.label, "on A1, A2, A3 and A4 only");
}

#[test]
fn what_must_not_meet_is_told_as_if_all_sections_had_it() {
    let bleach = "supply bleach, a bleach\n    mix neat\n    sheet \"bleach.pdf\" dated 2025-10-01\n\
                  supply acid, an acid cleaner\n    mix neat\n    sheet \"acid.pdf\" dated 2025-10-01\n";
    let apart = with(
        "    clay with slick, rinse\n",
        "    wash with bleach only on row A\n    decontaminate with acid only on row B\n    rinse\n    clay with slick, rinse\n",
    );
    let meeting = found(&format!("{bleach}{apart}"), "chemicals-in-contact");
    assert!(meeting.binding && meeting.severity == Severity::Error);
    let half = with(
        "    clay with slick, rinse\n",
        "    wash with bleach\n    rinse only on row A\n    decontaminate with acid\n    rinse\n    clay with slick, rinse\n",
    );
    let meeting = found(&format!("{bleach}{half}"), "chemicals-in-contact");
    assert!(meeting.binding, "a rinse of one row rinses no other");
    assert!(meeting.label.ends_with("on B1, B2, B3, B4, C1, C2, C3 and C4 only"), "{}", meeting.label);
}

#[test]
fn a_round_after_a_step_that_only_some_sections_get_is_placed_for_all() {
    let piece = with("wipe with", "wipe only on row A, with").replace("before apply", "after wipe");
    assert!(codes(&piece).contains(&"no-wipe") && codes(&piece).contains(&"step-on-some-sections"));
}
