//! Coats that the record puts on a section which the map gives to something else.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Done, DoneWhat, SectionId, Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "coat-on-wrong-section",
        severity: Severity::Warning,
        what: "A `done` line puts a coat of a product on a section that the map leaves bare or gives to another \
               product.",
        why: "If the record is right, the section carries something else than its readings are counted for, and \
              every comparison with it is wrong.",
        mend: "Correct the section or the product of the line. If it was coated so, draw the map as it was coated, \
               or end the section in the log.",
        bad: "done 2026-03-03 10:20  coat 1 of bay  on A3\n",
        good: "done 2026-03-03 10:20  coat 1 of bay  on A1\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    if !context.study.map_broken {
        findings.extend(
            context
                .study
                .done
                .iter()
                .filter_map(|done| done.sections.iter().find_map(|&on| wrong(context.study, done, on))),
        );
    }
}

fn wrong(study: &Study, done: &Done, on: SectionId) -> Option<Finding> {
    let DoneWhat::Coat(number, product) = &done.what else { return None };
    let section = study.section(on);
    let carries = match section.treatment {
        Treatment::Unknown | Treatment::Open => return None,
        Treatment::Product(id) if id == product.value => return None,
        Treatment::Product(id) => format!("carries `{}`", study.product(id).name.value),
        other => format!("is {}", study.treatment_name(other)),
    };
    let (code, name) = (&section.code, &study.product(product.value).name.value);
    let message = format!("coat {number} of `{name}` is recorded on `{code}`, which {carries}");
    let own = study.carriers_of(Treatment::Product(product.value));
    let own: Vec<&str> = own.map(|(_, section)| section.code.as_str()).take(12).collect();
    let finding = Finding::warning(CHECK.page.code, done.place, message).related(section.span, "on the map");
    let finding = if own.is_empty() {
        finding.help("correct the product or the section, or draw the map as it was coated")
    } else {
        finding.help(format!(
            "`{name}` stands on {}; correct the line, or draw the map as it was coated",
            list(&own, "and")
        ))
    };
    Some(finding.about(code).about(name))
}
