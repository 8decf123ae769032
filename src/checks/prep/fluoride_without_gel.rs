//! Fluoride without calcium gluconate gel on site.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::KindOf;
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "fluoride-without-gel",
        severity: Severity::Error,
        what: "A fluoride cleaner is named, and no supply is calcium gluconate gel.",
        why: "Fluoride goes through the skin, hurts hours later and can stop the heart. The gel is the first aid and must be on site before work starts. This stays an error in spite of a waiver.",
        mend: "Leave the fluoride cleaner out. Else have the gel on site and name it: `supply gluconate, calcium gluconate gel`.",
        bad: "supply etch, a fluoride cleaner
    mix         neat
    sheet       \"etch-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with etch  for 1 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "supply gluconate, calcium gluconate gel
supply etch, a fluoride cleaner
    mix         neat
    sheet       \"etch-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with etch  for 1 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.supplies.iter().any(|supply| supply.gear == Some("gluconate-gel")) {
        return;
    }
    let supplies = study.supplies.iter().map(|supply| (&supply.name, supply.kind.as_ref()));
    let products = study.products.iter().map(|product| (&product.name, product.kind.as_ref()));
    let fluoride =
        |kind: Option<&KindOf>| kind.and_then(|kind| kind.class).is_some_and(|class| class.is_in("fluoride"));
    findings
        .extend(supplies.chain(products).filter(|&(_, kind)| fluoride(kind)).map(|(name, _)| finding(name)));
}

fn finding(name: &Located<String>) -> Finding {
    let message = format!("`{}` holds fluoride, and no calcium gluconate gel is on site", name.value);
    Finding::error(CHECK.page.code, name.span, message)
        .help("leave it out, or name the gel before work starts: `supply gluconate, calcium gluconate gel`")
        .about(&name.value)
        .binding()
}
