//! A film that is read once a place.

use super::film::is_film;
use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-read-once-a-place",
        severity: Severity::Advice,
        what: "The film is read at several places, fewer than three times at each.",
        why: "A grain of dust or a tilted probe is then a thin or thick place. The mean of three within a hand's breadth is not misled by one.",
        mend: "Write `3 times`: `read film at 9 places, 3 times`.",
        bad: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "SSPC-PA 2: a spot is the mean of at least 3 readings",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for step in prep(context).iter().filter(|step| is_film(context, step) && step.times < 3 && !step.broken) {
        let message =
            format!("each place is read {}, and a place is the mean of 3 readings", told(step.times));
        findings.push(
            Finding::advice(CHECK.page.code, step.span, message)
                .help("add `3 times` to the `read`")
                .about("prep"),
        );
    }
}

fn told(times: u32) -> &'static str {
    if times == 1 { "once" } else { "twice" }
}
