//! Products that change places from one piece to another: what the answer says of them, and how their means are shown.

use super::{DAY, HEAD, TAIL, output, readings, sound};
use tapeline::diag::Severity;
use tapeline::pipeline::{Day, check};

const RACK: &str = r"
map  rack 3 rows of 4
    | bay    bare   thyme  bay    |
    | thyme  bare   bay    thyme  |
    | bare   bay    thyme  bare   |
group plank
    | oak    oak    oak    oak    |
    | oak    oak    elm    elm    |
    | elm    elm    elm    elm    |
";

/// Bay and thyme at the given changes on oak and on elm; bare at -20. Sections of a kind lie 0.6 apart.
fn report(bay: (f64, f64), thyme: (f64, f64)) -> String {
    let changes = [
        ("A1", bay.0 - 0.3),
        ("A4", bay.0 + 0.3),
        ("B3", bay.1 - 0.3),
        ("C2", bay.1 + 0.3),
        ("A3", thyme.0 - 0.3),
        ("B1", thyme.0 + 0.3),
        ("B4", thyme.1 - 0.3),
        ("C3", thyme.1 + 0.3),
        ("A2", -20.3),
        ("B2", -19.7),
        ("C1", -20.3),
        ("C4", -19.7),
    ];
    let head = HEAD.replace("size        900 x 700 mm", "each        150 x 120 mm");
    let head = head.split("product cumin").next().unwrap().to_owned();
    output(&sound(&format!("{head}{RACK}{TAIL}"), &readings(&changes, 3)), "report.md")
}

#[test]
fn where_the_order_differs_by_piece_the_answer_says_so_and_shows_the_means() {
    let report = report((-2.0, -12.0), (-11.0, -3.0));
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains("\n## Which product comes first differs by plank at month 6\n"), "{answer}");
    assert!(
        answer.contains(
            " (told apart within each plank, at 5 % over all): oak Bay spray −2.0, Thyme spray −11.0, bare [−20.0 GU](#words); elm Thyme spray −3.0, \
             Bay spray −12.0, bare −20.0 GU."
        ),
        "{answer}"
    );
    assert!(
        answer.contains("every product [may lead](#words) over all planks together, since what products do"),
        "{answer}"
    );
    // Two sections 0.6 apart have a standard deviation of 0.424.
    assert!(
        answer.contains(
            "sections that carry the same on the same plank scatter by 0.42 GU (6 degrees of freedom)."
        ),
        "{answer}"
    );
    assert!(!answer.contains("no larger than"), "{answer}");
    assert!(report.contains("\n### What products did differs by plank at month 6\n"), "{report}");
    assert!(report.contains("| Thyme spray | −11.0 (2) | −3.0 (2) |"), "{report}");
}

#[test]
fn where_products_stand_alike_on_all_pieces_nothing_is_said_of_it() {
    let report = report((-4.0, -4.2), (-4.1, -4.3));
    assert!(!report.contains("differs by plank") && !report.contains("on the same plank"), "{report}");
    assert!(
        report.contains("no larger than what is left within planks can show") || report.contains("are alike")
    );
}

#[test]
fn where_only_bare_does_otherwise_no_order_is_said_to_differ() {
    // Both products stand ahead of bare by 8 on oak and by 16 on elm.
    let report = report((-12.0, -4.0), (-12.2, -4.2));
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains("[How far treatments stand apart differs by plank]"), "{answer}");
    assert!(!answer.contains("comes first differs"), "{answer}");
    assert!(
        answer.contains("oak Bay spray −12.0, Thyme spray −12.2, bare −20.0 GU; elm Bay spray"),
        "{answer}"
    );
    assert!(report.contains("### How far treatments stand apart differs by plank at month 6"), "{report}");
    assert!(!answer.contains("since what products do otherwise"), "{answer}");
}

/// Bay and thyme do alike at both sites; bare falls far behind both on the coast, and stands between them inland.
#[test]
fn where_a_product_is_behind_bare_at_one_site_the_answer_says_so() {
    let at = |bay: f64, thyme: f64, bare: f64| {
        [
            ("A1", bay - 0.3),
            ("B3", bay + 0.3),
            ("A2", thyme - 0.3),
            ("B1", thyme + 0.3),
            ("A3", bare - 0.3),
            ("B2", bare + 0.3),
        ]
    };
    let coast = at(-2.0, -6.0, -20.0);
    let inland = [("A2", -2.3), ("B1", -1.7), ("A3", -6.3), ("B2", -5.7), ("A1", -4.3), ("B3", -3.7)];
    let report = at_two_sites(coast, inland);
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains("\n## Bay spray is the one product that may lead at month 6\n"), "{answer}");
    assert!(
        answer.contains(
            "That holds over all sites together; against bare by site: coast Bay spray and Thyme spray better; inland Bay spray better, \
             Thyme spray worse."
        ),
        "{answer}"
    );
    // Twelve sections lie 0.3 from the mean of their kind at their site, on 12 - 2 x 3 degrees of freedom: (1.08 / 6) ^ 0.5.
    assert!(
        answer.contains(
            "Sections that carry the same at the same site scatter by 0.42 GU (one standard deviation,"
        ),
        "{answer}"
    );
    assert!(answer.contains("holds for that average and says nothing about another site"), "{answer}");
    // The verdicts at one site stand with the differences and intervals that they rest on.
    let by_site = report.split("Against bare on each site (Dunnett)").nth(1).unwrap();
    assert!(
        by_site.contains("| inland | Thyme spray | −2.0 |") && by_site.contains("told apart |"),
        "{by_site}"
    );
    assert!(
        answer.contains("coast Bay spray −2.0, Thyme spray −6.0, bare −20.0 GU; inland Bay spray"),
        "{answer}"
    );
}

/// Planks that carry products unevenly: oak adds 10 to what lies on it, and bay lies on it more often.
#[test]
fn raw_means_stand_beside_a_line_that_says_so_and_never_in_the_answer() {
    let head = HEAD.replace("size        900 x 700 mm", "each        150 x 120 mm");
    let head = head.split("product cumin").next().unwrap().to_owned();
    let rack = r"
map  rack 3 rows of 4
    | bay    bay    bay    thyme  |
    | bare   bare   bay    thyme  |
    | thyme  thyme  bare   bare   |
group plank
    | oak    oak    oak    oak    |
    | oak    oak    elm    elm    |
    | elm    elm    elm    elm    |
";
    let on = |treatment: f64, piece: f64, off: f64| treatment + piece + off;
    let changes = [
        ("A1", on(-10.0, 5.0, 0.2)),
        ("A2", on(-10.0, 5.0, -0.2)),
        ("A3", on(-10.0, 5.0, 0.1)),
        ("A4", on(-12.0, 5.0, -0.1)),
        ("B1", on(-20.0, 5.0, 0.2)),
        ("B2", on(-20.0, 5.0, -0.2)),
        ("B3", on(-10.0, -5.0, -0.1)),
        ("B4", on(-12.0, -5.0, 0.1)),
        ("C1", on(-12.0, -5.0, 0.2)),
        ("C2", on(-12.0, -5.0, -0.2)),
        ("C3", on(-20.0, -5.0, 0.1)),
        ("C4", on(-20.0, -5.0, -0.1)),
    ];
    let report = output(&sound(&format!("{head}{rack}{TAIL}"), &readings(&changes, 3)), "report.md");
    let answer = report.split("## The panel").next().unwrap();
    assert!(
        answer.contains("Bay spray ([10.0 GU](#words), 4 sections); bare 20.0 GU. The other"),
        "{answer}"
    );
    // Three of four boards of bay lie on oak: (3 x -5 - 15) / 4.
    assert!(!answer.contains("By itself") && !answer.contains("7.5"), "{answer}");
    let parts: Vec<&str> = report.split("\n## ").collect();
    let part = |head: &str| *parts.iter().find(|part| part.starts_with(head)).unwrap();
    let change = part(
        "Gloss-60 changed up to month 6: products by −14.5 to −7.5, bare sections by −20.0 GU, planks not taken out\n",
    );
    assert!(change.contains("These means are raw: planks carry products unevenly"), "{change}");
    assert!(change.contains("bare sections −20.0, planks not taken out]"), "{change}");
    let held = part("Gloss-60 held at month 6");
    assert!(
        held.contains("These means are raw: planks carry")
            && held.contains("What planks add is in the spread of these"),
        "{held}"
    );
    assert!(held.lines().next().unwrap().ends_with(", planks not taken out"), "{held}");
}

/// Two sites of six boards each: 85 GU when fresh, spent below 68. On the coast all of bay and bare fall below, inland one of bare.
#[test]
fn sections_that_were_spent_are_counted_by_site() {
    let coast = [("A1", -18.0), ("A2", -8.0), ("A3", -30.0), ("B1", -8.2), ("B2", -29.8), ("B3", -18.2)];
    let inland = [("A1", -18.0), ("A2", -7.0), ("A3", 2.0), ("B1", -7.2), ("B2", 1.8), ("B3", -16.8)];
    let report = at_two_sites(coast, inland);
    let answer = report.split("## The panel").next().unwrap();
    // Thyme leads; bay is not named, and bare is: 2 of 2 and 1 of 2.
    assert!(answer.contains("Thyme spray is the one product that may lead"), "{answer}");
    assert!(
        answer.contains(
            " Spent by site: coast Thyme spray 0 of 2, bare 2 of 2; inland Thyme spray 0 of 2, bare 1 of 2."
        ),
        "{answer}"
    );
}

/// Inland was read when fresh and not at month 6.
#[test]
fn a_site_that_was_not_read_is_in_the_headline_and_no_section_is_called_missing() {
    let coast = [("A1", -2.3), ("B3", -1.7), ("A2", -6.3), ("B1", -5.7), ("A3", -20.3), ("B2", -19.7)];
    let inland = coast.map(|(code, _)| (code, 0.0));
    let report = at_sites_read(coast, inland, 2);
    let answer = report.split("## The panel").next().unwrap();
    assert!(
        answer.contains("\n## Bay spray is the one product that may lead at month 6, at coast alone\n"),
        "{answer}"
    );
    assert!(
        answer.contains("At month 6 nothing was read at inland (6 sections): the answer holds for coast."),
        "{answer}"
    );
    assert!(!answer.contains("missing here") && !answer.contains("(not read)"), "{answer}");
    assert!(report.contains("At the round that is shown in full only coast was read."), "{report}");
    assert!(
        answer.contains(
            "), site by site: coast: Bay spray at least 26 weeks (2 sections, none spent), bare before 26 weeks (2 sections, all spent); \
             inland, last read at fresh: Bay spray at least 7 days (2 sections, none spent), bare at least 7 days (2 sections, none spent)."
        ),
        "{answer}"
    );
    let open = "Read for the last time before the last round: inland at fresh (6 sections). What was not spent there is open from that round";
    assert!(report.contains(open) && report.contains(" (inland, last read at fresh)\n"), "{report}");
    assert!(report.contains("- At month 6 nothing was read at inland (6 sections).\n"), "{report}");
}

/// The report of six boards on the coast and six inland.
fn at_two_sites(coast: [(&str, f64); 6], inland: [(&str, f64); 6]) -> String {
    at_sites_read(coast, inland, 3)
}

/// Thyme stands on the coast only, where all lose more: over both sites it would be told with what others lost inland.
#[test]
fn a_product_that_was_read_at_one_site_only_is_said_to_be() {
    let coast = [("A1", -10.3), ("B3", -9.7), ("A2", -14.3), ("B1", -13.7), ("A3", -30.3), ("B2", -29.7)];
    let inland = [("A2", -4.3), ("B1", -3.7), ("A1", -20.3), ("A3", -19.7), ("B2", -20.1), ("B3", -19.9)];
    let drawn = "    | bare   bay    bare   |\n    | bay    bare   bare   |\n";
    let report = at_sites_drawn(drawn, coast, inland, 3);
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains("Thyme spray was read at coast only"), "{answer}");
    assert!(!answer.contains("Bay spray was read at"), "{answer}");
    // Racks are no panel from whose top edge water runs, and nothing inland stands below something on the coast.
    assert!(report.contains("minus the figure of the one above it on its rack"), "{report}");
    assert!(!report.contains("from where water runs"), "{report}");
}

/// The same with so many rounds read inland.
fn at_sites_read(coast: [(&str, f64); 6], inland: [(&str, f64); 6], read: usize) -> String {
    at_sites_drawn("    | bare   bay    thyme  |\n    | bay    thyme  bare   |\n", coast, inland, read)
}

/// The same with what stands inland.
fn at_sites_drawn(drawn: &str, coast: [(&str, f64); 6], inland: [(&str, f64); 6], read: usize) -> String {
    let head = HEAD.replace("size        900 x 700 mm", "each        150 x 120 mm");
    let head = head.split("product cumin").next().unwrap().to_owned();
    let rack = format!(
        r#"
map coast  rack 2 rows of 3
    | bay    thyme  bare   |
    | thyme  bare   bay    |
map inland  rack 2 rows of 3
{drawn}exposure coast "Pier"
    put out 2025-06-12
exposure inland "Yard"
    put out 2025-06-12
"#
    );
    let tail = TAIL.replace(
        "readings \"readings.csv\"",
        "readings \"coast.csv\" on coast\nreadings \"inland.csv\" on inland",
    );
    let files = [("coast.csv", coast, 3), ("inland.csv", inland, read)];
    let files = files.map(|(name, changes, read)| (name.to_owned(), readings(&changes, read).into_bytes()));
    let outcome = check("lid.study", &format!("{head}{rack}{tail}"), &files, Day::AsOf(DAY));
    assert!(outcome.findings.iter().all(|one| one.severity != Severity::Error), "{:#?}", outcome.findings);
    output(&outcome, "report.md")
}
