//! What keeps people from harm stands where the work is: dust, pores, mist, places, and what nobody knows of the ground.

use super::{HEAD, MAP, TAIL, output, sound};
use jiff::civil::date;
use tapeline::pipeline::{Day, check};

const PREP: &str = "prep\n    wash  with soap, rinse\n    dry\n";
const MATERIAL: &str = "clearcoat on aluminium, grey";

fn study(material: &str, prep: &str) -> String {
    format!("{HEAD}{MAP}{TAIL}").replace(PREP, &format!("prep\n{prep}")).replace(MATERIAL, material)
}

fn checklist(text: &str) -> String {
    output(&sound(text, ""), "checklist.html")
}

/// The article of a step of which the title has some words.
fn step<'a>(page: &'a str, title: &str) -> &'a str {
    let has = |article: &&str| article.split("</h3>").next().is_some_and(|head| head.contains(title));
    page.split("<article").skip(1).find(has).unwrap().split("</article>").next().unwrap()
}

/// The list under a heading, up to the next one.
fn list<'a>(page: &'a str, heading: &str) -> &'a str {
    page.split(&format!(">{heading}</h3>")).nth(1).unwrap().split("<h").next().unwrap()
}

fn sheet(text: &str, round: &str) -> String {
    let outcome = check("lid.study", text, &[], Day::AsOf(date(2025, 6, 1)));
    let asked = outcome.sheets_asked(&[round.to_owned()]).unwrap();
    let sheets = outcome.edition().sheets(&asked).unwrap();
    let page = sheets.into_iter().flatten().find(|file| file.name.strip_suffix(".html").is_some()).unwrap();
    super::without_holds(std::str::from_utf8(&page.bytes).unwrap())
}

#[test]
fn a_ground_that_is_not_known_is_said_first_and_asks_for_the_stricter_mask() {
    let of = |material: &str| checklist(&study(material, "    brush tool \"stiff brush\"\n"));
    let unknown = of("sample 7");
    let first = unknown.split("<p class=\"rule\">").nth(1).unwrap();
    assert!(first.starts_with("What the work touches is not known: “sample 7”."), "{first}");
    assert!(list(&unknown, "Protection").contains("FFP3 mask or P3 filter, for a ground that is not known"));
    assert!(step(&unknown, "Brush").contains("FFP3 mask or P3 filter, for a ground that is not known."));
    let wall = of("Ziegelmauerwerk");
    assert!(!wall.contains("is not known: “"), "{wall}");
    assert!(step(&wall, "Brush").contains("for the quartz in the dust."));
    let painted = of(MATERIAL);
    assert!(step(&painted, "Brush").contains("FFP2 mask; FFP3 mask or P3 filter where"));
}

#[test]
fn dust_has_its_box_at_the_step_its_gloves_on_the_list_and_one_way_to_take_it() {
    let page = checklist(&study("oak boards", "    sand grit 120 tool \"cork block\"\n    dust\n"));
    for title in ["Sand", "Dust"] {
        let own = step(&page, title);
        assert!(own.contains("<strong>abrasion dust</strong>"), "{own}");
        assert!(own.contains("<strong>Gloves:</strong> work gloves.") && own.contains("rinse, do not rub"));
        assert!(own.contains("draw it off where it arises") && !own.contains("work wet"), "{own}");
        assert!(!own.contains("section 2 of its data sheet"), "dust has none: {own}");
    }
    assert!(
        list(&page, "Protection")
            .contains("Gloves: work gloves <span class=\"for\">– for sand and dust</span>")
    );
    let tools = list(&page, "Gauges, tools and aids");
    assert!(tools.contains("A suction cleaner for fine dust"), "{tools}");
    let washed = checklist(&study("oak boards", "    wash  with soap, rinse\n"));
    assert!(!washed.contains("A suction cleaner") && !washed.contains("work gloves"));
}

#[test]
fn what_is_rubbed_between_coats_asks_for_protection_where_nothing_else_is_abraded() {
    let between = "    cure        1 day\n    coats 2 after 4 h\n    between rub with 180 grit\n";
    let text =
        study("oak boards", "    wash  with soap, rinse\n").replacen("    cure        1 day\n", between, 1);
    let page = checklist(&text);
    let list = list(&page, "Protection");
    let reason = "<span class=\"for\">– for the rubbing between coats of Bay spray</span>";
    for what in
        ["Breathing: FFP3 mask or P3 filter, for the dust of wood", "Gloves: work gloves", "Closed glasses"]
    {
        assert!(list.contains(&format!("{what} {reason}")), "{what}: {list}");
    }
    let coat = step(&page, "Apply Bay spray");
    assert_eq!(coat.matches("<aside class=\"card\">").count(), 2, "{coat}");
    assert!(coat.contains("until the dust is drawn off, then that of Bay spray"), "{coat}");
    assert_eq!(step(&page, "Apply Rue spray").matches("<aside class=\"card\">").count(), 1);
}

const CHEMICALS: &str = "supply mould-off, bleach\n    mix neat\n    sheet \"a.pdf\" dated 2025-01-01\n\
     supply lime-off, an acid cleaner\n    mix neat\n    sheet \"b.pdf\" dated 2025-01-01\n";

fn both(material: &str, between: &str) -> String {
    let steps = format!(
        "    wash with mould-off for 5 min, rinse\n{between}    decontaminate with lime-off for 1 min, rinse\n    dry 48 h\n"
    );
    study(material, &steps).replace("product bay", &format!("{CHEMICALS}product bay"))
}

#[test]
fn bleach_that_is_still_in_the_pores_stops_the_acid_at_its_step() {
    const STOP: &str = "Stop: mould-off is still in the pores";
    const PORES: &str = "A rinse does not empty pores, grain and joints: there 48 h of drying";
    for material in ["Kalksandsteinmauerwerk", "oak boards"] {
        let page = checklist(&both(material, "    wait 24 h\n"));
        let acid = step(&page, "lime-off");
        assert!(acid.contains(STOP) && acid.contains("which can kill"), "{material}: {acid}");
        assert!(!step(&page, "mould-off").contains(STOP));
        assert!(page.contains(PORES), "{material}");
    }
    // A rinse belongs to both, and what has dried long enough is not still there.
    let dried = checklist(&both("Kalksandsteinmauerwerk", "    dry 72 h\n    rinse\n"));
    assert!(!dried.contains(STOP) && dried.contains(PORES));
    let painted = checklist(&both(MATERIAL, "    wait 24 h\n"));
    assert!(!painted.contains(STOP) && !painted.contains(PORES), "paint has no pores");
    let unknown = checklist(&both("sample 7", "    wait 24 h\n"));
    assert!(unknown.contains(STOP) && unknown.contains(PORES), "it may have some");
    // Joints are full of water before an acid.
    let acid = "Acid on masonry: wet it with clean water";
    assert!(step(&dried, "lime-off").contains(acid) && !step(&painted, "lime-off").contains(acid));
}

#[test]
fn a_pair_that_must_not_meet_stands_once_with_all_its_harms() {
    let page = checklist(&both("Kalksandsteinmauerwerk", "    dry 72 h\n    rinse\n"));
    let never = page.split("These must never meet").nth(1).unwrap().split("</section>").next().unwrap();
    let pairs: Vec<&str> =
        never.split("<strong>").skip(1).map(|one| one.split("</strong>").next().unwrap()).collect();
    let mut once = pairs.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), pairs.len(), "{pairs:?}");
    let bleach =
        never.split("<li>").find(|one| one.contains("mould-off") && one.contains("lime-off")).unwrap();
    assert!(bleach.contains("hlor"), "{bleach}");
}

/// The salts of bleach are no oil: a wall is not wiped.
#[test]
fn what_bleach_leaves_is_rinsed_and_brushed_off() {
    let page = checklist(&both("brick wall", "    dry 72 h\n    rinse\n"));
    let bleach = step(&page, "mould-off");
    assert!(
        bleach.contains("rinse until the water runs clear") && !bleach.contains("a wipe must follow"),
        "{bleach}"
    );
}

#[test]
fn what_leaves_a_can_or_a_sprayer_is_not_measured_in_a_syringe() {
    let bay = |more: &str| {
        let text = study(MATERIAL, "    wash  with soap, rinse\n");
        checklist(&text.replacen(
            "    cure        1 day\n",
            &format!("    cure        1 day\n    uses 60 ml per m2\n{more}"),
            1,
        ))
    };
    let poured = bay("");
    assert!(
        step(&poured, "Apply Bay spray").contains("syringe)")
            && step(&poured, "Apply Bay spray").contains("into a cup")
    );
    for (more, weighed) in [
        ("    packed aerosol\n", "weigh the can before and after"),
        ("    tool \"Handsprühflasche\"\n", "weigh the sprayer before and after"),
        ("    tool \"trigger bottle\"\n", "weigh the sprayer before and after"),
    ] {
        let page = bay(more);
        let own = step(&page, "Apply Bay spray");
        assert!(
            own.contains(weighed) && !own.contains("syringe") && !own.contains("into a cup"),
            "{more}: {own}"
        );
        assert!(own.contains("closed goggles against the mist"), "{more}: {own}");
        let tools = list(&page, "Gauges, tools and aids");
        assert!(!tools.contains("syringe <span class=\"for\">– for Bay spray"), "{tools}");
        assert!(
            tools.contains("a scale to weigh what was sprayed <span class=\"for\">– for Bay spray"),
            "{tools}"
        );
    }
}

#[test]
fn a_sheet_carries_the_cautions_of_its_sites_and_of_what_it_reads() {
    let text = format!(
        "{}\nexposure \"Flachdach der Scheune\"\n    put out 2025-06-20\n",
        study(MATERIAL, "    wash  with soap, rinse\n")
    );
    let up = sheet(&text, "month 6");
    assert!(up.contains("On a roof: 2 m from every edge") && up.contains("Work at height"), "{up}");
    // The baseline is read before the panel goes there.
    assert!(!sheet(&text, "baseline").contains("On a roof"));
    let pull = text
        .replace(
            "supply soap",
            "gauge puller\n    reads grip\n    destroys the patch\nmeasure grip in MPa\n    higher is better\nsupply soap",
        )
        .replace("    every round gloss-60 3 times\n", "    month 6     gloss-60 3 times, grip once\n    every round gloss-60 3 times\n")
        .replace("    month 6     within 1 week\n", "");
    let page = sheet(&pull, "month 6");
    assert!(
        page.contains("grip: closed glasses and gloves on") && page.contains("<th>Where it broke</th>"),
        "{page}"
    );
    assert!(!up.contains("Where it broke"));
    let list = checklist(&pull);
    assert!(list.contains("Closed glasses, and gloves, for the glue and for what flies off"), "{list}");
}

#[test]
fn a_rinse_by_itself_names_no_step_before_it_and_says_its_name_once() {
    let text = study(MATERIAL, "    wash  with soap, rinse\n    rinse\n")
        .replace("before each round  wash with soap, rinse, dry", "before each round  rinse, dry");
    let page = checklist(&text);
    let before = page.split("<h2>Before each round</h2>").nth(1).unwrap();
    assert!(step(before, "Rinse").contains("plain water alone"), "{before}");
    assert!(step(&page, "Rinse").contains("the waste line of that step"), "soap stands before that one");
    assert!(!sheet(&text, "month 6").contains("(rinse)"));
}
