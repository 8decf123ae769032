//! Waivers: what they silence, what they leave, and what is said about them.

use jiff::civil::Date;
use tapeline::catalog::Catalog;
use tapeline::checks::waivers::{PAGES, Waiving, apply};
use tapeline::checks::{Context, Example, example, run};
use tapeline::diag::Severity;
use tapeline::readings::{Input, read};
use tapeline::study::resolve;
use tapeline::syntax::parse;
use tapeline::text::FileId;

/// Every finding of a piece, with its waivers applied once, however the pipeline wires them.
fn waiving(piece: &str) -> Waiving {
    let Example { study, files, date } = example(piece);
    let today: Date = date.parse().unwrap();
    let (tree, mut findings) = parse(&study);
    let (study, more) = resolve(&tree, Catalog::built_in(), None);
    findings.extend(more);
    let input = files.first().map(|(_, bytes)| Input { file: FileId(1), bytes });
    let (readings, more) = read(&study, &[input]);
    findings.extend(more);
    findings.extend(run(&Context {
        study: &study,
        catalog: Catalog::built_in(),
        readings: &readings,
        today: Some(today),
    }));
    apply(&study, findings, Some(&[]))
}

fn codes(waiving: &Waiving) -> Vec<&'static str> {
    waiving.findings.iter().map(|finding| finding.code).collect()
}

const EARLY: &str = "exposure \"Test yard\"\n    put out     2026-03-06\n";

#[test]
fn each_page_speaks_on_its_bad_example_only() {
    for page in PAGES {
        let (bad, good) = (waiving(page.bad), waiving(page.good));
        let own: Vec<_> = bad.findings.iter().filter(|finding| finding.code == page.code).collect();
        assert_eq!(own.len(), 1, "{}: {:?}", page.code, bad.findings);
        assert_eq!(own[0].severity, page.severity, "{}", page.code);
        assert!(!own[0].help.is_empty() && !own[0].about.is_empty(), "{}", page.code);
        assert!(!codes(&good).contains(&page.code), "{}: {:?}", page.code, good.findings);
        let errors = bad.findings.iter().filter(|finding| finding.severity == Severity::Error);
        // A waiver that is not allowed leaves the error that it is about.
        assert!(errors.into_iter().all(|finding| finding.binding), "{}", page.code);
    }
}

#[test]
fn a_waived_finding_moves_to_the_method_with_its_reason() {
    let waiving = waiving(&format!("{EARLY}allow put out before cure for exposure because \"dry spell\"\n"));
    assert!(waiving.findings.is_empty(), "{:?}", waiving.findings);
    assert_eq!(waiving.waived.len(), 1);
    assert_eq!(waiving.waived[0].finding.code, "put-out-before-cure");
    assert_eq!(waiving.waived[0].because, "dry spell");
}

#[test]
fn errors_are_waived_too() {
    let sections = "map  sections 170 x 120 mm  gap 14 mm  from left 40 mm, top 40 mm\n    \
                    | bay    clove  bare   cumin  |\n    | bare   cumin  clove  bay    |\n    \
                    | clove  bay    cumin  bare   |\n    \
                    section X1 of bare  from left 60 mm, top 60 mm  size 90 x 60 mm\n";
    let of = |waiving: &Waiving| {
        let mut all = waiving.findings.iter().filter(|finding| finding.code == "sections-overlap");
        all.next().map(|finding| finding.severity)
    };
    assert_eq!(of(&waiving(sections)), Some(Severity::Error));
    let allowed =
        waiving(&format!("{sections}allow sections overlap for X1 and A1 because \"taped over later\"\n"));
    assert_eq!((of(&allowed), allowed.waived.len()), (None, 1), "{:?}", allowed.findings);
}

#[test]
fn what_could_hurt_or_contradicts_itself_is_not_waived() {
    let cases = [
        (
            "alike-not-below-seen",
            "gloss-20",
            "measure gloss-20 in GU\n    higher is better\n    alike within 6 GU\n    seen from 5 GU\n",
        ),
        ("no-data-sheet", "etch", "supply etch, a fluoride cleaner\n    mix neat\n"),
        ("readings-file-absent", "readings", "--- date 2026-04-01\n"),
    ];
    for (code, place, piece) in cases {
        let allow = format!("allow {} for {place} because \"a trial\"\n", code.replace('-', " "));
        let (before, after) =
            piece.split_once("---").map_or((piece, String::new()), |(a, b)| (a, format!("---{b}")));
        let waiving = waiving(&format!("{before}{allow}{after}"));
        let stays = waiving
            .findings
            .iter()
            .any(|finding| finding.code == code && finding.severity == Severity::Error);
        assert!(stays && codes(&waiving).contains(&"waiver-not-allowed"), "{code}: {:?}", codes(&waiving));
        assert!(waiving.waived.is_empty(), "{code}");
    }
    // Of a harmless class it is advice, which the study may set aside.
    let harmless = "supply suds, a shampoo\n    mix 1 part to 200 water\nallow no data sheet for suds because \"lost\"\n";
    assert_eq!(waiving(harmless).waived.len(), 1);
}

#[test]
fn no_other_place_is_offered_for_what_no_reason_can_silence() {
    let meeting = "supply lime-off, an acid cleaner\n    mix neat\n    sheet \"l.pdf\"\nprep\n    \
                   wash with soap, 1 part to 200 water, rinse\n    decontaminate with iron-off for 5 min\n    \
                   decontaminate with lime-off for 1 min, rinse\n    dry\n    wipe with spirit 35 % by volume\n    \
                   tape lines 6 mm wide\n    label\n";
    for place in ["prep", "lime-off", "bay"] {
        let allow = format!("allow chemicals in contact for {place} because \"I am careful\"\n");
        let codes = codes(&waiving(&format!("{meeting}{allow}")));
        assert!(codes.contains(&"waiver-not-allowed") && !codes.contains(&"waiver-not-needed"), "{codes:?}");
        assert!(codes.contains(&"chemicals-in-contact"));
    }
    // Of a code that is binding at one place only, the other places are offered.
    let sheets = "supply etch, a fluoride cleaner\n    mix neat\nsupply suds, a shampoo\n    mix 1 part to 200 water\n\
                  allow no data sheet for soap because \"lost\"\n";
    let idle = waiving(sheets);
    let finding = idle.findings.iter().find(|finding| finding.code == "waiver-not-needed").unwrap();
    assert!(finding.help[0].contains("`suds`") && !finding.help[0].contains("`etch`"), "{:?}", finding.help);
}

/// Two sections lie on one dent, so that one finding is about both.
const DENT: &str = "surface panel\n    material clearcoat on steel\n    size 880 x 580 mm\n    \
                    film 100 to 130 um\n    \
                    avoid dent from left 200 mm, top 60 mm size 60 x 20 mm because \"filled\"\n";

#[test]
fn a_waiver_for_one_of_two_sections_leaves_the_finding() {
    let part = waiving(&format!("{DENT}allow on avoided area for A1 because \"its edge only\"\n"));
    let left = part.findings.iter().find(|finding| finding.code == "on-avoided-area").unwrap();
    assert!(left.help.iter().any(|help| help.contains("`A2` is not in it")), "{:?}", left.help);
    assert!(part.waived.is_empty() && !codes(&part).contains(&"waiver-not-needed"));
}

#[test]
fn several_places_and_several_lines_cover_a_finding_together() {
    let line = waiving(&format!("{DENT}allow on avoided area for A1 and A2 because \"edge\"\n"));
    assert_eq!(line.waived.len(), 1, "{:?}", line.findings);
    let lines = waiving(&format!(
        "{DENT}allow on avoided area for A1 because \"edge\"\nallow on avoided area for A2 because \"shallow\"\n"
    ));
    assert_eq!(lines.waived[0].because, "edge; shallow");
}

#[test]
fn a_waiver_names_the_places_where_its_finding_stands() {
    let wrong = waiving(&format!("{DENT}allow on avoided area for C3 because \"edge\"\n"));
    let finding = wrong.findings.iter().find(|finding| finding.code == "waiver-not-needed").unwrap();
    assert!(finding.help[0].contains("`A1`"), "{:?}", finding.help);
    assert!(codes(&wrong).contains(&"on-avoided-area"));
}

#[test]
fn a_misspelt_code_gets_the_nearest() {
    let piece = format!("{EARLY}allow put out before cuer for exposure because \"dry spell\"\n");
    let wrong = waiving(&piece);
    let finding = wrong.findings.iter().find(|finding| finding.code == "waiver-of-unknown-code").unwrap();
    assert!(finding.help[0].contains("allow put out before cure"), "{:?}", finding.help);
}
