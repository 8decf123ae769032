//! Supplies that attack the material they are put on.

use super::mixes::uses;
use super::steps::class;
use crate::catalog::Surface;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "cleaner-attacks-surface",
        severity: Severity::Warning,
        what: "A supply attacks the material that it is put on.",
        why: "The panel is etched, softened or discoloured before the products go on, and the products are blamed for it.",
        mend: "Take another supply, or name the coat that protects the material, as in `clearcoat on aluminium`.",
        bad: "surface panel
    material    gelcoat
    size        880 x 580 mm
supply spirit, acetone
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "surface panel
    material    gelcoat
    size        880 x 580 mm
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let Some(material) = context.study.surface.material.as_ref() else { return };
    let Some(surface) = outermost(context, &material.value) else { return };
    let mut told: BTreeSet<&str> = BTreeSet::new();
    for used in uses(context.study) {
        let name = used.supply.name.value.as_str();
        let harm = class(used.supply).and_then(|class| surface.harms(class).next());
        if let Some(harm) = harm.filter(|_| told.insert(name)) {
            let because = harm.result.trim_end_matches('.');
            findings.push(
                Finding::warning(
                    CHECK.page.code,
                    used.step.span,
                    format!("`{name}` attacks the panel: {because}"),
                )
                .related(material.span, "the material is named here")
                .help("take another supply, or try it on a spot that is not part of the test")
                .about(name)
                .about(used.place),
            );
        }
    }
}

/// What the supplies touch: of `clearcoat on steel` the clearcoat, which protects the steel.
fn outermost<'a>(context: &Context<'a>, description: &str) -> Option<&'a Surface> {
    let words: Vec<&str> = description.split_whitespace().collect();
    let on = words.iter().position(|word| word.eq_ignore_ascii_case("on")).unwrap_or(words.len());
    context.catalog.surface_in(&words[..on].join(" "))
}
