//! A layout that cannot tell the declared limits apart, even if sections scattered no more than the gauge.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count, two_digits};
use crate::planning::{Room, fewest_readings, fewest_told, least_p, least_scatter};
use crate::study::{Measure, MeasureId, MeasureKind, Study};
use crate::text::Span;
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "plan-too-weak",
        severity: Severity::Warning,
        what: "The smallest difference to bare that this layout tells apart is larger than a limit of the measure. \
               It is told apart in four of five such studies, by a two-sided test at a simultaneous 5 %. \
               It is given in spreads of a section's change, and in the measure's unit for the least spread that a \
               change can have, which the gauge alone gives to its readings at both rounds. Real sections \
               scatter more, so the true figure is larger. Above `seen` it is a warning, above `alike` advice. \
               Where the gauge or the limits say nothing, more than 4 spreads are told, and marks that can reach no p below 5 %.",
        why: "A study that cannot tell apart what an eye sees ends with \"not settled\", whatever the products do.",
        mend: "Add bare sections first, then sections per product; then readings per section or a gauge that \
               repeats better. Or take fewer products.",
        bad: "gauge glossy\n    reads       gloss-20\n    two readings agree within 4 GU\n    \
              certified   2026-02-01 for 12 months\n\
              map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
              | bay    bare   clove  cumin  |\n    | bare   .      .      .      |\n",
        good: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
               certified   2026-02-01 for 12 months\n",
        source: "Dunnett (1955), Journal of the American Statistical Association 50, 1096-1121; two-sided, \
                 simultaneous 5 %, 80 % power by the noncentral t",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.rounds_broken {
        return;
    }
    let decides = study.decide.as_ref().and_then(|decide| decide.measure);
    let mut told = false;
    for (id, measure) in study.judged_measures() {
        // Where one measure decides, the layout is made for that one.
        if !measure.broken && decides.is_none_or(|decides| decides == id) {
            let finding = weak(study, id, measure);
            told |= finding.is_some();
            findings.extend(finding);
        }
    }
    if let Some(id) = decides.filter(|&id| !told && !study.measure(id).broken) {
        findings.extend(wide(study, id, study.measure(id)));
    }
}

/// Where a product lies so many section spreads from bare, 95 of 100 of its sections and of bare ones lie apart: the two bell curves
/// overlap by 4.6 %. A layout that misses this tells less than the eye does.
const WIDE: f64 = 4.0;

/// A layout that is weak whatever the gauge and the limits are; with one section to a product another finding says so.
fn wide(study: &Study, id: MeasureId, measure: &Measure) -> Option<Finding> {
    let room = Room::of(study, id).filter(|room| room.bare > 0 && room.fewest().is_some_and(|n| n > 1))?;
    let name = &measure.name.value;
    let finding = |severity, message: String, help: &str| {
        let finding =
            Finding::new(CHECK.page.code, severity, measure.name.span, message).label(layout(&room));
        finding.help(help).about(name).about("map").about("study")
    };
    if let MeasureKind::Rating(_) = measure.kind {
        let least = least_p(&room).filter(|&p| p >= 0.05)?;
        let which = match fewest_told(&room) {
            Some((fewest, _)) => format!("a product with fewer than {}", count(fewest, "section")),
            None => "any product".to_owned(),
        };
        let message = format!(
            "marks of `{name}` cannot tell {which} apart from bare, however far apart: the smallest p that {} can reach for all rows \
             together is {}",
            count(room.fewest().unwrap_or(0), "section"),
            two_digits(least)
        );
        return Some(finding(
            Severity::Warning,
            message,
            "add sections of each and bare ones; `tapeline plan` says how many",
        ));
    }
    if room.surely_tells_apart(WIDE) {
        return None;
    }
    let spreads = room.smallest().filter(|&spreads| spreads > WIDE)?;
    let message = format!(
        "this layout tells `{name}` apart from bare only by {} section spreads or more (two-sided, simultaneous 5 %, 80 % power)",
        two_digits(spreads)
    );
    Some(finding(
        Severity::Advice,
        message,
        "add bare sections first, then sections per product; `tapeline plan` says what each buys",
    ))
}

fn weak(study: &Study, id: MeasureId, measure: &Measure) -> Option<Finding> {
    let room = Room::of(study, id)?;
    let spread = least_spread(study, id)?;
    let limits = [&measure.seen, &measure.alike].into_iter().flatten().map(|limit| limit.value);
    let nearest = limits.filter(|&limit| limit > 0.0).min_by(f64::total_cmp)?;
    if room.surely_tells_apart(nearest / spread) {
        return None;
    }
    let spreads = room.smallest()?;
    let least = spreads * spread;
    let (severity, limit, place) = crossed(measure, least)?;
    let (name, unit) = (&measure.name.value, &measure.unit.symbol);
    let message = format!(
        "this layout tells `{name}` apart from bare by about {} section spreads (two-sided, simultaneous 5 %, 80 % \
         power); if sections scatter no more than the gauge, which is the least, that is {} {unit}, and {limit}",
        two_digits(spreads),
        two_digits(least)
    );
    let mut finding = Finding::new(CHECK.page.code, severity, place, message).label(layout(&room));
    if let Some(more) = room.with_bare(2).smallest() {
        finding = finding.help(format!(
            "with two more bare sections it is about {} section spreads, at least {} {unit}",
            two_digits(more),
            two_digits(more * spread)
        ));
    }
    Some(finding.about(name).about("map").about("study"))
}

/// The spread that the gauge alone gives the change of a section.
fn least_spread(study: &Study, id: MeasureId) -> Option<f64> {
    Some(least_scatter(study, id)?.of_section(fewest_readings(study, id)?))
}

fn crossed(measure: &Measure, least: f64) -> Option<(Severity, String, Span)> {
    let unit = &measure.unit.symbol;
    let over = |limit: f64| limit > 0.0 && least > limit;
    match (&measure.seen, &measure.alike) {
        (Some(seen), _) if over(seen.value) => {
            Some((Severity::Warning, format!("an eye sees {} {unit}", decimal(seen.value)), seen.span))
        }
        (_, Some(alike)) if over(alike.value) => {
            Some((Severity::Advice, format!("`alike` ends at {} {unit}", decimal(alike.value)), alike.span))
        }
        _ => None,
    }
}

fn layout(room: &Room) -> String {
    let fewest = room.fewest().unwrap_or(0);
    let products = count(room.products.len(), "product");
    format!("{products}, the smallest on {}, and {} bare", count(fewest, "section"), room.bare)
}
