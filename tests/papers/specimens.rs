//! Loose specimens beside the panel: they are prepared, coated and counted on every paper as its sections are.

use super::{DAY, MAP, output, study};
use tapeline::pipeline::{Day, check};

/// Three slips of 50 x 50 mm for each product, two for bare and one to spare; each is wiped with a fresh cloth.
const SLIPS: &str = "specimens slips\n    material clear acrylic\n    each 50 x 50 mm\n    3 for each product and 2 for bare\n    spare 1\n\
    prep slips\n    wipe with spirit, 35 % by volume, fresh cloth, wait 5 min\nsupply spirit, isopropanol\n    strength 99 % by volume\n    \
    uses 100 ml per m2\n";

fn page(more: &str) -> String {
    let text = study(MAP, "").replacen(
        "\"Rue spray\", a spray sealant\n",
        "\"Rue spray\", a spray sealant\n    uses 40 ml per m2\n",
        1,
    );
    output(&check("lid.study", &format!("{text}{more}"), &[], Day::AsOf(DAY)), "checklist.html")
}

#[test]
fn a_coat_goes_on_the_specimens_of_its_product() {
    let (without, with) = (page(""), page(SLIPS));
    let apply = |page: &str| {
        let at = page.find("Apply Rue").expect("a step that applies it");
        page[at..].split("</section>").next().unwrap_or_default().to_owned()
    };
    assert!(!apply(&without).contains("slips"));
    let step = apply(&with);
    assert!(step.contains("; slips: rue-1, rue-2 and rue-3"), "{step}");
    for code in ["rue-1", "rue-2", "rue-3"] {
        assert!(step.matches(code).count() >= 2, "a box for {code}: {step}");
    }
    assert!(step.contains("3 specimens, 1 coat"), "{step}");
    assert!(step.contains("on rue-1, rue-2 and rue-3 (1 ml syringe), for one coat"), "{step}");
}

/// 40 ml per m2 on 3 x 0.0025 m2 are 0.3 ml more, with a tenth spare 0.33 ml.
#[test]
fn what_specimens_take_is_bought() {
    let page = page(SLIPS);
    let row = |name: &str| {
        let rows = page.split("<h3 id=\"shopping\">").nth(1).unwrap().split("</table>").next().unwrap();
        rows.split("<tr>").find(|row| row.contains(&format!("<td>{name}</td>"))).unwrap().to_owned()
    };
    assert!(row("Rue spray").contains("3 specimens"), "{}", row("Rue spray"));
    // As many slips as three for each product, two bare ones and the spare one, each wiped once, and a tenth to spare.
    let slips = page.matches("slips: ").count() * 3 + 3;
    let cloths = slips + slips.div_ceil(10);
    assert!(
        row("Lint-free cloths").contains(&format!("<td>{cloths}</td>")),
        "{slips}: {}",
        row("Lint-free cloths")
    );
    assert!(page.contains("for all of them"), "their amount is not that of the panel");
}
