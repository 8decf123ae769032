//! The page of cards: one card for each chemical, complete, with nothing twice, and governed by the data sheet.

use super::{MAP, output, study};
use std::collections::BTreeSet;
use std::fmt::Write;
use tapeline::catalog::{Catalog, Class, Danger};
use tapeline::pipeline::{Day, check};

fn page(text: &str) -> String {
    output(&check("lid.study", text, &[], Day::AsOf(super::DAY)), "safety-cards.html")
}

/// The cards of a page.
fn cards(page: &str) -> Vec<&str> {
    page.split("<article class=\"card\">")
        .skip(1)
        .map(|card| card.split("</article>").next().unwrap())
        .collect()
}

/// The words of a card without marks and sources.
fn words(card: &str) -> String {
    let (mut out, mut rest) = (String::new(), card);
    while let Some((text, more)) = rest.split_once('<') {
        out += text;
        let (tag, more) = more.split_once('>').unwrap();
        rest = more;
        if tag.contains("class=\"source\"") {
            rest = more.split_once("</").unwrap().1.split_once('>').unwrap().1;
        }
        out += if ["/li", "/p", "/h2", "/h3", "/span"].contains(&tag) { " | " } else { " " };
    }
    out + rest
}

/// A study with a supply of each class, which is used in a step.
fn of_every_class() -> (String, Vec<&'static Class>) {
    let bought = |class: &&Class| !["water", "sanding-dust"].contains(&class.id);
    let classes: Vec<&Class> = Catalog::built_in().classes().iter().filter(bought).collect();
    let (mut supplies, mut steps) = (String::new(), String::new());
    for class in &classes {
        writeln!(supplies, "supply the-{}, {}", class.id, class.name).unwrap();
        writeln!(steps, "    wash  with the-{}, rinse", class.id).unwrap();
    }
    let text = study(MAP, "").replace("    wash  with soap, rinse\n    dry\n", &steps);
    (text.replacen("supply soap", &format!("{supplies}supply soap"), 1), classes)
}

/// The card that has this thing.
fn card_of<'a>(page: &'a str, thing: &str) -> &'a str {
    let name = format!("<strong>{thing}</strong>");
    cards(page).into_iter().find(|card| card.contains(&name)).unwrap_or_else(|| panic!("no card for {thing}"))
}

#[test]
fn every_chemical_has_a_card_that_the_data_sheet_governs() {
    let (text, classes) = of_every_class();
    let page = page(&text);
    let sources = page.split("<section class=\"sources\">").nth(1).unwrap();
    for class in &classes {
        let card = card_of(&page, &format!("the-{}", class.id));
        for part in ["Protection", "First aid:", "Flash point:", "Keep:", "Waste:"] {
            assert!(card.contains(part), "{}: {part}", class.id);
        }
        let title = card.split("<h2>").nth(1).unwrap().split("</h2>").next().unwrap();
        assert!(sources.contains(&format!("<strong>{title}</strong>: ")), "no source of {title}");
        let precautions = Catalog::built_in().precautions_of_class(class);
        for code in class.hazards.statements.iter().chain(&precautions) {
            // Neat isopropanol is labelled by its strength, which this study does not give.
            assert!(card.contains(&format!("<strong>{code}</strong>")), "{}: {code}", class.id);
        }
        let limits = Catalog::built_in().limits_of(class);
        assert!(limits.iter().all(|limit| card.contains(limit.substance)), "{}", class.id);
    }
    for card in cards(&page) {
        assert!(card.contains("The product&#39;s own data sheet, local rules and licensed practice govern."));
        assert!(card.contains("Local poison centre, number:") && card.contains("class=\"write\""));
        assert!(card.contains("data sheet") && !card.contains("used in </"), "{card}");
    }
}

#[test]
fn nothing_is_printed_twice_on_a_card() {
    let (text, _) = of_every_class();
    let page = page(&text);
    let mut wrong = Vec::new();
    for card in cards(&page) {
        // The first list names the things of the card, which may share a word about their data sheets.
        let words = words(card.split_once("</ul>").unwrap().1).replace("&#39;", "'");
        let parts = words.split(['.', '|']).map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "));
        let mut seen = BTreeSet::new();
        // A word or two, as a grade of a number or the name of a glove, may well come again.
        for part in parts.filter(|part| part.split(' ').count() > 2) {
            if !seen.insert(part.to_lowercase()) {
                wrong.push(format!("{part}: twice in {}", &words[..60]));
            }
        }
        for phrase in
            ["closed metal can", "supplied air", "running machine", "calcium gluconate gel 2.5 % within"]
        {
            if words.matches(phrase).count() > 1 {
                wrong.push(format!("{phrase}: twice in {}", &words[..60]));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Each pair that makes gas, fire or burns stands on both cards, with what happens.
#[test]
fn both_cards_of_a_forbidden_pair_name_it() {
    let (text, classes) = of_every_class();
    let page = page(&text);
    let catalog = Catalog::built_in();
    let mut pairs = 0;
    for one in &classes {
        let card = card_of(&page, &format!("the-{}", one.id));
        for other in classes.iter().filter(|other| other.id != one.id) {
            let Some(worst) = catalog.meet(one, other).filter(|pair| pair.severity == Danger::Forbid) else {
                continue;
            };
            pairs += 1;
            let at = card.find("Never with").unwrap_or_else(|| panic!("{} and {}", one.id, other.id));
            let group = if one.is_in(worst.a) { worst.b } else { worst.a };
            let meaning = catalog.groups().iter().find(|known| known.id == group).unwrap().meaning;
            assert!(card[at..].contains(meaning), "{} and {}: {meaning}", one.id, other.id);
        }
    }
    assert!(pairs > 100, "{pairs} pairs, seen from both sides");
}

#[test]
fn products_of_one_class_share_a_card_that_names_each_with_its_sheet() {
    let page = page(&study(MAP, "").replacen(
        "    cure        1 day\n",
        "    sheet \"bay.pdf\" dated 2025-01-02\n",
        1,
    ));
    let cards = cards(&page);
    assert_eq!(cards.len(), 2, "a soap and four sprays of one class");
    assert!(cards[0].contains("<h2>soap: neutral shampoo</h2>"));
    assert!(cards[0].contains("used in preparation 1, before each round"), "{}", cards[0]);
    assert!(cards[1].contains("<h2>spray sealant</h2>"));
    assert!(cards[1].contains(
        "used in application on A1 and B3. Follow the product&#39;s data sheet: bay.pdf, 2025-01-02."
    ));
    assert_eq!(cards[1].matches("the study names none. Get it before work starts.").count(), 3);
}

#[test]
fn a_class_that_is_not_stated_has_a_card_that_says_so() {
    let page = page(&study(MAP, "").replace("supply soap, a neutral shampoo", "supply soap, moon dust"));
    assert!(
        cards(&page)[0]
            .contains("class not stated: follow the product&#39;s data sheet; do not start without it")
    );
    assert!(!cards(&page)[0].contains("Protection"));
}

#[test]
fn dust_has_a_card_where_it_is_made() {
    let polished = study(MAP, "")
        .replace("    dry\n\napply", "    dry\n    polish with shine\n\napply")
        .replacen("supply soap", "supply shine, a polish\nsupply soap", 1);
    let dusty = page(&polished);
    let card = card_of(&dusty, "abrasion dust");
    assert!(card.contains("used in preparation 3") && card.contains("crystalline silica"));
    assert!(dusty.contains("Cautions of the work") && dusty.contains("Source: OSHA 29 CFR 1910.1025 (lead)"));
    assert!(!page(&study(MAP, "")).contains("abrasion dust"));
}

#[test]
fn a_mix_of_isopropanol_has_its_own_line_and_precautions_follow_its_class() {
    let with = |strength: &str, mix: &str| {
        let text = study(MAP, "")
            .replace("    dry\n\napply", &format!("    dry\n    wipe with spirit {mix}\n\napply"));
        let supply = format!("supply spirit, isopropanol\n    strength {strength} % by volume\nsupply soap");
        let page = page(&text.replacen("supply soap", &supply, 1));
        card_of(&page, "spirit").to_owned()
    };
    let codes = ["P210", "P261", "P271", "P304+P340", "P305+P351+P338"]
        .map(|code| format!("<strong>{code}</strong>"));
    let weak = with("5", "neat");
    assert_eq!(
        codes.each_ref().map(|code| weak.contains(code)),
        [true, false, false, false, false],
        "{weak}"
    );
    let strong = with("99", "8 % by volume");
    assert!(codes.iter().all(|code| strong.contains(code)));
    assert!(strong.contains("Label of that mix: Warning; H226; P210, P233, P240,"), "{strong}");
    assert!(strong.contains("99 % by volume is about 99 % by mass"));
}

#[test]
fn strong_peroxide_is_labelled_as_the_stock_that_is_poured() {
    let with = |strength: &str| {
        let supply =
            format!("supply oxy, a peroxide cleaner\n    mix 1 part to 20 water\n{strength}supply soap");
        let page = page(&study(MAP, "").replacen("supply soap", &supply, 1));
        card_of(&page, "oxy").to_owned()
    };
    let (usual, strong) = (with(""), with("    strength 50 % by mass\n"));
    assert!(usual.contains("<strong>H318</strong>") && !usual.contains("<strong>H272</strong>"));
    assert!(strong.contains("<strong>H272</strong>") && strong.contains("GHS03, Flame over circle"));
    assert!(strong.contains("This is the label of the stock as bought, 50 % by mass."));
}

#[test]
fn training_for_isocyanates_is_law_and_supplied_air_is_from_memory() {
    let page = page(
        &study(MAP, "").replace("\"Rue spray\", a spray sealant", "\"Rue clear\", an isocyanate coating"),
    );
    let card = card_of(&page, "Rue clear");
    let training = card.find("Trained users only: above 0.1 % of free diisocyanate").unwrap();
    let law = card.find("entry 74 (Regulation (EU) 2020/1149).").unwrap();
    let air = card.find("Wear supplied air when it is sprayed, as the data sheet requires.").unwrap();
    assert!(training < law && law < air, "{card}");
    assert!(
        card[air..].split("</li>").next().unwrap().contains("Source: from memory, follow the data sheet.")
    );
    for once in ["upplied air", "rained users", "2020/1149"] {
        assert_eq!(card.matches(once).count(), 1, "{once}");
    }
}

#[test]
fn what_must_never_meet_stands_above_the_cards() {
    let both = "supply bleach-gel, hypochlorite\nsupply lime-off, an acid cleaner\nsupply soap";
    let page = page(&study(MAP, "").replacen("supply soap", both, 1));
    assert!(page.find("These must never meet").unwrap() < page.find("<article").unwrap());
    // The card names the other by the name that it has in the study.
    assert!(card_of(&page, "lime-off").contains("active chlorine bleach (here: bleach-gel)"), "{page}");
    let turned = "supply lime-off, an acid cleaner\nsupply bleach-gel, hypochlorite\nsupply soap";
    let turned = self::page(&study(MAP, "").replacen("supply soap", turned, 1));
    let never = |page: &str| {
        page[page.find("These must never meet").unwrap()..page.find("<article").unwrap()].to_owned()
    };
    assert_eq!(never(&page), never(&turned), "in one order, however the study lists them");
    let fluoride = "supply etch, a fluoride cleaner\nsupply soap";
    let page = self::page(&study(MAP, "").replacen("supply soap", fluoride, 1));
    let card = card_of(&page, "etch");
    assert!(card.contains("Do not start without calcium gluconate gel 2.5 % within reach."));
    assert!(card.contains("GHS06, Skull and crossbones") && card.contains("Danger"));
}

#[test]
fn hazards_of_the_data_sheet_replace_those_of_the_class_on_card_step_and_report() {
    let own = "supply soap, a neutral shampoo\n    sheet \"soap.pdf\" dated 2025-03-04\n    hazards H314, H302, H319, P280";
    let text = study(MAP, "").replace("supply soap, a neutral shampoo", own);
    let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
    let stated =
        "Label as stated by the data sheet soap.pdf of 2025-03-04, in place of the usual one of its class.";
    for page in ["safety-cards.html", "checklist.html", "report.html"] {
        // The report keeps the day on one line by an element of its own.
        let text = output(&outcome, page).replace("<bdi class=\"held\">", "").replace("</bdi>", "");
        assert!(text.contains(stated), "{page}");
    }
    let card = card_of(&output(&outcome, "safety-cards.html"), "soap").to_owned();
    // H315 is usual for the class; H319 loses its sign to that of H314, and H302 keeps the same sign (CLP Article 26).
    assert!(card.contains("<strong>H314</strong>") && !card.contains("<strong>H315</strong>"), "{card}");
    assert!(
        card.contains("GHS05")
            && card.contains("GHS07")
            && card.contains("<span class=\"signal\">Danger</span>")
    );
    assert!(card.contains("<strong>P280</strong>") && !card.contains("<strong>P264</strong>"));
}

#[test]
fn a_sheet_that_states_no_hazard_is_no_promise() {
    let own = "supply soap, a neutral shampoo\n    sheet \"soap.pdf\"\n    hazards none";
    let page = page(&study(MAP, "").replace("supply soap, a neutral shampoo", own));
    let card = card_of(&page, "soap");
    assert!(card.contains("It states no hazard; the sheet governs."), "{card}");
    assert!(!card.contains("<strong>H3") && card.contains("no signal word stated"));
}

#[test]
fn a_thing_of_unknown_class_shows_the_label_of_its_sheet() {
    let own = "supply soap, moon dust\n    sheet \"soap.pdf\"\n    hazards H225, EUH066";
    let page = page(&study(MAP, "").replace("supply soap, a neutral shampoo", own));
    let card = card_of(&page, "soap");
    assert!(
        card.contains("class not stated") && card.contains("Highly flammable liquid and vapour."),
        "{card}"
    );
    assert!(card.contains("GHS02"));
}

/// A bare "none" on a card reads as a promise that nobody can give.
#[test]
fn no_card_says_that_nothing_is_needed() {
    let (text, _) = of_every_class();
    let page = page(&text);
    for card in cards(&page) {
        for bare in [
            "Breathing:</strong> none",
            "Gloves:</strong> none",
            "Eyes:</strong> none",
            "as liked",
            "Not a hazardous",
        ] {
            assert!(!card.contains(bare), "{bare}: {card}");
        }
    }
    assert!(page.contains("<strong>Breathing:</strong> not stated here: see section 8 of its data sheet."));
}

/// A silazane gives off ammonia with water and acids (CLP Annex III, EUH029 and EUH031 of such coatings): that is no mere
/// loss of the test, and what feeds a fire stands there too.
#[test]
fn a_silica_coating_names_its_gas_and_the_oxidisers_among_what_it_never_meets() {
    let page =
        page(&study(MAP, "").replace("\"Rue spray\", a spray sealant", "\"Rue quartz\", a silica coating"));
    let card = card_of(&page, "Rue quartz");
    let never = &card[card.find("Never with").unwrap()..];
    let (never, spoils) = never.split_once("Spoils the test with").unwrap();
    for (met, result) in [
        ("water, by itself or in a mix:", "ammonia gas, which burns eyes and lungs"),
        ("mineral and organic acids:", "ammonia and its salt fume"),
        (
            "isopropanol, ethanol and the like (here: Bay spray, Thyme spray and Cumin spray):",
            "ammonia gas, which burns eyes and lungs",
        ),
        ("what feeds a fire, as bleach and peroxide do:", "Fire: the oxidiser feeds it."),
    ] {
        let entry =
            never.split("<li>").find(|entry| entry.contains(met)).unwrap_or_else(|| panic!("{met}: {card}"));
        assert!(entry.contains(result), "{entry}");
    }
    assert!(!spoils.split("</ul>").next().unwrap().contains("mmonia"), "{spoils}");
    assert!(page.contains(
        "EUH029 (contact with water liberates toxic gas); that silazanes give ammonia from memory"
    ));
}

#[test]
fn protection_is_no_chemical_and_has_no_card() {
    let gear = [
        ("mask", "breathing protection"),
        ("hands", "nitrile gloves 0.4 mm"),
        ("goggles", ""),
        ("gluconate", "calcium gluconate gel 2.5 %"),
        ("muffs", "ear defenders"),
        ("box", "first aid kit"),
    ];
    let line = |(name, kind): &(&str, &str)| {
        if kind.is_empty() { format!("supply {name}\n") } else { format!("supply {name}, {kind}\n") }
    };
    let lines: String = gear.iter().map(line).collect();
    let text = study(MAP, "").replacen("supply soap", &format!("{lines}supply soap"), 1);
    let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
    for code in ["class-not-stated", "class-not-known", "no-data-sheet", "supply-not-used"] {
        let told = outcome.findings.iter().filter(|finding| finding.code == code);
        let about = told
            .filter(|finding| gear.iter().any(|(name, _)| finding.message.contains(&format!("`{name}`"))));
        assert_eq!(about.count(), 0, "{code}");
    }
    let (cards, list) = (output(&outcome, "safety-cards.html"), output(&outcome, "checklist.html"));
    for (name, kind) in gear {
        assert!(!cards.contains(&format!("<strong>{name}</strong>")), "{name} has no card");
        let words = if kind.is_empty() { name.to_owned() } else { format!("{name}, {kind}") };
        assert!(list.contains(&words), "{words} stands among protection");
    }
    assert!(!list.contains("class not stated"), "nothing else lacks its class");
    assert!(list.contains("everybody at the work: breathing protection"));
}

/// What tells of a liquid or powder is a chemical, whatever it protects.
#[test]
fn a_liquid_that_is_named_after_protection_keeps_its_card() {
    for own in [
        "supply visor-clean, a visor cleaner",
        "supply skin, glove cream",
        "supply mask-it, a peel mask film",
    ] {
        let text = study(MAP, "").replacen("supply soap", &format!("{own}\nsupply soap"), 1);
        let name = own.split([' ', ',']).nth(1).unwrap();
        assert!(card_of(&page(&text), name).contains("class not stated"), "{own}");
    }
}

/// Directive 2004/37/EC, Articles 4 and 5: what may cause cancer is replaced, or else its exposure is kept least.
#[test]
fn what_may_cause_cancer_has_advice_of_its_own() {
    let with = |hazards: &str| {
        let own = format!("supply soap, a neutral shampoo\n    sheet \"soap.pdf\"\n    hazards {hazards}");
        let text = study(MAP, "").replace("supply soap, a neutral shampoo", &own);
        let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
        (
            card_of(&output(&outcome, "safety-cards.html"), "soap").to_owned(),
            output(&outcome, "checklist.html"),
        )
    };
    for (code, words) in [
        ("H350", "It may cause cancer: use something else wherever that does the job."),
        ("H350i", "It may cause cancer: use something else wherever that does the job."),
        ("H340", "It may cause genetic defects: use something else"),
        ("H360FD", "nobody who is or may be pregnant"),
    ] {
        let (card, list) = with(code);
        assert!(card.contains(words) && list.contains(words), "{code}: {card}");
        assert!(card.contains("Source: Directive 2004/37/EC, Articles 4 and 5"), "{code}");
    }
    assert!(!with("H319").0.contains("use something else"));
}

/// The UN GHS got P316 to P319 with its 9th revised edition: from memory, as the page says itself.
#[test]
fn the_cards_say_which_edition_their_codes_are_of() {
    let page = page(&study(MAP, ""));
    assert!(page.contains("9th revised edition (2021)") && page.contains("P310 to P315"), "{page}");
}

/// Whoever holds the bottle reads the name on it, which is the one for print.
#[test]
fn supplies_go_by_their_print_names_on_every_paper() {
    let text = study(MAP, "").replacen(
        "supply soap, a neutral shampoo",
        "supply soap \"Panel Foam 7\", a neutral shampoo",
        1,
    );
    assert!(text.contains("Panel Foam 7"));
    let outcome = check("lid.study", &text, &[], Day::AsOf(super::DAY));
    let checklist = output(&outcome, "checklist.html");
    assert!(
        checklist.contains("Wash with Panel Foam 7") && checklist.contains("of Panel Foam 7"),
        "{checklist}"
    );
    let cards = output(&outcome, "safety-cards.html");
    for page in [checklist, cards, output(&outcome, "report.md")] {
        assert!(page.contains("Panel Foam 7"), "{page}");
        for short in ["with soap<", "with soap;", "of soap", ">soap<", "soap: ", "soap (", "soap;"] {
            assert!(!page.contains(short), "{short} in {page}");
        }
    }
}

#[test]
fn the_card_of_a_hardener_says_what_it_is_where_it_goes_and_how_it_is_brushed() {
    let text = study(MAP, "")
        .replacen(
            "product bay \"Bay spray\", a spray sealant",
            "product bay \"Bay Boat Lacquer\", an isocyanate coating\n    mix  2 parts to 1 hard\n    pot life 4 h",
            1,
        )
        .replacen("supply soap", "supply hard \"Hardener 5\", an isocyanate hardener\n    hazards H226, H332, P315\nsupply soap", 1);
    let page = page(&text);
    let card = words(card_of(&page, "Hardener 5"));
    assert!(card.contains("Hardener 5: isocyanate hardener"), "{card}");
    assert!(card.contains("mixed into Bay Boat Lacquer"), "{card}");
    assert!(
        card.contains("When it is brushed or rolled: ") && card.contains("a filter mask does not do there"),
        "{card}"
    );
    assert!(card.contains("Get immediate medical advice or attention."), "{card}");
}
