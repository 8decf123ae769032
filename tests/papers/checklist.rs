//! The checklist carries a safety box beside every chemical step.

use super::{MAP, output, study};
use tapeline::pipeline::{Day, check};

fn checklist(text: &str) -> String {
    output(&check("lid.study", text, &[], Day::AsOf(super::DAY)), "checklist.html")
}

fn replaced(with: &str) -> String {
    study(MAP, "").replace("    wash  with soap, rinse\n", with)
}

#[test]
fn every_chemical_step_has_its_box() {
    let page = checklist(&study(MAP, ""));
    // Wash in preparation, four products, wash before each round; drying and the baseline reading need none.
    assert_eq!(page.matches("<aside class=\"card\">").count(), 6);
    assert_eq!(page.matches("<article class=\"step").count(), 9);
    assert!(page.contains("H319") && page.contains("Local poison centre"));
    assert!(page.contains("Follow local codes and licensed practice"));
}

#[test]
fn a_step_of_unknown_class_stops_the_work() {
    let text =
        replaced("    wash  with mystery, rinse\n").replace("supply soap", "supply mystery\nsupply soap");
    let page = checklist(&text);
    assert!(
        page.contains("class not stated: follow the product&#39;s data sheet; do not start without it"),
        "{page}"
    );
    let none = checklist(&replaced("    wash  rinse\n"));
    assert!(none.contains("class not stated"), "a wash with nothing named");
}

#[test]
fn isopropanol_is_labelled_by_its_strength() {
    let text = replaced("    wash  with soap, rinse\n    wipe  with spirit 5 % by volume\n")
        .replace("supply soap", "supply spirit, isopropanol\n    strength 99 % by volume\nsupply soap");
    let weak = checklist(&text);
    let neat = checklist(&text.replace("spirit 5 % by volume", "spirit"));
    assert!(weak.contains("5 % by volume is about 4 % by mass"), "{weak}");
    assert!(neat.contains("99 % by volume is about 99 % by mass"));
    let flammable = "Highly flammable liquid and vapour";
    assert_eq!((weak.matches(flammable).count(), neat.matches(flammable).count()), (0, 1));
}

#[test]
fn chemicals_that_must_not_meet_stand_at_the_top() {
    let text = replaced("    wash  with bleach, rinse\n    wash  with soap, rinse\n    decontaminate  with lime-off for 3 min, rinse\n")
        .replace("supply soap", "supply bleach, hypochlorite\nsupply lime-off, an acid cleaner\nsupply soap");
    let page = checklist(&text);
    let box_at = page.find("These must never meet").unwrap();
    assert!(box_at < page.find("Before work starts").unwrap());
    assert!(
        page[box_at..].contains("lime-off (acid cleaner) with bleach (bleach)"),
        "{}",
        &page[box_at..box_at + 900]
    );
    assert!(!checklist(&study(MAP, "")).contains("These must never meet"));
}

#[test]
fn oily_rags_are_named_for_oils_only() {
    let oil = study(MAP, "").replace("\"Rue spray\", a spray sealant", "\"Rue oil\", a drying oil");
    assert!(checklist(&oil).contains("Oily rags heat up by themselves"));
    assert!(!checklist(&study(MAP, "")).contains("Oily rags"));
}

#[test]
fn the_foot_of_each_page_has_study_page_date_and_version() {
    let page = checklist(&study(MAP, ""));
    assert!(page.contains("counter(page) \" of \" counter(pages)"));
    assert!(page.contains("Four sprays on a locker lid"), "{page}");
    assert!(page.contains("2026\\2d 01\\2d 10"), "the date in the foot");
}

/// The study with a wipe of this mix from isopropanol of this strength.
fn wiped(strength: &str, mix: &str) -> String {
    let steps = format!("    wash  with soap, rinse\n    wipe  with spirit {mix}\n");
    let supply = format!("supply spirit, isopropanol\n{strength}supply soap");
    checklist(&replaced(&steps).replacen("supply soap", &supply, 1))
}

/// Stock is target / strength x batch, and 1 part to n is 1 / (1 + n): worked by hand for a litre. Grams by the densities of
/// the catalog, 0.785 and 0.998 g/ml: neat at 99 % is 0.787 g/ml.
#[test]
fn mixes_are_told_in_millilitres_for_a_litre_that_is_said_to_be_assumed() {
    for (strength, mix, amount) in [
        ("    strength 99 % by volume\n", "35 % by volume", "354 ml (about 278 g) of spirit"),
        ("    strength 99 % by volume\n", "10 % by volume", "101 ml (about 80 g) of spirit"),
        ("    strength 70 % by volume\n", "25 % by volume", "357 ml (about 303 g) of spirit"),
        ("    strength 80 % by mass\n", "20 % by mass", "250 g of spirit"),
        // 70 % by mass is 74.8 % by volume: 35 / 74.8.
        ("    strength 70 % by mass\n", "35 % by volume", "468 ml (about 393 g) of spirit"),
        ("    strength 99 % by volume\n", "1 part to 4 water", "200 ml (about 157 g) of spirit"),
        ("    strength 99 % by volume\n", "1 part to 20 water", "48 ml (about 37.5 g) of spirit"),
    ] {
        let page = wiped(strength, mix);
        let whole = if mix.contains("mass") { "1 kg" } else { "1 l" };
        let told = format!("for {whole}: some water first, then {amount}, then top up with water to {whole}");
        // In the table of mixes for each of its two batches, and once on the step.
        assert_eq!(page.matches(&told).count(), 3, "{strength}{mix}\n{page}");
    }
    let page = checklist(&study(MAP, ""));
    assert!(page.contains("1 part to 200 water") && page.contains("then 50 ml of soap,"));
    assert!(page.contains("Elsewhere it is 1 l or 1 kg"));
    assert!(page.contains("ends with its pot life"));
}

/// 50 ml of soap in a bucket of 10 l, 1.04 g each: 52 g; and a product that is thinned by as much is told so too.
#[test]
fn grams_stand_beside_millilitres_where_the_study_states_a_density() {
    let text =
        study(MAP, "").replace("1 part to 200 water", "1 part to 200 water\n    density 1.04 g per ml");
    assert!(checklist(&text).contains("then 50 ml (about 52 g) of soap,"));
    assert!(!checklist(&study(MAP, "")).contains("(about 5"), "without a density there is no weight");
    let thinned = "\"Rue spray\", a spray sealant\n    density 900 g per l\n    mix 1 part to 4 water";
    let page = checklist(&study(MAP, "").replace("\"Rue spray\", a spray sealant", thinned));
    assert!(page.contains("200 ml (about 180 g) of Rue spray"), "{page}");
}

#[test]
fn a_mix_that_cannot_be_told_says_what_is_missing() {
    assert!(wiped("", "35 % by volume").contains("the strength of spirit is not stated"));
    let weaker = wiped("    strength 30 % by volume\n", "35 % by volume");
    assert!(weaker.contains("35 % by volume cannot be made from spirit, which is bought as 30 % by volume"));
    let same = wiped("    strength 35 % by volume\n", "35 % by volume");
    assert!(same.contains("as bought, nothing is added"));
    let neat = wiped("    strength 99 % by volume\n", "neat");
    assert!(!neat.contains("ml of spirit"), "nothing is measured out of what is used as it comes");
}

#[test]
fn a_product_is_measured_out_for_each_section_from_its_area() {
    let with = |lines: &str| {
        let text = study(MAP, "").replacen("    cure        1 day\n", lines, 1);
        checklist(&text)
    };
    // 150 x 120 mm is 0.018 m2; two sections.
    let page = with("    uses 30 ml per m2\n    coats 2 after 1 to 3 h\n");
    assert!(page.contains("0.54 ml (1 ml syringe) for one coat on one section"), "{page}");
    assert!(page.contains("2.16 ml: 2 sections, 2 coats"), "on the step");
    assert!(page.matches("<td>2.38 ml</td>").count() == 2, "with a tenth to spare on both lists: {page}");
    let page = with("    uses 90 g per m2\n");
    assert!(
        page.contains("1.62 g (scale that reads 0.01 g) for one coat on one section")
            && page.contains("3.24 g: 2 sections, 1 coat")
    );
    let page = with("    uses 100 ml per m2\n    mix 1 part to 4 thinner\n");
    // 3.6 ml and a tenth to spare is made as 5 ml, in which 1 ml is stock.
    assert!(
        page.contains(
            "for 5 ml (rounded up from 3.96 ml): 1 ml of Bay spray, then top up with thinner to 5 ml"
        ),
        "{page}"
    );
    assert!(with("").contains("not stated: as the label says, the same on each section"));
}

#[test]
fn sections_of_unlike_size_have_an_amount_each() {
    let map = format!("{MAP}    section X1 of bay  from left 650 mm, top 500 mm  size 200 x 180 mm\n");
    let text = study(&map, "").replacen("    cure        1 day\n", "    uses 30 ml per m2\n", 1);
    let page = checklist(&text);
    assert!(page.contains("; 1.1 ml on X1 (1 ml syringe), for one coat"), "{page}");
    assert!(page.contains("2.18 ml: 3 sections, 1 coat"));
}

#[test]
fn the_climate_stands_at_the_application_with_lines_to_write_on() {
    let asked = "    on          2025-06-03\n    air 16 to 24 degC, 40 to 60 % humidity\n    surface at least 4 degC above dew point\n    surface below 30 degC\n";
    let page = checklist(&study(MAP, "").replace("    on          2025-06-03\n", asked));
    let (at, end) = (page.find("Application").unwrap(), page.find("<h2>Before each round").unwrap());
    let part = &page[at..end];
    for text in [
        "16 to 24 °C",
        "40 to 60 % humidity",
        "at least 4 °C above the dew point, below 30 °C",
        "The data sheet of the product overrides it.",
        "Source: ISO 8502-4 and ISO 12944-7",
    ] {
        assert!(part.contains(text), "{text}\n{part}");
    }
    // The looser limit of the rule is told where the study names none.
    let rule = "Air humidity not above 85 % unless the data sheet says otherwise.";
    assert!(!part.contains(rule) && checklist(&study(MAP, "")).contains(rule), "{part}");
    // Four values and the margin at three times, and the same on the step of each product.
    let row = part
        .lines()
        .filter(|line| line.contains("class=\"blank\""))
        .map(|line| line.matches("blank").count());
    assert_eq!(row.collect::<Vec<_>>(), [3, 3, 3, 3, 3]);
    assert_eq!(part.matches("surface 4 °C above the dew point or more").count(), 4);
    assert_eq!(part.matches(">humidity, %<").count(), 4, "a line to write on for each product");
    // 20 degC and 60 % have their dew point at 12.0 degC (ISO 8502-4, Magnus formula).
    let coldest = part.find("<td>60 %</td>").map(|at| &part[at..at + 120]).unwrap();
    assert!(coldest.contains("<td>16.0</td>"), "{coldest}");
    let page = checklist(&study(MAP, ""));
    assert!(page.contains("not above 85 % humidity") && page.contains("at least 3 °C above the dew point"));
}

#[test]
fn the_table_of_the_coldest_surface_speaks_fahrenheit_where_the_study_does() {
    let asked = "    on          2025-06-03\n    air 64 to 72 degF, 40 to 60 % humidity\n";
    let page = checklist(&study(MAP, "").replace("    on          2025-06-03\n", asked));
    // 68 degF is 20 degC: 12.0 and 3 degC are 15.0 degC, which is 59.0 degF.
    let at = page.find("<td>60 %</td>").unwrap();
    assert!(
        page.contains("air 68 °F") && page[at..at + 120].contains("<td>59.0</td>"),
        "{}",
        &page[at..at + 120]
    );
}

#[test]
fn cautions_of_the_work_stand_on_the_steps_where_they_arise() {
    let steps = "    wash  with soap, rinse\n    polish  with shine tool \"UV torch and foam pad\"\n    wipe  with spirit\n";
    let text = replaced(steps).replacen(
        "supply soap",
        "supply shine, a polish\nsupply spirit, isopropanol\nsupply soap",
        1,
    );
    let page = checklist(&text);
    let article = |title: &str| {
        let at = page.find(title).unwrap();
        page[at..at + page[at..].find("</article>").unwrap()].to_owned()
    };
    let (wash, polish, wipe) =
        (article("Wash with soap"), article("Polish with shine"), article("Wipe with spirit"));
    for (words, on) in [
        ("Machine: pad flat on the panel", [false, true, false]),
        ("Dust: work wet or draw it off", [false, true, false]),
        ("UV lamp: never into eyes", [false, true, false]),
        ("Vapour burns: moving air, no flame", [false, false, true]),
        ("Work at height", [false, false, false]),
    ] {
        assert_eq!([&wash, &polish, &wipe].map(|part| part.contains(words)), on, "{words}");
    }
    let high = checklist(&study(MAP, "").replace("900 x 700 mm", "900 x 2400 mm"));
    assert!(high.contains("Work at height: a platform rather than a ladder."));
}

#[test]
fn a_place_on_a_roof_counts_once_the_panel_is_out() {
    let place = "\nexposure \"Shed roof\"\n    put out 2025-06-10\n";
    let page = checklist(&study(MAP, place));
    let (prep, later) = page.split_once("At its place").unwrap();
    let (out, round) = later.split_once("Before each round").unwrap();
    for words in ["Work at height", "On a roof: 2 m from every edge"] {
        assert!(!prep.contains(words));
        assert!(out.contains(words) && round.contains(words), "{words}");
        assert!(round.matches(words).count() == 1, "once, not on each step: {round}");
    }
    let afloat = checklist(&study(MAP, &place.replace("Shed roof", "Reed pool, mooring 4")));
    assert!(afloat.contains("life jacket on") && !afloat.contains("Work at height"));
    assert!(!page.contains("life jacket"));
}

#[test]
fn a_step_says_what_spoils_it_and_when_cloth_and_pad_are_changed() {
    let page = checklist(&study(MAP, ""));
    assert!(page.contains("drying on") && page.contains("two buckets and a clean mitt"));
    let text = replaced("    polish  with shine\n").replacen(
        "supply soap",
        "supply shine, a polish\nsupply soap",
        1,
    );
    let page = checklist(&text);
    assert!(page.contains("what it leaves: a wipe must follow before the baseline and the products"));
    assert!(page.contains("clean the pad after each section"));
}

/// Coats that differ have a step each, in the order of their days, with their own amount and time to wipe off.
#[test]
fn coats_that_differ_are_steps_by_themselves() {
    let coats = "    uses 40 ml per m2\n    coat 1  100 ml per m2, wipe off after 15 to 20 min\n    \
                 coat 2  after 24 to 48 h\n    between rub with 180 grit\n    cure 1 day\n";
    let text = study(MAP, "").replacen("    cure        1 day\n", coats, 1);
    let page = checklist(&text);
    let steps: Vec<&str> = page.split("<article").filter(|step| step.contains("Bay spray on")).collect();
    assert_eq!(steps.len(), 2, "{page}");
    let has = |step: &str, words: &[&str]| words.iter().all(|word| step.contains(word));
    assert!(has(
        steps[0],
        &["Apply coat 1 of Bay spray", "100 ml per m², a coat", "15 to 20 min, then take off"]
    ));
    assert!(has(steps[0], &["laid on at", "taken off at"]) && !steps[0].contains("180 grit"), "{}", steps[0]);
    let second =
        ["40 ml per m², a coat", "rub with 180 grit", "24 to 48 h after coat 1, planned for 2025-06-04"];
    assert!(has(steps[1], &second), "{}", steps[1]);
    // The dust of it arises before the second coat, and only there is it minded.
    let dust = ["Dust: draw it off", "<dt>Its dust</dt><dd>Dust, sheets and pads: bagged damp"];
    assert!(has(steps[1], &dust) && dust.iter().all(|words| !steps[0].contains(words)), "{}", steps[0]);
    let oil = checklist(&text.replacen("a spray sealant", "a drying oil", 1));
    assert!(oil.contains("<dt>Its dust</dt><dd>oily: it heats up by itself"), "{oil}");
    let laid = format!("{text}\ndone 2025-06-05 09:00  coat 2 of bay\n");
    assert!(
        checklist(&laid)
            .contains("24 to 48 h after coat 1, done on 2025-06-05, by the record: not once more")
    );
    // The second coat of one product comes after the only coat of every other, on the next day.
    assert!(page.find("Apply coat 2 of Bay").unwrap() > page.find("Rue spray on").unwrap());
    assert!(page.contains("2025-06-04: coat 2 of Bay spray."), "{page}");
    // Both coats on both sections: 140 ml on a square metre.
    let report = output(&check("lid.study", &text, &[], Day::AsOf(super::DAY)), "report.html");
    let report = report.replace('\u{a0}', " ");
    assert!(
        report.contains("2 coats; coat 1: 100 ml per m², wipe off after 15 to 20 min; coat 2: 40 ml per m²")
    );
}

#[test]
fn packs_are_rounded_up_and_shared_things_are_bought_once() {
    // 0.9 m x 0.7 m = 0.63 m2. Soap: 2000 ml per m2 of a mix of 1 in 201, once in preparation and before 2 rounds.
    let own = "supply soap, a neutral shampoo\n    bought 4.00 EUR for 10 ml\n    uses 2000 ml per m2";
    let text = study(MAP, "").replace("supply soap, a neutral shampoo", own);
    let page = checklist(&text);
    let row = page.lines().find(|line| line.contains("<td>soap</td>") && line.contains("EUR")).unwrap();
    let rounds = page.matches("<td>soap</td>").count();
    assert!(rounds >= 2, "the soap stands among the supplies and on the list");
    // 0.63 x 2000 = 1260 ml and a tenth: a batch of 2 l holds it, with 2000 / 201 = 9.95 ml a time. What follows from the number of rounds is worked out here by hand.
    let times = 1.0 + f64::from(u32::try_from(washed_rounds(&text)).unwrap());
    let need = 2000.0 / 201.0 * times;
    let packs = (need / 10.0).ceil();
    assert!(row.contains(&format!("{packs} x 10 ml")), "{row}");
    assert!(row.contains(&format!("{:.2} EUR", packs * 4.0)), "{row}");
    assert!(page.contains("<td>All packs with a price</td>"));
    assert!(
        page.contains("<td>Applicators</td><td>one for each product and coat, never shared</td><td>5</td>")
    );
}

/// How many rounds of a study are washed before: all but those that follow a step.
fn washed_rounds(text: &str) -> usize {
    let (_, rounds) = text.split_once("\nrounds\n").unwrap();
    let named = rounds.lines().take_while(|line| line.starts_with("    "));
    let named =
        named.map(str::trim).filter(|line| !line.starts_with("every") && !line.starts_with("before each"));
    named.filter(|line| !line.contains("after wash") && !line.contains("after dry")).count()
}

#[test]
fn a_batch_holds_what_the_panel_takes_of_it() {
    let own = "supply soap, a neutral shampoo\n    uses 2 l per m2";
    let page = checklist(&study(MAP, "").replace("supply soap, a neutral shampoo", own));
    // 0.63 m2 x 2 l = 1.26 l and a tenth; the next round batch is 2 l, of which 1 part in 201 is soap: 9.95 ml, which is measured as 10.
    assert!(
        page.contains("for 2 l (rounded up from 1386 ml): some water first, then 10 ml of soap, then top up with water to 2 l"),
        "{page}"
    );
}

#[test]
fn a_reading_over_the_panel_has_a_line_for_each_place_and_a_step_its_amount() {
    let text = study(MAP, "")
        .replace("    dry\n\napply", "    dry\n    read film at 5 places, 3 times\n\napply")
        .replacen("supply soap, a neutral shampoo", "measure film in um\n    neither is better\nsupply soap, a neutral shampoo\n    uses 500 ml per m2", 1);
    let page = checklist(&text);
    let step = page.split("<article").find(|step| step.contains("Read film")).unwrap();
    assert_eq!((step.matches("<th>3, µm</th>").count(), step.matches("<tr><td>").count()), (1, 5), "{step}");
    assert!(step.contains(
        "5 places, spread evenly: mark them on the map yourself, in mm from its left and top edge"
    ));
    // 0.63 m2 x 500 ml.
    assert!(page.contains("about 315 ml for the panel (500 ml per m²)"), "{page}");
}

#[test]
fn a_cut_says_what_it_takes_and_where_it_may_begin() {
    let text = study(MAP, "")
        .replace("    dry\n\napply", "    dry\n    polish with shine tool \"foam pad\"\n\napply")
        .replacen("supply soap", "supply shine, a polish\nsupply soap", 1);
    let page = checklist(&text);
    assert!(page.contains("trade practice takes 8 µm off at most (common practice, no source)"), "{page}");
    assert!(page.contains("usually 0.2 to 1 µm come off each time"));
    let own = own_film(&text);
    assert!(own.contains("Leave at least 80 µm of film everywhere."), "{own}");
    assert!(own.contains("begin only where it reads 81 µm or more"));
    // A compound takes 4 um at most and leaves 80 and 1 um for the polish after it, so that no section misses that.
    let two = own_film(
        &text
            .replace(
                "    polish with shine",
                "    compound with grit tool \"wool pad\"\n    polish with shine",
            )
            .replacen("supply shine", "supply grit, a compound\nsupply shine", 1),
    );
    assert!(
        two.contains("begin only where it reads 85 µm or more") && two.contains("81 µm or more"),
        "{two}"
    );
}

fn own_film(text: &str) -> String {
    checklist(&text.replacen(
        "    size        900 x 700 mm\n",
        "    size        900 x 700 mm\n    leave at least 80 um\n",
        1,
    ))
}

#[test]
fn a_pot_life_stands_on_the_step_and_among_the_mixes() {
    let two = "\"Bay spray\", an isocyanate coating\n    mix 2 parts to 1 hardener\n    pot life 30 min";
    let page = checklist(&study(MAP, "").replacen("\"Bay spray\", a spray sealant", two, 1));
    assert!(page.contains("within 30 min of mixing; write when it was mixed"), "{page}");
    assert!(page.contains("<td>30 min</td>"));
}

#[test]
fn the_paper_says_when_the_tape_comes_off() {
    let taped = study(MAP, "").replace("    dry\n\napply", "    dry\n    tape\n\napply");
    assert!(checklist(&taped).contains("The study does not say when the tape comes off"));
    let said = taped.replacen("\napply\n", "\napply\n    tape off 30 to 60 min after last coat\n", 1);
    let said = checklist(&said);
    assert!(
        said.contains("Pull the tape of a section 30 to 60 min after its last coat, whatever is put on then")
    );
    // Each section has its own time, on the step of its product; what comes last is a look whether any is left.
    assert_eq!(said.matches(">tape off from</th>").count(), 4, "each product on its two sections: {said}");
    assert!(said.contains("Check that no tape is left") && !said.contains("first at"));
    assert!(!checklist(&study(MAP, "")).contains("tape comes off"));
}

#[test]
fn a_uv_lamp_is_told_where_it_is_read_with() {
    let text = study(MAP, "")
        .replacen("measure gloss-60", "measure blocked-uv in %\n    higher is better\nmeasure gloss-60", 1)
        .replacen("    every round", "    every round blocked-uv once\n    every round", 1);
    let page = checklist(&text);
    assert!(page.contains("UV lamp: never into eyes or onto skin."), "{page}");
    assert!(!checklist(&study(MAP, "")).contains("UV lamp"));
}

#[test]
fn alcohol_is_told_in_millilitres_and_in_grams() {
    let supply = "supply spirit, isopropanol\n    strength 99 % by volume\n    keeps 7 days\nsupply soap";
    let text = study(MAP, "")
        .replace("    dry\n\napply", "    dry\n    wipe with spirit 35 % by volume\n\napply")
        .replacen("supply soap", supply, 1);
    let page = checklist(&text);
    // 353.5 ml x (0.99 x 0.785 + 0.01 x 0.998) g/ml = 278 g.
    assert!(page.contains("354 ml (about 278 g) of spirit"), "{page}");
    assert!(page.contains("<td>7 days</td>"));
}

/// A piece of a study in place of the panel of these tests: cassettes on a rack, three kinds of patch, cycles.
const CYCLES: &str = r#"
marker spray "Red spray"
    leave 24 h
supply gel, a solvent wipe
    dwell 5 to 10 min
measure shade, a rating 0 to 4
    lower is better
patches in each cassette  size 90 x 90 mm  gap 20 mm  from left 30 mm, top 30 mm
    | spray+gel  spare |
    never gel on rue because "its sheet forbids it"
cycle, up to 3 times
    mark   each patch with its marker
    clean  each patch with its cleaner, rinse
    read   shade
    stop   a patch when shade is 4 or worse
"#;

#[test]
fn a_cycle_says_what_is_done_to_which_patch_and_when_it_ends() {
    let rack = "map rack 2 rows of 4\n    | bay bare thyme cumin |\n    | rue bare bay bare |\n";
    let text = study(rack, CYCLES).replace("size        900 x 700 mm", "each 500 x 300 mm");
    let page = checklist(&text);
    let at = page.find("<h2>Each cycle</h2>").unwrap_or_else(|| panic!("{page}"));
    let cycle = &page[at..];
    for words in [
        "Up to 3 cycles, each a round of readings, until every patch is stopped",
        "A patch is stopped when its shade is 4: it is neither marked nor read again.",
        "gel is never used on Rue spray: its sheet forbids it.",
        "Mark with Red spray",
        "24 h",
        "Clean with gel",
        "5 to 10 min",
        "a1 of each specimen",
        "2 patches in each specimen of 500 x 300 mm.",
    ] {
        assert!(cycle.contains(words), "no {words} in\n{cycle}");
    }
    // Every cycle has a line of its own to write on, at each of its four steps.
    let marks = cycle.split("<article").nth(1).unwrap();
    assert_eq!(
        (marks.matches("<th>cycle</th>").count(), marks.matches("<tr><td>").count()),
        (1, 3),
        "{cycle}"
    );
    let study = check("lid.study", &text, &[], Day::AsOf(super::DAY)).study;
    // Eight cassettes have the patch, but not the one of rue, on which the cleaner is never used.
    let of = |set: &str| {
        study
            .loose
            .iter()
            .filter(|patch| study.specimens[patch.specimen.unwrap().index()].name.value == set)
            .count()
    };
    assert_eq!((of("spray+gel"), of("spare")), (7, 8));
    assert_eq!(study.rounds.iter().filter(|round| round.name.value.starts_with("cycle ")).count(), 3);
}

#[test]
fn a_step_on_some_sections_names_them_on_every_paper() {
    let steps = "    wash  with soap, rinse\n    wash  with soap, only on A1 and C4 because \"bird droppings\", rinse\n";
    let text = replaced(steps).replace("1 part to 200 water", "neat\n    uses 100 ml per m2");
    let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
    let page = output(&outcome, "checklist.html");
    assert_eq!(page.matches("only on A1 and C4, not on the others (bird droppings)").count(), 1);
    // 100 ml on 0.63 m2 of panel, and on two sections of 0.018 m2.
    assert!(
        page.contains("about 63 ml for the panel") && page.contains("about 3.6 ml for these sections"),
        "{page}"
    );
    let report = output(&outcome, "report.md");
    assert!(report.contains("only on A1 and C4, not on the others (bird droppings) |"), "the record says it");
    assert!(
        report.contains(
            "\"Wash with soap\" was done only on A1 and C4, not on the others (bird droppings): what these"
        ),
        "the limits say it: {report}"
    );
    assert!(!checklist(&study(MAP, "")).contains("only on A"));
}

#[test]
fn the_edges_to_tape_by_are_printed() {
    // 150 x 120 mm every 20 mm from 44 mm on, counted by hand; one section stands beside the drawing.
    let with = format!("{MAP}    section X1 of bay  from left 720 mm, top 560 mm  size 100 x 80 mm\n");
    let taped =
        study(&with, "").replace("    wash  with soap, rinse\n", "    wash  with soap, rinse\n    tape\n");
    let page = checklist(&taped);
    for edges in [
        "1: 44 to 194; 2: 214 to 364; 3: 384 to 534; 4: 554 to 704 mm",
        "A: 44 to 164; B: 184 to 304; C: 324 to 444 mm",
        "X1: from left 720 to 820, from top 560 to 640 mm",
    ] {
        assert!(page.contains(edges), "{edges}: {page}");
    }
    // Where nothing is taped they stand where the products go on.
    let untaped = checklist(&study(&with, ""));
    let line = "Where the sections lie. From left: 1: 44 to 194; 2: 214 to 364; 3: 384 to 534; 4: 554 to 704 mm. From top: A:";
    assert!(untaped.contains(line) && !page.contains("Where the sections lie"), "{untaped}");
}
