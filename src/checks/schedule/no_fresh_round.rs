//! No reading of the products as they are when they have cured.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Limit, Measure, Reference, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-fresh-round",
        severity: Severity::Warning,
        what: "A measure counts its change from `fresh`, or is spent below a share of `fresh`, and no round of \
               that name reads it. As advice: products cure and no round reads them fresh.",
        why: "What a product added when it was new and what it lost since are two answers. Without a reading \
              of the cured film they cannot be told apart.",
        mend: "Add a round `fresh` after the slowest product has cured: `fresh  8 days after apply`.",
        bad: "rounds\n    baseline    after wipe\n    month 3     within 3 days\n    every round gloss-20 5 times\n\
              measure gloss-20 in GU\n    higher is better\n    change from fresh\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.rounds_broken || study.rounds.is_empty() {
        return;
    }
    let place = study.rounds_span.unwrap_or_default();
    let lacking = lacking(study);
    let (severity, message) = if !lacking.is_empty() {
        let names = list(&lacking, "and");
        (Severity::Warning, format!("no round `fresh` reads {names}, whose change or limit counts from it"))
    } else if study.round_named("fresh").is_none() && !when::cures(study).is_empty() {
        (Severity::Advice, String::from("products cure, and no round `fresh` reads them when they have"))
    } else {
        return;
    };
    let mut finding = Finding::new(CHECK.page.code, severity, place, message).about("rounds").about("fresh");
    if study.round_named("fresh").is_some() {
        let add: Vec<String> =
            lacking.iter().map(|name| name.trim_matches('`').to_owned() + " once").collect();
        finding = finding.help(format!("add to the line of `fresh`: `{}`", add.join(", ")));
    } else if let Some(over) = when::cures(study).iter().map(|wait| wait.over.date()).max() {
        finding = finding.help(format!("add a round `fresh` on {over} or later, when all have cured"));
    } else {
        finding = finding.help("add a round, as `fresh  8 days after apply`");
    }
    findings.push(lacking.iter().fold(finding, |finding, name| finding.about(name.trim_matches('`'))));
}

fn lacking(study: &Study) -> Vec<String> {
    let fresh = study.round_named("fresh");
    let read = |id| study.rounds_with_ids().any(|(round, _)| study.planned_readings(round, id) > 0);
    study
        .judged_measures()
        .filter(|(id, measure)| !measure.broken && needs_fresh(measure) && read(*id))
        .filter(|(id, _)| fresh.is_none_or(|fresh| study.planned_readings(fresh, *id) == 0))
        .map(|(_, measure)| format!("`{}`", measure.name.value))
        .collect()
}

fn needs_fresh(measure: &Measure) -> bool {
    let limit = measure.spent.map(|spent| spent.limit);
    measure.change_from == Reference::Fresh || matches!(limit, Some(Limit::PercentOf(_, Reference::Fresh)))
}
