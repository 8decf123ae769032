//! A later coat that was put on sooner or later than its window allows.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{CoatGap, Done, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "second-coat-outside-window",
        severity: Severity::Warning,
        what: "The record says that a coat went on sooner after the one before, or later, than `coats` allows. \
               One time alone, as `after 12 h`, is the shortest; only a range has an end. \
               Where an hour is missing, only a gap that is surely outside is reported.",
        why: "A coat on a film that is too soft lifts it, and a coat on a film that is too hard does not bond. \
              What is then read is the slip, not the product.",
        mend: "If the record is wrong, correct it. If it is right, leave it: say what happened in a waiver, or \
               give the section up.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
              coats       2   after 1 to 3 h\n    sheet       \"bay-sheet.pdf\"\n\
              done 2026-03-03 10:00  coat 1 of bay\ndone 2026-03-03 15:00  coat 2 of bay\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               coats       2   after 1 to 3 h\n    sheet       \"bay-sheet.pdf\"\n\
               done 2026-03-03 10:00  coat 1 of bay\ndone 2026-03-03 12:00  coat 2 of bay\n",
        source: "common practice, no source; the window is that of the product's own sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    findings.extend(study.done.iter().filter_map(|done| {
        let gap = || study.coat_gap(done).map(|gap| outside(study, &gap));
        let (message, earlier) = turned_round(context, done).or_else(gap)?;
        let (_, id) = done.coat()?;
        let finding = Finding::warning(CHECK.page.code, done.place, message)
            .related(earlier.place, "the coat before")
            .help("correct the record, or say in a waiver what happened")
            .about(&study.product(id).name.value);
        let codes = done.sections.iter().map(|&section| study.section(section).code.clone());
        Some(codes.fold(finding, Finding::about))
    }));
}

/// A coat that the record has before the one that it goes on.
fn turned_round<'s>(context: &Context<'s>, done: &Done) -> Option<(String, &'s Done)> {
    let study = context.study;
    let (number, id) = done.coat()?;
    let earlier = study.coat_before(done)?;
    let product = study.product(id);
    let has_window = product.coat(number).after.is_some() && !product.broken;
    if !has_window || done.latest() >= earlier.earliest() {
        return None;
    }
    // A day that has not come yet is a slip that is said by itself.
    if context.today.is_some_and(|today| earlier.date.value > today) {
        return None;
    }
    let message = format!(
        "coat {number} of `{}` is recorded on {}, before coat {} on {}",
        product.name.value,
        done.moment(),
        number - 1,
        earlier.moment()
    );
    Some((message, earlier))
}

fn outside<'s>(study: &Study, gap: &CoatGap<'s>) -> (String, &'s Done) {
    let bound = match (gap.exact, gap.late) {
        (true, _) => "",
        (false, true) => "at least ",
        (false, false) => "at most ",
    };
    let message = format!(
        "coat {} of `{}` went on {bound}{} after coat {}, too {}: its window is {}",
        gap.number,
        study.product(gap.product).name.value,
        gap.hours(),
        gap.number - 1,
        if gap.late { "late" } else { "soon" },
        gap.window
    );
    (message, gap.before)
}
