//! Records of work that was done otherwise than planned.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Apply, ApplyClimate, Done, DoneWhat, Study, Upkeep, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "done-departs-from-plan",
        severity: Severity::Advice,
        what: "A `done` line departs from the plan: a coat beyond the planned number, a first coat on another day, \
               air outside the climate that the product or `apply` asks for, or a step that the plan does not have.",
        why: "Departures are no fault if they are told. The report prints plan, record and reason.",
        mend: "If the record is right, give the reason: `because \"...\"` at the end of the line, or the note of the row. \
               The finding goes, and the report prints the reason with the record. If it is a slip, correct it.",
        bad: "done 2026-03-03 10:20  coat 1 of bay   at 26 degC, 52 % humidity\n",
        good: "done 2026-03-03 10:20  coat 1 of bay   at 20 degC, 52 % humidity\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // A departure with its reason is told: the report prints both.
    let unsaid = |done: &&Done| done.because.as_ref().is_none_or(|because| because.trim().is_empty());
    for done in study.done.iter().filter(unsaid) {
        let (number, product) = match &done.what {
            DoneWhat::Coat(number, product) => (number, product),
            DoneWhat::Prep(verb) => {
                findings.extend(unplanned(study, done, *verb));
                continue;
            }
        };
        let mut departures = too_many(study, done);
        if let Some(apply) = study.apply.as_ref().filter(|apply| !apply.broken) {
            departures.extend(other_day(apply, done, *number));
            departures.extend(climate(&study.climate_for(product.value), done));
        }
        if departures.is_empty() {
            continue;
        }
        let name = &study.product(product.value).name.value;
        let message = format!("coat {number} of `{name}` departs from the plan: {}", departures.join("; "));
        let finding = Finding::advice(CHECK.page.code, done.place, message)
            .help("correct the record if it is a slip, else end the line with `because \"...\"`, or write the reason into the note of the row");
        findings.push(finding.about(name));
    }
}

/// A step that neither preparation nor what comes before rounds or between them has.
fn unplanned(study: &Study, done: &Done, verb: Verb) -> Option<Finding> {
    let between = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(&**step),
        Upkeep::None(_) => None,
    });
    let loose = study.specimens.iter().flat_map(|set| &set.prep);
    let mut steps = study
        .prep
        .iter()
        .chain(loose)
        .chain(&study.before_each_round)
        .chain(study.cycle_steps())
        .chain(between);
    let planned = steps.any(|step| match verb {
        Verb::Rinse => step.rinse,
        Verb::Wait => step.verb == verb || step.wait.is_some(),
        _ => step.verb == verb,
    });
    if planned || study.prep_broken || study.rounds_broken || study.prep.is_empty() {
        return None;
    }
    let message = format!("`{}` was done, and no step of the plan is that", verb.word());
    let finding = Finding::advice(CHECK.page.code, done.place, message)
        .help("add the step to `prep`, correct the record if it is a slip, or give the reason with `because` or in the note of the row");
    Some(finding.about("done").about("prep"))
}

fn too_many(study: &Study, done: &Done) -> Vec<String> {
    let DoneWhat::Coat(number, product) = &done.what else { return Vec::new() };
    let product = study.product(product.value);
    let planned = product.coats_number();
    if product.broken || product.is_unread("coats") || *number <= planned {
        return Vec::new();
    }
    vec![format!("{planned} planned")]
}

/// Later coats may rightly fall on later days, so only the first is held against the day of apply.
fn other_day(apply: &Apply, done: &Done, number: u32) -> Option<String> {
    let on = apply.on.as_ref()?.value;
    (number == 1 && done.date.value != on).then(|| format!("on {}, planned for {on}", done.date.value))
}

fn climate(asked: &ApplyClimate, done: &Done) -> Vec<String> {
    let mut departures = Vec::new();
    if let (Some(at), Some(air)) = (done.at, asked.air)
        && !(air.low.deg_c() - 1e-9..=air.high.deg_c() + 1e-9).contains(&at.deg_c())
    {
        departures.push(format!("at {at}, planned for {air}"));
    }
    if let (Some(at), Some(humidity)) = (done.humidity, asked.humidity) {
        let (low, high) = (humidity.low.any().base(), humidity.high.any().base());
        if !(low - 1e-9..=high + 1e-9).contains(&at.any().base()) {
            departures.push(format!("at {at}, planned for {humidity}"));
        }
    }
    if let (Some(surface), Some(below)) = (done.surface, asked.surface_below)
        && surface.deg_c() > below.deg_c() + 1e-9
    {
        departures.push(format!("surface {surface}, planned below {below}"));
    }
    departures
}
