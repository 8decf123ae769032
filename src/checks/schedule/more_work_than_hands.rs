//! Windows that one pair of hands cannot keep, in whatever order the products go on.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count, list};
use crate::hands::{Act, Pace, Work, faster, missed};
use crate::study::{DoneWhat, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "more-work-than-hands",
        severity: Severity::Warning,
        what: "By the pace that `apply` states no order of the products lets one pair of hands keep the window of a coat, of its wiping \
               off or of the tape. As advice where no pace is stated and the usual one is counted with.",
        why: "A window that is missed on some sections and kept on others is a treatment of its own, and nobody sees it in the readings.",
        mend: "State your own pace if it is faster, take fewer sections, or a longer range of the data sheet. With help, or days longer \
               than 10 h, `allow` it with the reason: what is counted is one pair of hands.",
        bad: "apply\n    on          2026-03-03 from 09:00\n    pace        lay on 90 s,  wipe off 1 min\n\
              product bay \"Bay seal\", a spray sealant\n    flash 1 min\n    bought 20.00 EUR for 500 ml\n    sheet \"bay-sheet.pdf\"\n",
        good: "apply\n    on          2026-03-03 from 09:00\n    pace        lay on 90 s,  wipe off 1 min\n\
               product bay \"Bay seal\", a spray sealant\n    flash 5 to 10 min\n    bought 20.00 EUR for 500 ml\n    sheet \"bay-sheet.pdf\"\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(apply) = study.apply.as_ref().filter(|apply| apply.stated && !apply.broken) else { return };
    // What was laid on had the hands that it had.
    let is_coated = study.done.iter().any(|done| matches!(done.what, DoneWhat::Coat(..)));
    if is_coated || study.map_broken || study.products.iter().any(|product| product.broken) {
        return;
    }
    let missed = missed(study);
    let Some(first) = missed.first() else { return };
    let (product, work) = (first.product.map(|id| study.product(id).name.value.as_str()), work(first));
    let others = match missed.len() - 1 {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    let message = format!(
        "one pair of hands cannot {work} coat {} of `{}` on {} within its window{others}",
        first.coat,
        product.unwrap_or("carrier-only"),
        codes(study, first)
    );
    let stated = apply.pace != crate::study::Pace::default();
    let severity = if stated { Severity::Warning } else { Severity::Advice };
    let helped = "with help, or longer days, write `allow more-work-than-hands for apply because \"two pairs of hands\"`";
    let help = match faster(study) {
        Some(pace) => {
            format!("where your hands are as fast, write `{}` under `apply`; {helped}", words(&pace))
        }
        None => format!("no pace mends this; {helped}, or take fewer sections"),
    };
    let finding = Finding::new(CHECK.page.code, severity, apply.span, message).help(help).about("apply");
    findings.push(product.into_iter().fold(finding, Finding::about));
}

/// A pace as the study says it.
fn words(pace: &Pace) -> String {
    let Pace { lay_on, wipe_off, pull, between, change, .. } = pace;
    format!(
        "pace lay on {lay_on} s, wipe off {wipe_off} s, between {between} s, pull tape {pull} s, change {change} s"
    )
}

fn work(act: &Act) -> &'static str {
    match act.work {
        Work::LayOn | Work::Between => "lay on",
        Work::LayAndWipe => "lay on and wipe off",
        Work::WipeOff => "wipe off",
        Work::PullTape => "pull the tape after",
    }
}

fn codes(study: &Study, act: &Act) -> String {
    let codes: Vec<String> = act.sections.iter().map(|&id| format!("`{}`", study.section(id).code)).collect();
    if codes.len() > 6 { count(codes.len(), "section") } else { list(&codes, "and") }
}
