//! What is bought is what is mixed and put on: each amount is counted once, and each list shows the same.

use super::{MAP, output, study};
use std::path::Path;
use tapeline::pipeline::{Day, check};

fn checklist(text: &str) -> String {
    output(&check("lid.study", text, &[], Day::AsOf(super::DAY)), "checklist.html")
}

/// The places of the first row of a table that begins with a name.
fn row(page: &str, table: &str, name: &str) -> Vec<String> {
    let table = page.split_once(&format!("<h3 id=\"{table}\">")).unwrap().1.split("</table>").next().unwrap();
    let row = table.split("<tr>").find(|row| row.contains(&format!("<td>{name}</td>")));
    let row = row.unwrap_or_else(|| panic!("no row `{name}` in {table}"));
    row.split("<td>").skip(2).map(|place| place.split("</td>").next().unwrap().to_owned()).collect()
}

/// Four washes, in preparation and before three rounds: a bucket of 10 l with 10000 / 201 ml of soap each time, 199 ml in all.
#[test]
fn what_washes_are_mixed_from_is_what_is_bought() {
    let page = checklist(&study(MAP, ""));
    let mix = row(&page, "mixes", "soap");
    assert!(mix[2].starts_with("for 10 l: some water first, then 50 ml of soap"), "{mix:?}");
    assert_eq!(mix[3], "wash: preparation; wash: 3 rounds");
    assert_eq!(
        row(&page, "shopping", "soap")[1..3],
        ["preparation, 3 rounds", "200 ml, for 10 l of mix each time"]
    );
}

/// 0.63 m2 take 315 ml, with a tenth spare 346.5 ml, so 500 ml are mixed from 2.49 ml of soap; four times 9.95 ml.
#[test]
fn a_stated_use_gives_the_batch_and_the_list_alike() {
    let page = checklist(&study(MAP, "").replacen(
        "    mix         1 part to 200 water\n",
        "    mix         1 part to 200 water\n    uses 500 ml per m2\n    bought 8 EUR for 5 ml\n",
        1,
    ));
    assert!(
        row(&page, "mixes", "soap")[2]
            .starts_with("for 500 ml (rounded up from 347 ml): some water first, then 2.5 ml of soap")
    );
    assert_eq!(row(&page, "shopping", "soap")[2..], ["10 ml", "2 x 5 ml", "16.00 EUR"]);
}

/// Two sections of 0.018 m2 take 2.16 ml each, drawn up as 2.2, and a tenth more is 4.84 ml a coat, so 5 ml are mixed for each: 3.75 ml and 1.25 ml of hardener; two coats.
fn two_pack(more: &str) -> String {
    let product = "\"Rue clear\", an isocyanate coating\n    mix 3 parts to 1 hardener\n    pot life 30 min\n    uses 120 ml per m2\n    \
                   coats 2 after 4 h\n    bought 60 EUR for 5 ml";
    let text = study(MAP, "").replacen("\"Rue spray\", a spray sealant", product, 1);
    text.replacen("supply soap", &format!("{more}supply soap"), 1)
}

#[test]
fn a_two_pack_is_mixed_anew_for_each_coat_and_its_hardener_is_on_the_list() {
    let page = checklist(&two_pack(""));
    let mix = row(&page, "mixes", "Rue clear");
    assert_eq!(
        mix[2],
        "for 5 ml (rounded up from 4.8 ml): 3.75 ml of Rue clear, then top up with hardener to 5 ml (about 1.25 ml)"
    );
    assert_eq!(mix[3..5], ["apply: coats 1 and 2, anew for each", "30 min"]);
    assert_eq!(row(&page, "shopping", "Rue clear")[2..], ["7.5 ml", "2 x 5 ml", "120.00 EUR"]);
    let hardener = row(&page, "shopping", "hardener");
    assert_eq!(hardener[1..3], ["the other part of Rue clear; has a data sheet of its own", "2.5 ml"]);
    assert_eq!(hardener[4], "in the price of Rue clear if sold with it");
    assert!(page.contains("for 5 ml (rounded up from 4.8 ml): 3.75 ml of Rue clear, then top up with hardener to 5 ml (about 1.25 ml); anew for each coat"));
}

#[test]
fn a_hardener_with_a_block_of_its_own_has_its_amount_pack_and_price() {
    let page = checklist(&two_pack(
        "supply hardener, an isocyanate hardener\n    bought 12 EUR for 100 ml\n    sheet \"h.pdf\"\n",
    ));
    assert_eq!(
        row(&page, "shopping", "hardener")[1..],
        ["mixed with Rue clear", "2.5 ml", "1 x 100 ml", "12.00 EUR"]
    );
    assert_eq!(page.matches("the other part of").count(), 0);
}

/// The invented cladding: 12 cassettes with patches of 0.018 m2, of which 22 are sprayed and 20 cleaned with gel, up to 6 times.
#[test]
#[allow(clippy::disallowed_methods, reason = "a test reads an example")]
fn what_cycles_take_is_on_the_list() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/marked-cladding");
    let text = std::fs::read_to_string(folder.join("marked-cladding.study")).unwrap();
    let page = checklist(&text);
    // 22 x 0.018 m2 x 150 ml per m2 x 1.1 x 6 = 392 ml.
    assert_eq!(
        row(&page, "shopping", "Red acrylic spray")[1..],
        [
            "up to 6 cycles",
            "392 ml, and the overspray besides: weigh the can before and after the first place",
            "1 x 400 ml or as needed",
            "7.90 EUR"
        ]
    );
    // 20 x 0.018 m2 x 100 ml per m2 x 1.1 x 6 = 237.6 ml.
    assert_eq!(row(&page, "shopping", "Remover gel")[1..4], ["up to 6 cycles", "238 ml", "1 x 250 ml"]);
    // 1 part to 10 water in 1 l is 91 ml as it is measured out, six times.
    assert_eq!(row(&page, "shopping", "Slate Facade Wash")[2], "546 ml, for 1 l of mix each time");
    // 12 cassettes wiped twice, and once more twice after the night; 20 patches with gel and 12 with lye cleaned six times, and a tenth to spare.
    assert_eq!(row(&page, "shopping", "Lint-free cloths")[2], "264");
    // Of six coats two products of three coats are left as they are; of 3 cloths a tenth to spare is one.
    assert_eq!(row(&page, "shopping", "Cloths to wipe off or buff")[2], "4");
    assert!(page.contains(
        "two passes from 200 mm; that is what counts, for buying about 59 ml for its patches (150 ml per m²)"
    ));
}

/// What the shopping list counts of a supply stands beside it among what must be at hand.
#[test]
fn supplies_say_how_much_of_them_is_needed() {
    let page = checklist(&study(MAP, ""));
    let table =
        page.split_once("<table class=\"things supplies\">").unwrap().1.split("</table>").next().unwrap();
    let row = table.split("<tr>").find(|row| row.contains("<td>soap</td>")).unwrap();
    assert!(row.contains("200 ml, for 10 l of mix each time"), "{row}");
}
