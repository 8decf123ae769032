//! The checklist as whoever stands at the bench reads it, with no other paper: what each step is for, what it takes, what is at hand.

use super::{MAP, output, study};
use tapeline::pipeline::{Day, check};

fn checklist(text: &str) -> String {
    output(&check("lid.study", text, &[], Day::AsOf(super::DAY)), "checklist.html")
}

fn replaced(with: &str) -> String {
    study(MAP, "").replace("    wash  with soap, rinse\n", with)
}

/// The purpose, the bucket, the rinse water and the waste of a step are those of what it is done with.
#[test]
fn a_step_is_told_by_what_it_is_done_with() {
    let with = |kind: &str, step: &str| {
        let text = replaced(&format!("    {step}\n")).replacen(
            "supply soap",
            &format!("supply brew, {kind}\n    sheet \"b.pdf\"\nsupply soap"),
            1,
        );
        let page = checklist(&text);
        let at = page.find("with brew</span></h3>").unwrap();
        page[at..].split("</article>").next().unwrap().to_owned()
    };
    let acid = with("an acid cleaner", "wash with brew for 1 min, rinse");
    assert!(acid.contains("Dissolves lime") && !acid.contains("soap"), "{acid}");
    assert!(acid.contains("a bucket and brush of its own") && !acid.contains("mitt"), "{acid}");
    let peroxide = with("a peroxide cleaner", "decontaminate with brew for 5 min, rinse");
    assert!(peroxide.contains("Kills growth") && !peroxide.contains("tar"), "{peroxide}");
    let tar = with("a tar remover", "decontaminate with brew for 2 min, rinse");
    assert!(tar.contains("until it runs clear; its water caught,"), "{tar}");
    assert!(tar.contains("<strong>Waste:</strong> Wipe up first"), "{tar}");
    let unrinsed = with("a tar remover", "decontaminate with brew for 2 min");
    assert!(!unrinsed.contains("its water"));
    let unknown = with("moon dust", "wash with brew, rinse");
    assert!(unknown.contains("<strong>Waste:</strong> section 13 of its data sheet"), "{unknown}");
}

#[test]
fn what_dusts_says_where_its_dust_goes() {
    let page = checklist(&replaced("    wash  with soap, rinse\n    sand grit 120 tool \"cork block\"\n"));
    assert!(page.contains("<dt>Its dust</dt><dd>Dust, sheets and pads: bagged damp"), "{page}");
}

fn labels(page: &str) -> Vec<&str> {
    page.split("<article class=\"bottle card\">").skip(1).collect()
}

/// OSHA 29 CFR 1910.1200(f)(6) and CLP Article 17: name, signal word, pictograms and statements on what is filled.
#[test]
fn each_mix_has_a_label_to_cut_out() {
    let text = replaced("    wash  with soap, 1 part to 200 water, rinse\n    decontaminate with lime-off 1 part to 4 water for 1 min, rinse\n    decontaminate with mystery 1 part to 4 water for 1 min, rinse\n    dry\n    wipe with spirit 8 % by volume, wait 5 min\n")
        .replacen("supply soap", "supply lime-off, an acid cleaner\n    sheet \"l.pdf\"\n    keeps 2 h\nsupply mystery\nsupply spirit, isopropanol\n    strength 99 % by volume\nsupply tap, plain water\nsupply soap", 1);
    let page = checklist(&text);
    let labels = labels(&page);
    let of = |name: &str| {
        *labels.iter().find(|label| label.contains(&format!("<strong>{name}</strong>"))).unwrap()
    };
    // One more for what is wiped once more on the day of the coats.
    assert_eq!(labels.len(), 5, "{page}");
    let second: Vec<_> = labels.iter().filter(|label| label.contains("Second batch: once more")).collect();
    assert!(second.len() == 1 && second[0].contains("<strong>spirit</strong>"), "{page}");
    let acid = of("lime-off");
    for words in [
        "1 part to 4 water",
        "acid cleaner",
        "Danger",
        "GHS05",
        "<strong>H314</strong>",
        "<strong>P280</strong>",
        "Label of the stock",
        "Use within: 2 h",
        "mixed on",
    ] {
        assert!(acid.contains(words), "{words}: {acid}");
    }
    assert!(acid.matches("<strong>P").count() == 6, "six precautions and no more: {acid}");
    // The alcohol has the label of its own strength (CLP Annex I, Table 2.6.1), which is less than that of the stock.
    let alcohol = of("spirit");
    assert!(
        alcohol.contains("<strong>H226</strong>")
            && !alcohol.contains("H225")
            && !alcohol.contains("of the stock"),
        "{alcohol}"
    );
    assert!(of("mystery").contains("class not stated: follow the product&#39;s data sheet"));
    let neat = checklist(&text.replace("lime-off 1 part to 4 water", "lime-off neat"));
    assert_eq!(self::labels(&neat).len(), 4, "what is not mixed has the label of its maker");
    let stated = checklist(&text.replace("    keeps 2 h", "    hazards H315, H319, P280"));
    assert!(
        self::labels(&stated)[1].contains("as its data sheet states it")
            && !self::labels(&stated)[1].contains("H314")
    );
}

#[test]
fn a_batch_that_holds_more_than_is_needed_says_so() {
    let page = checklist(&study(MAP, "").replacen(
        "supply soap, a neutral shampoo\n",
        "supply soap, a neutral shampoo\n    mix 1 part to 200 water\n    uses 500 ml per m2\n",
        1,
    ));
    // 900 x 640 mm take 288 ml, a tenth more is 316.8 ml; the next batch is 500 ml, which takes 2.5 ml of stock.
    assert!(page.contains("(rounded up from "), "{page}");
}

/// Whoever packs for the work has this list alone: what a step uses stands there, and nothing that no step uses.
#[test]
fn what_the_steps_use_is_at_hand() {
    let list = |page: &str| {
        let at = page.find("Gauges, tools and aids").unwrap();
        page[at..].split("</ul>").next().unwrap().to_owned()
    };
    let plain = list(&checklist(&study(MAP, "")));
    for what in [
        "Two buckets and a wash mitt",
        "Drying towels",
        "Clean running water",
        "An eye rinse bottle",
        "A measuring cup",
        "Applicators, one for each product and coat",
        "Cloths to wipe off or buff, one for each product and coat",
        "hygrometer",
    ] {
        assert!(plain.contains(what), "{what}: {plain}");
    }
    for what in ["Clay", "grit", "A timer", "Calcium", "Camera", "tray"] {
        assert!(!plain.contains(what), "{what}: {plain}");
    }
    let more = replaced("    wash with lye 1 part to 10 water for 1 min, rinse\n    decontaminate with tar-off for 2 min, rinse\n    clay with slick, rinse\n    sand grit 240 tool \"cork block\"\n    tape lines 6 mm wide\n    label\n")
        .replacen("supply soap", "supply lye, an alkaline cleaner\nsupply tar-off, a tar remover\nsupply slick, a clay lubricant\nsupply soap", 1);
    let page = checklist(&more);
    let more = list(&page);
    for what in [
        "for it alone <span class=\"for\">– for lye</span>",
        "for it alone <span class=\"for\">– for tar-off</span>",
        "Clay, as a bar or pad",
        "Abrasive, grit 240",
        "A timer",
        "for the rinse water of tar-off",
        "A closed metal can",
        "extinguisher",
    ] {
        assert!(more.contains(what), "{what}: {more}");
    }
    // Two removers are two buckets, and only what burns has a can.
    assert!(more.contains("A closed metal can, and a lidded drum outdoors for it to be emptied into <span class=\"for\">– for cloths with tar-off, "), "{more}");
    // The tape has a step of its own, with a box for each of 8 coated sections and of 4 bare ones, which were taped as well.
    let pull = page.split("Pull the tape</span></h3>").nth(1).unwrap().split("</article>").next().unwrap();
    assert!(pull.contains("first at") && pull.matches("class=\"tick\"").count() == 12, "{pull}");
    assert!(!checklist(&study(MAP, "")).contains("Pull the tape"));
}

/// What a reader with the paper alone had to ask: where, with what, when, and on which sheet.
#[test]
fn a_reader_with_the_paper_alone_need_not_ask() {
    let text = replaced("    wash  with soap, rinse\n    read gloss-60\n    wipe with spirit 35 % by volume, twice, fresh cloth, wait 5 min\n    tape lines 6 mm wide\n    label\n")
        .replacen("supply soap", "supply spirit, isopropanol\n    strength 99 % by volume\nsupply soap", 1);
    let page = checklist(&text);
    let step = |title: &str| {
        let at = page.find(&format!("{title}</span></h3>")).unwrap_or_else(|| panic!("{title}: {page}"));
        page[at..].split("</article>").next().unwrap().to_owned()
    };
    let read = step("Read gloss-60");
    assert!(read.contains("<dt>Gauge</dt><dd>pen</dd>") && read.contains("the study names none"), "{read}");
    assert!(
        read.matches("<tr><td></td><td></td>").count() == 4 && read.contains("<th>1, GU</th>"),
        "room for what is read: {read}"
    );
    assert!(step("Wipe with spirit").contains("5 min, after the last time"));
    let map = "it has each section with its code and its place";
    assert!(step("Tape").contains(map) && step("Label").contains(map));
    let baseline = page.split("<h2>Baseline readings</h2>").nth(1).unwrap();
    assert!(baseline.contains("on the reading sheet of the baseline"), "{baseline}");
}

#[test]
fn bare_wood_has_no_film_and_what_is_rubbed_between_coats_dusts() {
    let oak = replaced("    wash  with soap, rinse\n    sand grit 120 tool \"cork block\"\n")
        .replacen("clearcoat on aluminium, grey", "oak boards", 1)
        .replacen(
            "    cure        1 day\n",
            "    cure        1 day\n    coats 2 after 4 h\n    between rub with 180 grit, dust off\n",
            1,
        );
    let page = checklist(&oak);
    assert!(!page.contains("<dt>Film</dt>"), "{page}");
    let coat = page.split("Apply Bay spray").nth(1).unwrap().split("</article>").next().unwrap();
    assert!(coat.contains("Wood dust") && coat.contains("Dust: draw it off"), "{coat}");
    assert!(page.contains("What it takes to rub with 180 grit, dust off"), "to have at hand");
    let painted = checklist(&replaced("    wash  with soap, rinse\n    sand grit 400 tool \"block\"\n"));
    assert!(painted.contains("<dt>Film</dt>"), "{painted}");
}

/// The pairs of the catalog: a silazane never meets an alcohol, so that their cloths lie in two cans; the wax may lie with either.
#[test]
fn what_must_not_meet_has_a_can_of_its_own_and_each_product_its_own_syringe() {
    let text = study(MAP, "")
        .replacen(
            "\"Bay spray\", a spray sealant",
            "\"Bay quartz\", a silica coating\n    uses 20 ml per m2",
            1,
        )
        .replacen("\"Rue spray\", a spray sealant", "\"Rue wax\", a wax\n    uses 20 ml per m2", 1)
        .replacen("supply soap", "supply spirit, isopropanol\nsupply soap", 1);
    let page = checklist(&text);
    let can = |names: &str| {
        format!(
            "A closed metal can, and a lidded drum outdoors for it to be emptied into <span class=\"for\">– for cloths with {names}</span>"
        )
    };
    let cans = [
        can("spirit, Thyme spray, Cumin spray or Rue wax, and what else is wet with it: gloves, syringes"),
        can("Bay quartz, once they have cured, and what else was wet with it"),
    ];
    assert!(cans.iter().all(|can| page.contains(can)), "{page}");
    assert_eq!(page.matches("A closed metal can").count(), 2);
    // 0.018 m2 x 20 ml is 0.36 ml.
    let two = "1 ml syringe, one for each <span class=\"for\">– for Bay quartz and Rue wax</span>";
    assert!(page.contains(two), "{page}");
}

#[test]
fn a_wash_without_a_name_is_on_the_list_of_what_to_choose() {
    let page = checklist(&study(MAP, "").replace("    wash  with soap, rinse\n", "    wash  rinse\n"));
    assert!(
        page.contains(
            "What is not named yet: choose it, and name it in the study <span class=\"for\">– for wash"
        ),
        "{page}"
    );
}

/// Each round with its day, its window and what is read, before anybody has to ask for it; the cycles are one line.
#[test]
fn the_rounds_stand_in_a_calendar() {
    let page = checklist(&study(MAP, ""));
    let lines = page.split("<h2>Rounds of readings</h2>").nth(1).unwrap().split("</section>").next().unwrap();
    assert!(
        lines.contains("<p>fresh, 2025-06-10, any day from 2025-06-09 to 2025-06-11: gloss-60 3 times.</p>"),
        "{lines}"
    );
    assert!(
        lines.contains("month 6, 2025-12-03")
            && lines.contains("which “tapeline print” makes beside this checklist"),
        "{lines}"
    );
}

/// What was wiped the day before is wiped again, and `flash none` is said rather than left out.
#[test]
fn a_night_before_the_coat_and_a_coat_that_is_left_alone_are_told() {
    let wiped = study(MAP, "")
        .replace("    dry\n\napply", "    dry\n    wipe with spirit, wait 5 min\n\napply")
        .replacen("supply soap", "supply spirit, isopropanol\nsupply soap", 1)
        .replacen("    cure        1 day\n", "    flash none\n    cure        1 day\n", 1);
    let begun = |day: &str| {
        let from = wiped.find("begins").unwrap();
        let line = wiped[from..].lines().next().unwrap();
        checklist(&wiped.replace(line, &format!("begins {day}")))
    };
    assert!(begun("2025-06-02").contains("wipe it once more before the coat"));
    let same_day = begun("2025-06-03");
    assert!(!same_day.contains("wipe it once more"));
    assert_eq!(same_day.matches("none: it is left as it is, not wiped and not buffed").count(), 1);
}
