//! Something hot at or after a solvent that has not dried off.

use super::steps::{is_flammable, is_hot, sequences, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Product, Step, Supply, Verb};
use crate::units::Quantity;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "heat-after-solvent",
        severity: Severity::Error,
        what: "A heat lamp, heater, hot-air gun or flame is the tool of a step with a flammable solvent, or of one after it with neither a rinse nor pauses of at least 10 min between them.",
        why: "What glows or burns, and many a heater, sets the vapour of the solvent on fire, and heat drives more of it out. This stays an error in spite of a waiver.",
        mend: "Dry it in moving air without heat. Heat comes only after the time that the data sheet gives to flash off, at least 10 min, with the cloths taken away: `wait 10 min`, or rinse.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 2 min
    dry         20 min  tool \"heat lamp\"
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry         20 min  tool \"heat lamp\"
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 10 min
    tape        lines 6 mm wide
    label
",
        source: "OSHA 29 CFR 1910.106(e)(6)(i), sources of ignition; UN GHS, Annex 3, P210; the 10 min: common practice, no source",
    },
    run,
};

/// Below this a solvent counts as wet, seconds: common practice, no source.
const FLASH_OFF_S: f64 = 600.0;

/// A solvent on the surface.
struct Wet<'a> {
    step: &'a Step,
    supply: &'a Supply,
    /// The pauses since, seconds.
    waited_s: f64,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let mut runs: Vec<(&str, Vec<&Step>)> =
        sequences(study).into_iter().map(|sequence| (sequence.place, sequence.steps)).collect();
    runs.extend(study.specimens.iter().map(|set| ("prep", set.prep.iter().collect())));
    runs.push(("cycle", study.cycle_steps().collect()));
    for (place, steps) in runs {
        let mut wet: Vec<Wet<'_>> = Vec::new();
        for step in steps {
            // A rinse at the end of a step comes after its own work, as its pause does.
            let own = supply(study, step).filter(|supply| is_flammable(supply));
            wet.extend(own.map(|supply| Wet { step, supply, waited_s: 0.0 }));
            if step.tool.as_deref().is_some_and(is_hot) {
                let open = wet.drain(..).filter(|wet| wet.waited_s < FLASH_OFF_S);
                findings.extend(open.map(|wet| finding(step, &wet).about(place)));
            }
            if step.rinse || matches!(step.verb, Verb::Rinse | Verb::Wash) {
                wet.clear();
            }
            let waited_s = step.wait.map_or(0.0, Quantity::seconds);
            for wet in &mut wet {
                wet.waited_s += waited_s;
            }
        }
    }
    findings.extend(study.products.iter().filter_map(between));
}

fn finding(hot: &Step, wet: &Wet<'_>) -> Finding {
    let (name, tool) = (&wet.supply.name.value, hot.tool.as_deref().unwrap_or_default());
    let message = format!("`{tool}` is used where `{name}` is still wet");
    let finding = Finding::error(CHECK.page.code, hot.span, message)
        .label("its vapour burns, and heat sets it on fire")
        .help("dry it in moving air without heat; heat comes after the time that its data sheet gives to flash off, at least `wait 10 min`, or after a `rinse`")
        .about(name)
        .binding();
    if hot.span == wet.step.span {
        finding
    } else {
        finding.related(wet.step.span, "the solvent is put on here")
    }
}

/// Heat between the coats of a product whose vapour burns: how long a coat has dried by then is in words only, so this is
/// asked and may be waived.
fn between(product: &Product) -> Option<Finding> {
    let words = product.coats.as_ref()?.between.as_deref().filter(|words| is_hot(words))?;
    let class = product.kind.as_ref().and_then(|kind| kind.class);
    let burns = match product.label() {
        Some(label) => label.burns(),
        None => class.is_some_and(|class| class.is_in("flammable")),
    };
    let name = &product.name.value;
    let message = format!("`{words}` comes on a coat of `{name}`, whose vapour burns");
    let help = "leave the heat out, or allow it with the time after which its data sheet lets heat come: \
                `allow heat after solvent for NAME because \"...\"`"
        .replace("NAME", name);
    let finding = Finding::warning(CHECK.page.code, product.name.span, message);
    burns.then(|| finding.label("heat sets the vapour of a fresh coat on fire").help(help).about(name))
}
