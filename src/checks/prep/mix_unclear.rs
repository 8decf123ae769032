//! Mixes that do not tell how strong they are.

use super::mixes::{Use, mixes};
use super::steps::is_isopropanol;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Mix, Supply};
use crate::text::Located;
use crate::units::Dimension;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "mix-unclear",
        severity: Severity::Warning,
        what: "A mix of isopropanol does not tell its strength in percent by volume.",
        why: "Flash point, label and wiping power go by the strength. Parts or `neat` of a bottle of unknown strength say nothing, and percent by mass is mistaken for percent by volume.",
        mend: "Write the strength in the step as `35 % by volume`, or give the supply its `strength` in percent by volume.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit  1 part to 2 water  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
supply spirit, isopropanol
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (used, mix) in mixes(context.study) {
        if let Some(why) = unclear(used.supply, &mix.value).filter(|_| is_isopropanol(used.supply)) {
            findings.push(finding(&used, mix, why));
        }
    }
}

fn unclear(supply: &Supply, mix: &Mix) -> Option<&'static str> {
    let by_volume = |unit: Dimension| unit == Dimension::PercentVolume;
    let known = supply.strength.is_some_and(|strength| by_volume(strength.unit.dimension));
    match mix {
        Mix::Percent(share) if by_volume(share.unit.dimension) => None,
        Mix::Percent(_) => Some("is not in percent by volume"),
        Mix::Neat if !known => Some("is neat, and its strength is not known"),
        Mix::Parts { .. } if !known => Some("is in parts, and the strength of the stock is not known"),
        Mix::Neat | Mix::Parts { .. } => None,
    }
}

fn finding(used: &Use<'_>, mix: &Located<Mix>, why: &str) -> Finding {
    let name = &used.supply.name.value;
    let finding = Finding::warning(CHECK.page.code, mix.span, format!("the mix of `{name}` {why}"))
        .help("write the strength that the cloth gets, as in `35 % by volume`")
        .about(name)
        .about(used.place);
    // Percent of another kind stay unclear, however strong the stock is.
    if matches!(mix.value, Mix::Percent(_)) {
        return finding;
    }
    finding.help(format!("or give `{name}` the strength on its bottle, as in `strength 99 % by volume`"))
}
