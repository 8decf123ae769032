//! Chemicals that are put into one container and must not be.

use super::mixes::mixes;
use crate::catalog::{Class, Danger, Pair, Reach};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{KindOf, Mix};
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "chemicals-in-one-mix",
        severity: Severity::Error,
        what: "A mix joins two chemicals that react with each other.",
        why: "Some pairs give off toxic gas, burn or burst the vessel; those stay errors in spite of a waiver. Others ruin the product.",
        mend: "Mix with what the data sheet names, mostly water, and keep the two apart.",
        bad: "supply sharp, an ammonia cleaner
    sheet       \"sharp-sheet.pdf\" dated 2025-10-01
supply mould-off, bleach
    mix         1 part to 10 sharp
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with mould-off  for 5 min,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "supply mould-off, bleach
    mix         1 part to 10 water
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with mould-off  for 5 min,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "CLP Regulation (EC) 1272/2008, Annex II, EUH206",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (used, mix) in mixes(study) {
        let kind = used.supply.kind.as_ref();
        findings.extend(
            finding(context, &used.supply.name.value, kind, mix).map(|finding| finding.about(used.place)),
        );
    }
    for product in study.products.iter().filter(|product| !product.broken) {
        if let Some(mix) = &product.mix {
            findings.extend(finding(context, &product.name.value, product.kind.as_ref(), mix));
        }
    }
}

fn finding(context: &Context<'_>, name: &str, kind: Option<&KindOf>, mix: &Located<Mix>) -> Option<Finding> {
    let Mix::Parts { liquid, .. } = &mix.value else { return None };
    let pair = meet(context, kind?.class?, liquid)?;
    let message = format!("`{name}` must not be mixed with `{liquid}`");
    let help = format!("mix `{name}` with what its data sheet names, and keep `{liquid}` away from it");
    let finding = match pair.severity {
        Danger::Forbid => Finding::error(CHECK.page.code, mix.span, message).binding(),
        Danger::Spoil => Finding::warning(CHECK.page.code, mix.span, message),
    };
    Some(finding.label(pair.result.trim_end_matches('.')).help(help).about(name))
}

fn meet<'a>(context: &Context<'a>, class: &Class, liquid: &str) -> Option<&'a Pair> {
    let other = context.study.liquid_class(context.catalog, liquid)?;
    context.catalog.meet_in(Reach::Vessel, class, other)
}
