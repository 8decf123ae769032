//! Readings of the preparation: what was planned and not taken, and film that is gone without a word.

use super::{codes, findings, found};

const FILM: &str = "measure film in um\n    neither is better\ngauge probe\n    reads film\n    spot 10 mm across\n    \
                    two readings agree within 3 um\n    certified 2026-02-01 for 12 months\n";

/// A panel that is read twice, with steps between, and a file of readings.
fn piece(between: &str, rows: &str) -> String {
    let steps = format!(
        "prep\n    wash with soap, 1 part to 200 water, rinse\n    dry\n    read film at 3 places\n{between}    \
         read film at 3 places\n    wipe with spirit 35 % by volume twice, fresh cloth, wait 5 min\n    label\n"
    );
    format!(
        "{FILM}{steps}--- date 2026-03-04\n--- readings.csv\ndate,round,section,measure,unit,1,2,3\n{rows}"
    )
}

const FIRST: &str = "2026-03-02,prep 1,panel,film,um,118,121,116\n";
const READ: &str = "2026-03-03,baseline,A1,gloss-20,GU,90,90,90\n";

#[test]
fn a_reading_of_the_preparation_that_was_never_taken_is_told() {
    let second = "2026-03-02,prep 2,panel,film,um,118,120,116\n";
    let none = found(&piece("", &format!("{second}{READ}")), "prep-reading-missed");
    assert_eq!(none.message, "the film of `prep 1` was never read, and `prep 2` was read");
    let last = found(&piece("", &format!("{FIRST}{READ}")), "prep-reading-missed");
    assert_eq!(last.message, "the film of `prep 2` was never read, and `baseline` was read");
    assert!(!codes(&piece("", &format!("{FIRST}{second}{READ}"))).contains(&"prep-reading-missed"));
    assert!(!codes(&piece("", FIRST)).contains(&"prep-reading-missed"), "the second may still be read");
}

/// Losses of 5, 6 and 5 um: mean 5.33; by the gauge 1.96 x 3 / 2.8 x sqrt(2 / 3) = 1.71 either way, which is wider than Student's
/// 4.303 x 0.577 / sqrt 3 = 1.43.
#[test]
fn film_that_is_gone_without_a_cut_is_told_with_its_interval() {
    let rows = format!("{FIRST}2026-03-02,prep 2,panel,film,um,113,115,111\n{READ}");
    let none = found(&piece("", &rows), "film-lost-unsaid");
    let wanted = "from `prep 1` to `prep 2` 3 places lost 5.3 um of film (from 3.6 to 7), and no step between them takes film off";
    assert_eq!(none.message, wanted);
    let polish = found(&piece("    polish with smooth-out tool \"foam pad\"\n", &rows), "film-lost-unsaid");
    assert!(
        polish.message.ends_with("the polish between them usually takes 1 um off at most"),
        "{}",
        polish.message
    );
    let compound = piece("    compound with smooth-out 2 times tool \"wool pad\"\n", &rows);
    assert!(!codes(&compound).contains(&"film-lost-unsaid"), "two cuts of up to 3 um explain 3.6 um");
}

#[test]
fn what_gauge_and_places_explain_is_not_told() {
    let rows = format!("{FIRST}2026-03-02,prep 2,panel,film,um,117,120,116\n{READ}");
    assert!(!codes(&piece("", &rows)).contains(&"film-lost-unsaid"));
    let risen = format!("{FIRST}2026-03-02,prep 2,panel,film,um,125,128,123\n{READ}");
    assert!(!codes(&piece("", &risen)).contains(&"film-lost-unsaid"), "film that grew was not lost");
}

#[test]
fn places_of_the_preparation_are_held_against_the_film_to_leave() {
    let leave = "surface panel\n    material clearcoat on steel\n    size 880 x 580 mm\n    film 100 to 130 um\n    \
                 leave at least 95 um\n";
    let polish = "    polish with smooth-out tool \"foam pad\"\n";
    let rows = |second: &str| format!("{FIRST}2026-03-02,prep 2,panel,film,um,{second}\n{READ}");
    let below = found(&format!("{leave}{}", piece(polish, &rows("94,95,91"))), "film-below-limit");
    let wanted = "2 of 3 places of `prep 2` have less than 95 um of film, down to 91 um";
    assert_eq!(below.message, wanted);
    let enough = format!("{leave}{}", piece(polish, &rows("96,95,97")));
    assert!(!codes(&enough).contains(&"film-below-limit"));
}

#[test]
fn places_that_were_planned_and_not_read_are_told() {
    let rows = |second: &str| format!("{FIRST}2026-03-02,prep 2,panel,film,um,{second}\n{READ}");
    let told = |second: &str| {
        let (_, findings) = findings(&piece("", &rows(second)));
        let wanted = "`prep 2` plans 3 places of `film`, and 2 were read";
        findings.iter().any(|one| one.code == "fewer-readings-than-planned" && one.message == wanted)
    };
    assert!(told("118,120,"));
    assert!(!told("118,120,n/a"), "what the file says was not taken is not missing");
    assert!(!told("118,120,117"));
}
