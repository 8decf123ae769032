//! A spray can that is to be mixed.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Mix, Supply};
use crate::text::Located;

use super::mixes::mixes;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "mixed-aerosol",
        severity: Severity::Error,
        what: "A spray can has a mix.",
        why: "A can is neither opened nor thinned: nothing can be measured into it, and whoever tries it opens a vessel under pressure whose gas burns.",
        mend: "Take the mix out, or write `packed bottle` where it is what is poured or pumped.",
        bad: "supply blast, an acetone
    packed      aerosol
    mix         1 part to 4 water
    sheet       \"blast-sheet.pdf\" dated 2025-10-01
",
        good: "supply blast, an acetone
    packed      bottle
    mix         1 part to 4 water
    sheet       \"blast-sheet.pdf\" dated 2025-10-01
",
        source: "UN GHS, Annex 3, P251 (a can is not pierced); that a mix of a can has no meaning: common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies = study.supplies.iter().filter(|own| own.is_aerosol());
    findings.extend(supplies.filter_map(|own| finding(&own.name.value, own.mix.as_ref()?)));
    let of_step =
        |supply: &Supply, mix: &Located<Mix>| supply.mix.as_ref().is_none_or(|own| own.span != mix.span);
    let steps =
        mixes(study).into_iter().filter(|(used, mix)| used.supply.is_aerosol() && of_step(used.supply, mix));
    findings.extend(
        steps.filter_map(|(used, mix)| Some(finding(&used.supply.name.value, mix)?.about(used.place))),
    );
    let products = study.products.iter().filter(|own| own.is_aerosol());
    findings.extend(products.filter_map(|own| finding(&own.name.value, own.mix.as_ref()?)));
}

fn finding(name: &str, mix: &Located<Mix>) -> Option<Finding> {
    let message = format!("`{name}` is a spray can, and nothing is mixed into one");
    let help = "take the mix out; write `packed bottle` where it is poured or pumped";
    let finding = Finding::error(CHECK.page.code, mix.span, message).label("a can is under pressure");
    (mix.value != Mix::Neat).then(|| finding.help(help).about(name))
}
