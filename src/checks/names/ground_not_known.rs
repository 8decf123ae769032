//! A material in which no ground is known.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "ground-not-known",
        severity: Severity::Warning,
        what: "No word of `material` names a ground that is known: a coat, wood, masonry, metal, plastic, glass or fabric.",
        why: "What the work touches decides which dust it makes, what its pores keep, how long it dries and what attacks it. Where it is not known, cautions of quartz, wood dust, lead, and of bleach and acid that meet in pores are left out.",
        mend: "Write what the work touches in a plain word, as `brick wall`, `oak boards`, `paint on brick`, `Ziegelmauerwerk`. Until then the papers say that it is not known, and ask for the stricter mask.",
        bad: "surface panel
    material    sample 7, grey
    size        880 x 580 mm
    film        100 to 130 um
",
        good: "surface panel
    material    paint on steel, sample 7, grey
    size        880 x 580 mm
    film        100 to 130 um
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let surface = &context.study.surface;
    let Some(material) = surface.material.as_ref().filter(|own| !own.value.trim().is_empty()) else { return };
    if surface.broken || context.catalog.ground(&material.value).is_some() {
        return;
    }
    findings.push(
        Finding::warning(
            CHECK.page.code,
            material.span,
            format!("no word of `{}` names a ground that is known", material.value),
        )
        .label("cautions of its dust, its pores and what attacks it are left out")
        .help("write what the work touches, as `brick wall`, `oak boards`, `paint on steel`; of a coat and what is under it, `paint on brick`")
        .about(&surface.name.value),
    );
}
