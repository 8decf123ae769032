//! What a buyer and whoever stands at the panel would ask: which filter, how many dollies, brushes and sheets, where labels go, what is dry.

use super::{DAY, MAP, output, study};
use tapeline::pipeline::{Day, check};

const MARKED: &str = include_str!("../../examples/marked-cladding/marked-cladding.study");
const DOOR: &str = include_str!("../../examples/coach-door/coach-door.study");
const SLATS: &str = include_str!("../../examples/bench-slats/bench-slats.study");

fn paper(text: &str, name: &str) -> String {
    let page = output(&check("lid.study", text, &[], Day::AsOf(DAY)), name);
    page.replace("<bdi class=\"held\">", "").replace("</bdi>", "")
}

/// The places of each row of a table whose name begins so.
fn rows<'p>(page: &'p str, table: &str, name: &str) -> Vec<Vec<&'p str>> {
    let table = page.split_once(&format!("<h3 id=\"{table}\">")).unwrap().1.split("</table>").next().unwrap();
    let rows = table.split("<tr>").filter(|row| row.contains(&format!("<td>{name}")));
    rows.map(|row| row.split("<td>").skip(2).map(|own| own.split("</td>").next().unwrap()).collect())
        .collect()
}

/// The one row of the shopping list of a name.
fn bought<'p>(page: &'p str, name: &str) -> Vec<&'p str> {
    let rows = rows(page, "shopping", name);
    assert_eq!(rows.len(), 1, "{name}: {rows:?}\n{page}");
    rows.into_iter().next().unwrap()
}

/// The text of the step of a title.
fn step<'p>(page: &'p str, title: &str) -> &'p str {
    let at = page.find(title).unwrap_or_else(|| panic!("{title}: {page}"));
    page[at..].split("</article>").next().unwrap()
}

/// Grip is read once on patch b2 of 12 cassettes: 12 dollies, and 2 to spare.
#[test]
fn dollies_are_counted_and_glued_on_before_their_round() {
    let page = paper(MARKED, "checklist.html");
    assert_eq!(bought(&page, "Dollies")[1..3], ["one for each pull of grip, and spare ones", "14"]);
    assert_eq!(bought(&page, "Glue for the dollies")[2], "for 14 dollies, as its data sheet says");
    let glue = step(&page, "Glue the dollies on for grip");
    for words in [
        "as long before round end (2025-06-05) as the data sheet of the glue says that it cures; not before the last cycle is read",
        "12, one for each pull",
        "b2 (pull) of each specimen",
        "class not stated: follow the product&#39;s data sheet",
        "<span>B6 / b2</span>",
        "glued on, day",
        "cured by, as its sheet says",
    ] {
        assert!(glue.contains(words), "{words}: {glue}");
    }
    assert!(!paper(DOOR, "checklist.html").contains("ollies"), "nothing is pulled there");
}

/// Steps of the door: ABEK for the iron remover, A for tar remover and alcohol, P3 for the dust of a paint that may hold lead. Its
/// coats: A2 and P2 for what is sprayed, AX and K for what may hold methanol and silazanes, A for the rest. AX is used up in a shift.
#[test]
fn one_filter_is_named_that_has_all_types() {
    let door = paper(DOOR, "checklist.html");
    let steps = bought(&door, "Filter A, B, E and K with P3 for the half mask");
    assert!(steps[1].starts_with("preparation, rounds and upkeep: one combined filter"), "{steps:?}");
    let coats = bought(&door, "Filter AX, A2 and K with P2 for the half mask");
    assert!(coats[1].contains("AX fresh from its seal for each shift, or air from outside"), "{coats:?}");
    let run = paper(DOOR, "run-sheet.html");
    assert!(run.contains("are together AX, A2 and K with P2 (EN 14387)"), "{run}");
    // Wax, oils and the dust of oak.
    let slats = paper(SLATS, "checklist.html");
    let all = bought(&slats, "Filter ");
    assert!(
        all[0] == "Filter A with P3 for the half mask" && all[1].starts_with("all of the work"),
        "{all:?}"
    );
    // What has no class has no type either, and is not passed over.
    let unknown = study(MAP, "").replacen("\"Rue spray\", a spray sealant", "\"Rue spray\"", 1);
    let page = paper(&unknown, "checklist.html");
    assert!(bought(&page, "Filter A2 with P2")[1].ends_with("; not known for Rue spray: as their boxes say"));
}

/// With H314 the label asks for gloves, clothing, eye and face protection (CLP Annex IV, P280): none of them is told alone.
#[test]
fn what_burns_by_its_stated_label_has_all_of_its_protection() {
    let own = "supply soap, a neutral shampoo\n    sheet \"soap.pdf\"\n    hazards H314, P280";
    let unclassed = own.replacen(", a neutral shampoo", "", 1);
    for (text, usual) in [(own, true), (unclassed.as_str(), false)] {
        let text = study(MAP, "").replacen("supply soap, a neutral shampoo", text, 1);
        let page = paper(&text, "checklist.html");
        let wash = step(&page, "Wash with soap");
        let at = |words: &str| wash.find(words).unwrap_or_else(|| panic!("{words}: {wash}"));
        let order = [
            at("<strong>Gloves:</strong> that it does not get through"),
            at("<strong>Eyes:</strong> closed goggles, and a face shield"),
            at("<strong>Body:</strong> apron"),
            at("<strong>Breathing:</strong>"),
            at("<strong>Ventilation:</strong>"),
        ];
        assert!(order.is_sorted(), "{wash}");
        assert_eq!(wash.contains("Usual for its class: nitrile for long work."), usual, "{wash}");
        let list = page.split_once("<h3>Protection</h3>").unwrap().1.split("</ul>").next().unwrap();
        for words in
            ["Gloves: that it does not get through", "Eyes: closed goggles, and a face", "Body: apron"]
        {
            assert!(list.contains(words), "{words}: {list}");
        }
    }
}

/// 30 slats on two racks: nothing of a panel is there.
#[test]
fn what_stands_on_racks_is_called_a_specimen() {
    let page = paper(SLATS, "checklist.html");
    for words in [
        "Before the first coat, on every specimen:",
        "2 on each specimen",
        "for one coat on one specimen",
        "6 specimens, 1 coat",
        "Each specimen has its line below the step",
        "<td>one for each specimen, and spare ones</td>",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    for words in ["every section:", "on each section", "6 sections", "Each section"] {
        assert!(!page.contains(words), "{words}: {page}");
    }
    assert!(paper(DOOR, "checklist.html").contains("on every section:"));
}

/// Nine coats of the oils with a brush each and one to spare; rubbed between are two coats of one oil and one of another.
#[test]
fn what_lays_on_rubs_and_measures_is_bought_too() {
    let page = paper(SLATS, "checklist.html");
    let brush = bought(&page, "flat bristle brush, 50 mm");
    assert!(brush[1].contains("a clean one for each product and coat, or one for each product, cleaned"));
    assert_eq!(brush[2], "10");
    let sheets = bought(&page, "Abrasive sheets, grit 180");
    assert!(sheets[1].starts_with("between coats of Alkanet Slat Oil and Madder Dark Oil"), "{sheets:?}");
    assert_eq!(sheets[2], "4");
    for grit in ["80", "120"] {
        assert!(bought(&page, &format!("Abrasive sheets, grit {grit}<"))[1].starts_with("sanding"));
    }
    // What the study names for sanding holds the sheets between coats too.
    assert!(!page.contains("Sanding block for the hand"), "{page}");
    let without = SLATS.replace("tool \"sheet on a cork block\"", "");
    assert_eq!(bought(&paper(&without, "checklist.html"), "Sanding block for the hand")[2], "1");
    // 0.02816 m2 take 3.1 and 2.1, 3.1 and 2.1, and 2.8 ml of the coats of 110, 75 and 100 ml/m2, and 2 ml and less of the other four;
    // a tenth more of each.
    assert_eq!(bought(&page, "5 ml syringe")[2], "6");
    assert_eq!(bought(&page, "2 ml syringe")[2], "5");
    assert_eq!(bought(&paper(DOOR, "checklist.html"), "scale that reads 0.01 g")[2], "1");
    // 24 patches less two that the gel never touches, 0.018 m2 each, 150 ml/m2, six cycles, with a tenth more: 392 ml land there.
    let can = paper(MARKED, "checklist.html");
    let can = bought(&can, "Red acrylic spray");
    assert_eq!(can[2], "392 ml, and the overspray besides: weigh the can before and after the first place");
    assert_eq!(can[3], "1 x 400 ml or as needed");
}

#[test]
fn days_batches_labels_and_water_are_told() {
    let page = paper(DOOR, "checklist.html");
    let mixes = rows(&page, "mixes", "spirit");
    let uses: Vec<&str> = mixes.iter().map(|row| row[3]).collect();
    assert_eq!(uses, ["wipe: preparation", "wipe: once more before the first coat, a second batch"]);
    assert!(page.contains("this baseline, step 11 once more where a night lies before the coats"), "{page}");
    assert!(
        step(&page, "Decontaminate with road-tar-lift").contains("dry the panel: on a wet one"),
        "{page}"
    );
    assert_eq!(page.matches("dry the panel: on a wet one").count(), 1, "{page}");
    assert_eq!(
        page.matches("Labels on the tape: before the tape under a label is pulled").count(),
        1,
        "{page}"
    );
    let bare = DOOR.replacen("    label\n\n", "\n", 1).replacen("after label", "after tape", 1);
    assert!(!paper(&bare, "checklist.html").contains("Labels on the tape"));
    // Where the study does not say when the tape comes off, the step that pulls it tells the labels.
    let unsaid = DOOR.replacen("    tape off    30 to 60 min after last coat\n", "", 1);
    let page = paper(&unsaid, "checklist.html");
    assert!(
        step(&page, "Pull the tape</span></h3>").contains("the label moves to the bare margin"),
        "{page}"
    );
    assert_eq!(page.matches("the label moves to the bare margin").count(), 1, "{page}");
}

/// What the author writes below a line is for hands too: it stands at the work that it is about, and on the sheet of the measure.
#[test]
fn words_of_the_study_stand_where_the_work_is() {
    let text = study(MAP, "")
        .replacen(
            "    mix         1 part to 200 water\n",
            "    mix         1 part to 200 water\n    > Own bottle.\n",
            1,
        )
        .replacen(
            "product bay \"Bay spray\", a spray sealant\n",
            "product bay \"Bay spray\", a spray sealant\n    > Shake *bay* well.\n",
            1,
        )
        .replacen(
            "    wash  with soap, rinse\n",
            "    > In the yard.\n    wash  with soap, rinse\n    > From the top down.\n",
            1,
        )
        .replacen("    on          2025-06-03\n", "    on          2025-06-03\n    > On two trestles.\n", 1)
        .replacen(
            "    month 6     within 1 week\n",
            "    month 6     within 1 week\n    > At the north window.\n",
            1,
        )
        .replacen(
            "    spent       below 80 % of fresh\n",
            "    spent       below 80 % of fresh\n    > Along the grain.\n",
            1,
        );
    let outcome = check("lid.study", &text, &[], Day::AsOf(DAY));
    let page = paper(&text, "checklist.html");
    let between = |from: &str, to: &str| {
        let part = &page[page.find(from).unwrap_or_else(|| panic!("{from}: {page}"))..];
        part[..part.find(to).unwrap()].to_owned()
    };
    let group = |title: &str| between(&format!("<h2>{title}</h2>"), "<article");
    assert!(group("Preparation").contains("In the yard."), "{page}");
    assert!(group("Application").contains("On two trestles."), "{page}");
    let rounds = between("<h2>Rounds of readings</h2>", "</section>");
    assert!(rounds.contains("At the north window.") && rounds.contains("Along the grain."), "{rounds}");
    let wash = step(&page, "Wash with soap");
    assert!(wash.contains("From the top down.") && wash.contains("Own bottle."), "{wash}");
    let bay = step(&page, "Apply Bay spray");
    assert!(bay.contains("Shake <em>bay</em> well."), "{bay}");
    assert!(!step(&page, "Apply Rue spray").contains("Shake"), "{page}");
    let rounds = outcome.sheets_asked(&["month 6".to_owned()]).unwrap();
    let files = outcome.edition().sheets(&rounds).unwrap();
    let sheet = std::str::from_utf8(&files[0][1].bytes).unwrap();
    assert!(sheet.contains("Along the grain.") && sheet.contains("At the north window."), "{sheet}");
    assert!(!sheet.contains("Shake"), "whoever reads is not told what is on it: {sheet}");
}

/// A reading of the colour is three measures on the sheet, and where they are read is said of the colour.
#[test]
fn what_is_said_of_a_made_measure_stands_at_its_parts() {
    let outcome = check("lid.study", SLATS, &[], Day::AsOf(DAY));
    let rounds = outcome.sheets_asked(&["month 3".to_owned()]).unwrap();
    let files = outcome.edition().sheets(&rounds).unwrap();
    let sheet = std::str::from_utf8(&files[0][1].bytes).unwrap();
    assert_eq!(sheet.matches("mm from the left end, on the centre line").count(), 3, "{sheet}");
}

/// Fourteen coats, of which seven are silica coatings and take two pairs at once; a tenth more.
#[test]
fn gloves_are_counted_and_a_ridge_is_not_cut() {
    let page = paper(DOOR, "checklist.html");
    assert_eq!(bought(&page, "Gloves")[2], "24 pairs");
    for cut in ["Compound with level-cut", "Polish with mirror-fine"] {
        assert!(step(&page, cut).contains("not on swage, which is curved"), "{page}");
    }
    assert!(!step(&page, "Clay with clay-mist").contains("swage"), "{page}");
}
