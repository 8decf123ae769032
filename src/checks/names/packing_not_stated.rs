//! Things that may well be spray cans, of which nothing says how they are packed.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{KindOf, Supply};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "packing-not-stated",
        severity: Severity::Warning,
        what: "What is called a spray, an aerosol or a can burns by its kind, and nothing says whether it is a spray can.",
        why: "A spray can is an extremely flammable aerosol under pressure whatever is in it: H222 and H229, never near a flame, above 50 degC, pierced or burnt. The card of its content alone says none of that.",
        mend: "Write `packed aerosol` under it where gas drives it, `packed bottle` where it is poured or pumped.",
        bad: "supply blast \"Part cleaner spray\", an acetone
    sheet       \"blast-sheet.pdf\" dated 2025-10-01
",
        good: "supply blast \"Part cleaner spray\", an acetone
    packed      aerosol
    sheet       \"blast-sheet.pdf\" dated 2025-10-01
",
        source: "UN GHS, chapter 2.3 and Annex 3",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies =
        study.supplies.iter().filter(|own| own.packed.is_none() && !own.is_aerosol() && !own.broken);
    let supplies = supplies.filter(|own| may_be_a_can(own)).map(|own| &own.name);
    let products =
        study.products.iter().filter(|own| own.packed.is_none() && !own.is_aerosol() && !own.broken);
    let products =
        products.filter(|own| names_a_can(&words([own.name.value.as_str(), own.title()], own.kind.as_ref())));
    for name in supplies.chain(products.map(|own| &own.name)) {
        findings.push(
            Finding::warning(
                CHECK.page.code,
                name.span,
                format!("`{}` may be a spray can, and nothing says how it is packed", name.value),
            )
            .label("its card has none of the cautions of a spray can")
            .help(
                "write `packed aerosol` under it if gas drives it, `packed bottle` if it is poured or pumped",
            )
            .about(&name.value),
        );
    }
}

// What burns and is called a spray is a can more often than not; a spray sealant is mostly pumped.
fn may_be_a_can(supply: &Supply) -> bool {
    let amount = supply.amount.as_deref().unwrap_or_default();
    let words = words([supply.name.value.as_str(), supply.title(), amount], supply.kind.as_ref());
    let burns =
        supply.kind.as_ref().and_then(|kind| kind.class).is_some_and(|class| class.is_in("flammable"));
    names_a_can(&words) || burns && words.iter().any(|word| word == "spray")
}

fn words<'a>(texts: impl IntoIterator<Item = &'a str>, kind: Option<&'a KindOf>) -> Vec<String> {
    let kind = kind.map_or("", |kind| kind.words.value.as_str());
    let all = texts.into_iter().chain([kind]).flat_map(|text| text.split(|c: char| !c.is_alphanumeric()));
    all.map(str::to_lowercase).collect()
}

fn names_a_can(words: &[String]) -> bool {
    let pair = |pair: &[String]| pair[0] == "spray" && ["can", "cans", "tin"].contains(&pair[1].as_str());
    words.iter().any(|word| word.starts_with("aerosol")) || words.windows(2).any(pair)
}
