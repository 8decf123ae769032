//! What the answer must not be silent of: people and gauges that go with a product, harm that another look shows, departures that push
//! a product out, and shares that do not tell what changes tell.

use super::{MAP, changes, output, readings, sound, study};
use std::fmt::Write;

fn answer(text: &str, csv: &str) -> String {
    output(&sound(text, csv), "report.md").split("## The panel").next().unwrap().to_owned()
}

/// The rows of sections of bay at the named rounds by O. H., all others by K. M.
fn read_by_two(csv: &str, rounds: &[&str]) -> String {
    let of = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let own = ["A1", "B3"].contains(&fields[2]) && rounds.contains(&fields[1]);
        let by = if fields[0] == "date" {
            "by"
        } else if own {
            "O. H."
        } else {
            "K. M."
        };
        format!("{},{by},{}\n", fields[..5].join(","), fields[5..].join(","))
    };
    csv.lines().map(of).collect()
}

const BY_ONE_ALONE: &str = "([2.0 GU](#words), 2 sections); bare 12.0 GU. The other 3 products are not ahead. O. H. read Bay \
     spray at month 6, and nothing else: what Bay spray did cannot be told from how O. H. read.";

const TIED: &str =
    "## Bay spray is the one product that may lead at month 6, and cannot be told apart from who read it\n";

#[test]
fn a_person_who_read_all_of_one_product_and_nothing_else_is_in_the_answer_and_a_finding() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let text = study(MAP, "");
    let found =
        |csv: &str| sound(&text, csv).findings.iter().filter(|one| one.code == "goes-with-treatment").count();
    let late = read_by_two(&csv, &["month 6"]);
    let told = answer(&text, &late);
    assert!(told.contains(TIED) && told.contains(BY_ONE_ALONE), "{told}");
    // Nothing is said of it twice.
    assert_eq!(told.matches("read Bay spray").count() + told.matches("was read by").count(), 1, "{told}");
    assert_eq!(found(&late), 1);
    // What O. H. reads higher was in the fresh readings of the same sections as well, and cancels in their change.
    let both = read_by_two(&csv, &["fresh", "month 6"]);
    assert_eq!(found(&both), 0);
    let both = answer(&text, &both);
    assert!(
        !both.contains("was read by") && !both.contains("read Bay") && !both.contains(", and cannot be"),
        "{both}"
    );
}

/// The rows of sections at rounds as they are given to somebody, all others to K. M.
fn read_by(csv: &str, others: &[(&str, &str, &str)]) -> String {
    let of = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let own = others.iter().find(|(section, round, _)| (fields[2], fields[1]) == (*section, *round));
        let by = if fields[0] == "date" { "by" } else { own.map_or("K. M.", |own| own.2) };
        format!("{},{by},{}\n", fields[..5].join(","), fields[5..].join(","))
    };
    csv.lines().map(of).collect()
}

/// Bay lies on A1 and B3, thyme on A3 and C1.
#[test]
fn who_read_a_part_of_a_leader_or_was_there_at_the_reference_alone_is_told_with_it() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let text = study(MAP, "");
    let told = |others: &[(&str, &str, &str)]| answer(&text, &read_by(&csv, others));
    let half = told(&[("A1", "month 6", "O. H.")]);
    assert!(
        half.contains("O. H. read 1 of the 2 sections of Bay spray at month 6, and no other product: how O. H. read is in that mean."),
        "{half}"
    );
    assert!(half.contains("\n## Bay spray is the one product that may lead at month 6\n"), "{half}");
    // Who read thyme as well can be told from the products.
    let shared = told(&[("A1", "month 6", "O. H."), ("A3", "month 6", "O. H.")]);
    assert!(!shared.contains("O. H."), "{shared}");
    // Two people, of whom neither read another product, tie it as one does.
    let two = told(&[("A1", "month 6", "O. H."), ("B3", "month 6", "P. Q.")]);
    assert!(
        two.contains(TIED) && two.contains("O. H. and P. Q. read Bay spray at month 6, and nothing else"),
        "{two}"
    );
    // At month 6 K. M. read everything; what O. H. read otherwise when fresh is in the changes of bay alone.
    let fresh = told(&[("A1", "fresh", "O. H."), ("B3", "fresh", "O. H.")]);
    assert!(
        fresh.contains(TIED) && fresh.contains("O. H. read Bay spray at fresh, and nothing else"),
        "{fresh}"
    );
    // Bare was read by O. H. too, and no other product.
    let bare = ["A1", "B3", "A2", "B2"].map(|code| (code, "month 6", "O. H."));
    let bare = told(&bare);
    assert!(
        bare.contains(TIED) && bare.contains("O. H. read Bay spray at month 6, and no other product"),
        "{bare}"
    );
}

#[test]
fn one_who_put_on_a_product_alone_is_told_as_well() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let done = |hand: &str| {
        let coats = [("bay", "P. Q."), ("thyme", hand), ("cumin", hand), ("rue", hand)];
        let lines =
            coats.iter().map(|(name, by)| format!("done 2025-06-03 09:00  coat 1 of {name}  by \"{by}\"\n"));
        study(MAP, &lines.collect::<String>())
    };
    let told = answer(&done("K. M."), &csv);
    assert!(
        told.contains(
            ", and none of Thyme spray, Cumin spray and Rue spray, was put on by P. Q.: what that hand"
        ),
        "{told}"
    );
    assert!(!answer(&done("P. Q."), &csv).contains("was put on by"));
}

/// Bay leads by gloss; by haze, which decides nothing, it stands 6 above bare, and haze is better low.
#[test]
fn a_leader_that_is_worse_than_bare_by_another_measure_is_said_to_be() {
    let text = study(MAP, "").replace(
        "    every round gloss-60 3 times\n",
        "    every round gloss-60 3 times\n    every round haze 3 times\n",
    );
    let text = text.replace(
        "supply soap",
        "measure haze in HU\n    lower is better\n    change from fresh\nsupply soap",
    );
    let mut csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    for (round, day) in [("baseline", "2025-06-02"), ("fresh", "2025-06-10"), ("month 6", "2025-12-03")] {
        for (section, change) in changes(6.0, 0.1, 0.2, -0.1, 0.2) {
            let change = if matches!(section, "A2" | "B2" | "B4" | "C3") { change + 12.0 } else { change };
            let level = 10.0 + if round == "month 6" { change } else { 0.0 };
            writeln!(csv, "{day},{round},{section},haze,HU,{level:.1},{level:.1},{level:.1}").unwrap();
        }
    }
    let told = answer(&text, &csv);
    assert!(told.contains("## Bay spray is the one product that may lead"), "{told}");
    assert!(
        told.contains("[Bay spray did worse than bare by haze at month 6]")
            && told.contains(", by a further look (Holm)."),
        "{told}"
    );
}

#[test]
fn a_departure_of_a_product_that_is_out_is_told_and_a_flag_of_chance_is_none() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let text = study(MAP, "");
    // Rue lies on B1 and C4.
    let late = csv
        .replace("2025-12-03,month 6,B1", "2025-12-29,month 6,B1")
        .replace("2025-12-03,month 6,C4", "2025-12-29,month 6,C4");
    let told = answer(&text, &late);
    assert!(
        told.contains("Departures from the plan up to month 6 among the others")
            && told.contains(": Rue spray (2 sections read outside of the window)."),
        "{told}"
    );
    // One reading of bay lies 1.1 from the others of its section, where two should agree within 0.4.
    let off = csv.replace("month 6,A1,gloss-60,GU,83.2,83.3,83.4", "month 6,A1,gloss-60,GU,83.2,83.3,84.4");
    assert_ne!(off, csv);
    assert!(sound(&text, &off).findings.iter().any(|one| one.code == "reading-far-off"));
    assert!(!answer(&text, &off).contains("Departures"), "{}", answer(&text, &off));
}

/// Bay begins at 65, all others at 85, and all keep four fifths.
#[test]
fn where_the_share_does_not_tell_the_leader_from_bare_the_answer_says_so() {
    let mut csv = String::from("date,round,section,measure,unit,1,2,3\n");
    for (round, day) in [("baseline", "2025-06-02"), ("fresh", "2025-06-10"), ("month 6", "2025-12-03")] {
        for (section, apart) in changes(0.0, 0.0, 0.0, 0.0, 0.2) {
            let begins = if matches!(section, "A1" | "B3") { 65.0 } else { 85.0 };
            let apart = if apart < -1.0 { apart + 12.0 } else { apart };
            let level = if round == "month 6" { 0.8 * begins + apart } else { begins };
            writeln!(csv, "{day},{round},{section},gloss-60,GU,{level:.1},{level:.1},{level:.1}").unwrap();
        }
    }
    let told = answer(&study(MAP, ""), &csv);
    assert!(told.contains("## Bay spray is the one product that may lead"), "{told}");
    assert!(
        told.contains("[By the share held Bay spray is not told apart from bare]")
            && told.contains(": 80.0 % (from ")
            && told.contains("), bare 80.0 %."),
        "{told}"
    );
}
