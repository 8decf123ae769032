//! A film gauge that is to decide about coats thinner than its noise.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-gauge-for-thin-coat",
        severity: Severity::Warning,
        what: "The study decides by film, and a product on the map leaves a coat of 0.5 to 2 um.",
        why: "A film gauge repeats to 1 or 2 um on paint. What it shows after such a coat is noise, and a leader by film is a leader by chance.",
        mend: "Decide by a measure that the coat changes, such as gloss or the angle of a drop; keep film for what the abrasives take off.",
        bad: "study \"Three sealers on a test panel\"
    author      \"Frame bench\"
    begins      2026-03-02
    question    \"Which sealer builds the thickest coat?\"
    decide by   film at month 3
    bought unless said
gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 um
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times, film 3 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        good: "gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 um
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times, film 3 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        source: "common practice, no source",
    },
    run,
};

/// Classes whose coat is thinner than a film gauge repeats.
const THIN: [&str; 4] = ["silica-coating", "spray-sealant", "polymer-sealant", "wax"];

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some((decide, measure)) = study.decide.as_ref().and_then(|decide| Some((decide, decide.measure?)))
    else {
        return;
    };
    let name = &study.measure(measure).name.value;
    let is_film = context.catalog.measure(name).is_some_and(|measure| measure.id == "film");
    let Some(product) = thin_product(study).filter(|_| is_film) else { return };
    let message = format!("a coat of `{product}` is thinner than a film gauge repeats");
    findings.push(
        Finding::warning(CHECK.page.code, decide.span, message)
            .label("0.5 to 2 um is below the noise of the gauge")
            .help("decide by gloss or by the angle of a drop, and keep film for what the abrasives take off")
            .about(name)
            .about("study"),
    );
}

fn thin_product(study: &Study) -> Option<&str> {
    let on_map = study.sections.iter().filter_map(|section| match section.treatment {
        Treatment::Product(id) => Some(study.product(id)),
        _ => None,
    });
    let class = |product: &crate::study::Product| product.kind.as_ref()?.class;
    let mut thin = on_map.filter(|product| class(product).is_some_and(|class| THIN.contains(&class.id)));
    thin.next().map(|product| product.name.value.as_str())
}
