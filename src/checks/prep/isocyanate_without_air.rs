//! A two-pack coating with no breathing protection named.

use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};
use crate::study::{KindOf, Treatment};
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "isocyanate-without-air",
        severity: Severity::Error,
        what: "A product or supply has free isocyanate, and no supply is the breathing protection of its data sheet.",
        why: "Isocyanate sensitises the lungs for life, at amounts that nobody smells; a filter mask does not do where it is sprayed. This stays an error in spite of a waiver.",
        mend: "Name what the data sheet asks for, so that it is on site before work starts: `supply air-line, supplied air`, or `supply hood, breathing protection`.",
        bad: "product bay \"Bay clear\", an isocyanate coating
    bought      60.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    mix         2 parts to 1 hardener
    pot life    30 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        good: "supply air-line, supplied air
product bay \"Bay clear\", an isocyanate coating
    bought      60.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    mix         2 parts to 1 hardener
    pot life    30 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        source: "from memory, follow the data sheet; training by REACH Regulation (EC) 1907/2006, Annex XVII, entry 74",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.supplies.iter().any(|supply| supply.gear == Some("supplied-air")) {
        return;
    }
    let free = |kind: Option<&KindOf>| {
        kind.and_then(|kind| kind.class).is_some_and(|class| class.is_in("isocyanate"))
    };
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    for (id, product) in placed.filter(|(_, product)| free(product.kind.as_ref())) {
        let codes: Vec<&str> =
            study.carriers_of(Treatment::Product(id)).map(|(_, section)| section.code.as_str()).collect();
        findings.push(finding(&product.name).label(format!("goes on {}", list(&codes, "and"))));
    }
    let used = study.supplies.iter().filter(|supply| free(supply.kind.as_ref()));
    findings.extend(used.map(|supply| finding(&supply.name)));
}

fn finding(name: &Located<String>) -> Finding {
    let message = format!("`{}` has free isocyanate, and no breathing protection is on site", name.value);
    Finding::error(CHECK.page.code, name.span, message)
        .help("name what its data sheet asks for: `supply air-line, supplied air`, or `supply hood, breathing protection`")
        .about(&name.value)
        .binding()
}
