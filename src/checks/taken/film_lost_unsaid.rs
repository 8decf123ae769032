//! Film that is gone between two readings, and of which the preparation says nothing.

use crate::checks::prep::film::FILM;
use crate::checks::prep::steps::is_abrasive;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::readings::{Apart, ApartCell};
use crate::stats::{distributions, summary};
use crate::study::{MeasureId, Step};
use crate::units::decimal;
use std::collections::BTreeMap;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-lost-unsaid",
        severity: Severity::Warning,
        what: "Places of the panel lost film between two readings of the preparation, and no step between them takes film off, or those that do take less.",
        why: "Either something was cut that the study does not say, or the gauge or its places moved. What the products lie on is then not what the report says.",
        mend: "Write the step that took it off between the two `read` steps. If there was none, zero the gauge on its shims and read both places again.",
        bad: "measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 3 places
    read        film at 3 places
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
--- date 2026-03-04
--- readings.csv
date,round,section,measure,unit,1,2,3
2026-03-02,prep 1,panel,film,um,118,121,116
2026-03-02,prep 2,panel,film,um,113,115,111
2026-03-03,baseline,A1,gloss-20,GU,90,90,90
",
        good: "measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 3 places
    polish      with smooth-out  tool \"foam pad\"
    read        film at 3 places
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
--- date 2026-03-04
--- readings.csv
date,round,section,measure,unit,1,2,3
2026-03-02,prep 1,panel,film,um,118,121,116
2026-03-02,prep 2,panel,film,um,117,120,116
2026-03-03,baseline,A1,gloss-20,GU,90,90,90
",
        source: "common practice, no source; the interval: Student's t on the differences of places",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.prep_broken {
        return;
    }
    let reads: Vec<(usize, MeasureId)> = study
        .prep
        .iter()
        .enumerate()
        .filter_map(|(at, step)| Some((at, step.measure.as_ref()?.value)))
        .collect();
    for (first, &(from, measure)) in reads.iter().enumerate() {
        let own = study.measure(measure);
        if own.name.value != FILM || own.unit.symbol != "um" {
            continue;
        }
        let Some((second, &(to, _))) =
            reads.iter().enumerate().skip(first + 1).find(|(_, (_, other))| *other == measure)
        else {
            continue;
        };
        let between = &study.prep[from + 1..to];
        findings.extend(lost(context, measure, (first, second), between));
    }
}

// Beyond what scatter of the places explains, the fall is larger than the steps between usually take at most.
fn lost(
    context: &Context<'_>,
    measure: MeasureId,
    (first, second): (usize, usize),
    between: &[Step],
) -> Option<Finding> {
    let (before, after) = (places(context, measure, first)?, places(context, measure, second)?);
    let losses: Vec<f64> =
        before.iter().filter_map(|(place, before)| Some(before - after.get(place)?)).collect();
    let (mean, error) = (summary::mean(&losses)?, summary::standard_error(&losses)?);
    let df = f64::from(u32::try_from(losses.len()).ok()?) - 1.0;
    let half = if error > 0.0 { distributions::t_quantile(0.975, df)? * error } else { 0.0 };
    // A gauge that reads the same everywhere still has its own error in each mean.
    let own = context.study.gauge_spread(measure).unwrap_or(0.0) * (2.0 / (df + 1.0)).sqrt() * 1.96;
    let half = half.max(own);
    let most: f64 = between.iter().map(|step| most_taken(context, step)).sum();
    if mean - half <= most {
        return None;
    }
    let um = |value: f64| decimal((value * 10.0).round() / 10.0);
    let cuts: Vec<&str> =
        between.iter().filter(|step| is_abrasive(step)).map(|step| step.verb.word()).collect();
    let said = if cuts.is_empty() {
        "no step between them takes film off".to_owned()
    } else {
        format!(
            "the {} between them usually takes {} um off at most",
            crate::diag::list(&cuts, "and"),
            um(most)
        )
    };
    let message = format!(
        "from `prep {}` to `prep {}` {} lost {} um of film (from {} to {}), and {said}",
        first + 1,
        second + 1,
        count(losses.len(), "place"),
        um(mean),
        um(mean - half),
        um(mean + half)
    );
    let span = context.study.prep.iter().filter(|step| step.measure.is_some()).nth(second)?.span;
    Some(
        Finding::warning(CHECK.page.code, span, message)
            .help("write the step that took it off between the two, or check the gauge and read the places again")
            .about("prep")
            .about(FILM),
    )
}

fn most_taken(context: &Context<'_>, step: &Step) -> f64 {
    let supply = step.with.as_ref().map(|with| context.study.supply(with.value));
    let class = supply.and_then(|supply| supply.kind.as_ref()).and_then(|kind| kind.class);
    let grit = step.grit.as_ref().map(|grit| grit.value);
    let cut = context.catalog.cut(step.verb.word(), class, grit);
    match cut {
        Some(cut) => cut.most_um * f64::from(step.times),
        // A cut of which the trade has no figure may take anything.
        None if is_abrasive(step) => f64::INFINITY,
        None => 0.0,
    }
}

/// The mean of each place at a step, by its number.
fn places(context: &Context<'_>, measure: MeasureId, step: usize) -> Option<BTreeMap<u32, f64>> {
    let own = |apart: &&ApartCell| apart.at == Apart::Prep(step) && apart.measure() == measure;
    let mut all: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    for apart in context.readings.apart().iter().filter(own) {
        for reading in context.readings.of_apart(apart) {
            if let Some(value) = reading.value.number() {
                all.entry(reading.number).or_default().push(value);
            }
        }
    }
    let means: BTreeMap<u32, f64> =
        all.into_iter().filter_map(|(place, values)| Some((place, summary::mean(&values)?))).collect();
    (!means.is_empty()).then_some(means)
}
