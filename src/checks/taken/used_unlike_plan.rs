//! Amounts on record that lie far from what the plan takes.

use super::records::{about, coat, named, steps, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Done, Mix, SectionId, Step, Study, Supply};
use crate::text::Span;
use crate::units::{AnyQuantity, Dimension, decimal};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "used-unlike-plan",
        severity: Severity::Warning,
        what: "The record says that more than three times of what was planned was used, or less than a third. What is planned \
               follows from `uses` and the area; of a mix that is made for a step, the batch and the stock in it count as well.",
        why: "A point in the wrong place, as 14 for 1.4, is the commonest slip of a record, and the report prints it.",
        mend: "Correct the amount or its unit. If it was so, leave it and say in a waiver what happened: a coat three times as \
               thick is another coat.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    uses        20 ml per m2\n    \
              sheet       \"bay-sheet.pdf\" dated 2025-10-01\ndone 2026-03-03 10:00  coat 1 of bay  on A1  used 4 ml\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    uses        20 ml per m2\n    \
               sheet       \"bay-sheet.pdf\" dated 2025-10-01\ndone 2026-03-03 10:00  coat 1 of bay  on A1  used 0.4 ml\n",
        source: "common practice, no source",
    },
    run,
};

/// How far from the plan is asked about.
const TIMES: f64 = 3.0;

/// What is planned, in ml or g.
struct Planned {
    low: f64,
    high: f64,
    /// What goes on the surface, for the message.
    on: f64,
    by_mass: bool,
    /// Of the stock, g per ml; `None` where it is not stated.
    density: Option<AnyQuantity>,
    span: Span,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let of_steps = steps(study).into_iter();
    let of_steps = of_steps.filter_map(|(done, step)| Some((done, of_step(study, done, step)?)));
    let of_coats = study.done.iter().filter_map(|done| Some((done, of_coat(study, done)?)));
    findings.extend(of_steps.chain(of_coats).filter_map(|(done, planned)| finding(study, done, &planned)));
}

fn of_coat(study: &Study, done: &Done) -> Option<Planned> {
    let (number, id) = coat(done)?;
    let product = study.product(id);
    let coat = product.coat(number);
    let uses = coat.uses.filter(|_| !product.broken)?;
    let on = uses.base() * area_m2(study, &study.reach_of(done, None))?;
    let by_mass = uses.unit.dimension == Dimension::MassPerArea;
    Some(Planned { low: on, high: on, on, by_mass, density: product.density, span: coat.span })
}

fn of_step(study: &Study, done: &Done, step: &Step) -> Option<Planned> {
    let supply = study.supply(supply(study, step)?);
    let uses = supply.uses?;
    let whole = done.sections.is_empty() && done.set.is_none() && study.done_on(step).is_none();
    let panel = study.surface.outline.as_ref().filter(|_| whole).map(|outline| outline.value.area_m2());
    let area_m2 = panel.or_else(|| area_m2(study, &study.reach_of(done, Some(step))))?;
    let on = uses.base() * area_m2 * f64::from(step.times);
    let share = share(supply, step);
    let by_mass = uses.unit.dimension == Dimension::MassPerArea;
    // What is written down may be the stock that was measured out, or the batch, which holds 1 ml of stock at least.
    let (low, high) = (on * share, on.max(1.0 / share));
    Some(Planned { low, high, on, by_mass, density: supply.density, span: supply.name.span })
}

/// The part of a mix that is stock; 1 where it cannot be told.
fn share(supply: &Supply, step: &Step) -> f64 {
    let mix = step.mix.as_ref().or(supply.mix.as_ref()).map(|mix| &mix.value);
    let share = match mix {
        Some(Mix::Parts { of, to, .. }) => of / (of + to),
        Some(Mix::Percent(target)) => supply.strength.map_or(1.0, |stock| target.value / stock.value),
        Some(Mix::Neat) | None => 1.0,
    };
    if share > 0.0 && share < 1.0 { share } else { 1.0 }
}

fn area_m2(study: &Study, sections: &[SectionId]) -> Option<f64> {
    let areas = sections.iter().map(|&id| study.area_m2(study.section(id)));
    areas.sum::<Option<f64>>().filter(|area| *area > 0.0)
}

fn finding(study: &Study, done: &Done, planned: &Planned) -> Option<Finding> {
    let used = done.used?;
    let by_mass = used.unit.dimension == Dimension::Mass;
    let amount = match (by_mass, planned.by_mass) {
        (true, false) => used.base() / planned.density?.base(),
        (false, true) => used.base() * planned.density?.base(),
        _ => used.base(),
    };
    let word = if amount > planned.high * TIMES {
        "more than three times"
    } else if amount < planned.low / TIMES {
        "less than a third of"
    } else {
        return None;
    };
    let unit = if planned.by_mass { "g" } else { "ml" };
    let message = format!(
        "{} used {used}, {word} what the plan takes there, {} {unit}",
        named(study, done),
        decimal(rounded(planned.on))
    );
    let finding = Finding::warning(CHECK.page.code, done.place, message)
        .related(planned.span, "the plan")
        .help("correct the amount or its unit if it is a slip, else say in a waiver what happened");
    Some(about(study, finding, done))
}

/// Three digits that count.
fn rounded(value: f64) -> f64 {
    if value <= 0.0 {
        return value;
    }
    let scale = 10f64.powf(2.0 - value.log10().floor());
    (value * scale).round() / scale
}
