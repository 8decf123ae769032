//! Dilutions to a percentage from a stock of unknown strength.

use super::mixes::mixes;
use super::steps::is_isopropanol;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Mix;
use crate::units::{AnyQuantity, Dimension};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "dilution-without-strength",
        severity: Severity::Warning,
        what: "A step asks for a percentage, and the supply does not say how strong its stock is in the same kind of percent.",
        why: "How much stock to measure out is target / stock x batch. Without the strength of the stock the papers cannot say it, and whoever mixes guesses.",
        mend: "Give the supply its strength as printed on the bottle: `strength 99 % by volume`.",
        bad: "supply spirit, isopropanol
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
",
        good: "supply spirit, isopropanol
    strength    70 % by volume
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (used, mix) in mixes(context.study) {
        let Mix::Percent(target) = mix.value else { continue };
        // That isopropanol is not given in percent by volume is told by `mix-unclear`.
        let by_mass = target.unit.dimension == Dimension::PercentMass;
        if used.supply.is_unread("strength") || by_mass && is_isopropanol(used.supply) {
            continue;
        }
        let Some(why) = unknown(target, used.supply.strength) else { continue };
        let name = &used.supply.name.value;
        findings.push(
            Finding::warning(
                CHECK.page.code,
                mix.span,
                format!("`{name}` is diluted to {target}, and {why}"),
            )
            .related(used.supply.name.span, "the stock is defined here")
            .help(format!(
                "write under `supply {name}` how strong it is, as in `strength 99 {}`",
                target.unit.symbol
            ))
            .about(name)
            .about(used.place),
        );
    }
}

fn unknown(target: AnyQuantity, stock: Option<AnyQuantity>) -> Option<String> {
    match stock {
        None => Some(String::from("the strength of its stock is not given")),
        Some(stock) if stock.unit.dimension != target.unit.dimension => {
            Some(format!("the strength of its stock is given as {stock}"))
        }
        Some(_) => None,
    }
}
