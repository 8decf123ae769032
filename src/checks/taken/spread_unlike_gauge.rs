//! Readings that scatter far more or far less than the gauge is said to.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, two_digits};
use crate::readings::{Evidence, Suspect, outliers};
use crate::stats::anova::pooled_spread;
use crate::study::MeasureId;
use std::collections::BTreeMap;

/// How many times larger or smaller than declared is reported.
const FACTOR: f64 = 3.0;
/// Degrees of freedom from which the spread within cells is known well enough to be compared: with ten, chance
/// alone keeps its ratio to the true spread between about 0.5 and 1.5 in 98 of 100 studies.
const LEAST_DF: f64 = 10.0;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "spread-unlike-gauge",
        severity: Severity::Warning,
        what: "The spread of readings within sections and rounds, pooled, is more than three times the gauge's \
               declared spread, or less than a third of it. It is asked for from ten degrees of freedom on. Readings \
               that are told as far off are left out, unless half of the cells have one.",
        why: "Much more means that something besides the gauge varies: texture, curvature, grit, or the way it is \
              set down. Much less means that readings were rounded, copied, or taken without lifting the gauge.",
        mend: "Check how readings are taken: lift the gauge each time, keep the spot. If the declared spread is \
               wrong, determine it on the panel and write it under the gauge.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,88.1,90.2,91.0,89.3,90.2\n\
              2026-03-03,baseline,A2,gloss-20,GU,91.1,88.2,90.0,89.1,92.2\n\
              2026-03-03,baseline,A3,gloss-20,GU,90.1,87.2,91.0,90.3,88.2\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2\n\
               2026-03-03,baseline,A2,gloss-20,GU,90.4,90.2,90.3,90.1,90.2\n\
               2026-03-03,baseline,A3,gloss-20,GU,89.9,90.2,90.0,90.3,90.1\n",
        source: "ISO 5725-2:2019 on pooled repeatability; the factor 3 is common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (id, _) in context.study.measures_with_ids() {
        findings.extend(unlike(context, id));
    }
}

fn unlike(context: &Context<'_>, id: MeasureId) -> Option<Finding> {
    let study = context.study;
    let measure = Some(study.measure(id)).filter(|measure| !measure.broken)?;
    let gauges = study.gauges_of(id).filter_map(|gauge| Some((gauge.spread_in(&measure.unit)?, gauge)));
    let gauges: Vec<_> = gauges.collect();
    // With several gauges it is not known which of them read what.
    let &[(declared, gauge)] = gauges.as_slice() else { return None };
    let unlike = |groups: &[Vec<f64>]| {
        let spread = pooled_spread(groups).filter(|spread| spread.df >= LEAST_DF)?;
        let ratio = spread.sd / declared;
        (!(1.0 / FACTOR..=FACTOR).contains(&ratio)).then_some((spread, ratio))
    };
    let cells: Vec<usize> = context
        .readings
        .cells()
        .iter()
        .enumerate()
        .filter(|(_, cell)| cell.measure == id)
        .map(|(at, _)| at)
        .collect();
    unlike(&groups(context, &cells, &BTreeMap::new()))?;
    let (spread, ratio) = unlike(&groups(context, &cells, &far_off(context, &cells)))?;
    let (name, gauge_name, unit) = (&measure.name.value, &gauge.name.value, &measure.unit.behind());
    let more = if ratio > 1.0 { "more" } else { "less" };
    let message = format!(
        "readings of `{name}` within a section spread by {}{unit}, far {more} than the {}{unit} of `{gauge_name}`",
        two_digits(spread.sd),
        two_digits(declared)
    );
    let place = gauge.agreement.as_ref().map_or(gauge.name.span, |agreement| agreement.span);
    let help = if ratio > 1.0 {
        "look for grit, texture or curvature, and for a gauge that rocks; or state the spread found on this panel"
    } else {
        "lift the gauge between readings and write every digit it shows; or state the spread found on this panel"
    };
    Some(Finding::warning(CHECK.page.code, place, message).help(help).about(gauge_name).about(name))
}

/// The readings of each cell, without those that are far off.
fn groups(context: &Context<'_>, cells: &[usize], far_off: &BTreeMap<usize, Suspect>) -> Vec<Vec<f64>> {
    let values = |at: &usize| {
        let mut values =
            context.readings.cells().get(*at).map_or(Vec::new(), |cell| context.readings.values(cell));
        match far_off.get(at) {
            Some(Suspect::One(far)) => {
                let at = values.iter().position(|value| value.total_cmp(far).is_eq());
                at.map(|at| values.remove(at));
            }
            // Nothing tells which of them is wrong.
            Some(Suspect::Pair(..) | Suspect::Ends(..)) => values.clear(),
            None => {}
        }
        values
    };
    cells.iter().map(values).collect()
}

/// What is told as far off: one slip of the pen is not the spread. Where half of the cells have such a reading, it is.
fn far_off(context: &Context<'_>, cells: &[usize]) -> BTreeMap<usize, Suspect> {
    let marks = outliers(context.study, context.readings).marks;
    let found = marks
        .iter()
        .filter(|mark| mark.evidence == Evidence::Finding && cells.binary_search(&mark.cell).is_ok());
    let far_off: BTreeMap<usize, Suspect> = found.map(|mark| (mark.cell, mark.suspect)).collect();
    if 2 * far_off.len() < cells.len() { far_off } else { BTreeMap::new() }
}
