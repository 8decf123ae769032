//! Products that change places from one piece to another: what the answer says of them, and how their means are shown.

use super::{HEAD, TAIL, output, readings, sound};

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
    assert!(answer.contains("\n## Which product comes first differs by plank after month 6\n"), "{answer}");
    assert!(
        answer.contains(
            " (F test: p below 0.001): oak Bay spray −2.0, Thyme spray −11.0 GU; elm Thyme spray −3.0, Bay spray −12.0 GU."
        ),
        "{answer}"
    );
    assert!(
        answer.contains("every product may lead over all planks together, since what products do"),
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
}
