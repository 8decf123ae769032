//! A coat that went on too near the dew point.

use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};
use crate::study::{Done, DoneWhat, ProductId, SectionId, Study, Treatment};
use crate::units::{Quantity, TemperatureStep, decimal};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "surface-near-dew-point",
        severity: Severity::Warning,
        what: "By its record a coat went on a surface that was nearer to the dew point of the air than is asked for.",
        why: "Water forms on such a surface before anybody sees it, under the coat. The coat lifts or blushes later.",
        mend: "Correct the record if it is a slip; else log it, and judge these sections with that in mind.",
        bad: "done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 80 % humidity  surface 16 degC
",
        good: "done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 51 % humidity  surface 18 degC
",
        source: "dew point by the Magnus formula with the constants of Sonntag (1990); margin commonly used with ISO 8502-4 and ISO 12944-7",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let habit = context.catalog.climate().map(|rule| rule.margin_deg_c);
    for done in &study.done {
        let DoneWhat::Coat(number, product) = &done.what else { continue };
        let asked = study.climate_for(product.value).above_dew_point;
        let Some(least) = asked.map(Quantity::<TemperatureStep>::kelvin).or(habit) else { continue };
        let Some(margin) = done.above_dew_point_deg_c().filter(|margin| *margin < least - 1e-9) else {
            continue;
        };
        let name = &study.product(product.value).name.value;
        let asked = asked.map_or_else(|| format!("{} degC", decimal(least)), |step| step.to_string());
        let how = decimal((margin.abs() * 10.0).round() / 10.0);
        let where_from_dew = if margin > 0.0 {
            format!("{how} degC above the dew point, and {asked} are asked for")
        } else {
            format!("{how} degC below the dew point: the surface was wet, and {asked} above it are asked for")
        };
        let message = format!("coat {number} of `{name}` went on {where_from_dew}");
        findings.push(
            Finding::warning(CHECK.page.code, done.place, message)
                .label(sections(study, done, product.value))
                .help("correct the record if it is a slip, else `log` it for these sections")
                .about(name),
        );
    }
}

fn sections(study: &Study, done: &Done, product: ProductId) -> String {
    let own = study.sections_of(Treatment::Product(product)).map(|(id, _)| id);
    let ids: Vec<SectionId> = if done.sections.is_empty() { own.collect() } else { done.sections.clone() };
    let codes: Vec<&str> = ids.into_iter().map(|id| study.section(id).code.as_str()).collect();
    format!("on {}", list(&codes, "and"))
}
