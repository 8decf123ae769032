//! Cuts that may take more film than there is to give.

use super::film::{Budget, um};
use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-budget",
        severity: Severity::Warning,
        what: "What the planned cuts usually take off may bring the film below the least that is to be left. It is an error where even the least usual amount does.",
        why: "A clear coat that is cut too thin fails in the sun within a year or two, and the test is then one of the cut. It is found before the cut is made, since nothing brings film back.",
        mend: "Take a cut out or a finer abrasive, test it on a spot with film readings before and after, or read the film and set `leave at least`.",
        bad: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        94 to 120 um
    leave       at least 90 um
measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  twice  tool \"foam pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        105 to 120 um
    leave       at least 90 um
measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  twice  tool \"foam pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let Some(budget) = Budget::of(context) else { return };
    // A limit above the film itself is told as that.
    if budget.left_at_worst() >= budget.leave_um - 1e-9 || budget.is_overdrawn() {
        return;
    }
    let steps = prep(context);
    let Some(first) = budget.cuts.first().and_then(|cut| steps.get(cut.step)) else { return };
    let sure = budget.left_at_least_cut() < budget.leave_um - 1e-9;
    let severity = if sure { Severity::Error } else { Severity::Warning };
    let message = format!(
        "{} of film less {} may end at {}, below the {} to leave",
        budget.begun_words(),
        budget.taken(),
        um(budget.left_at_worst()),
        um(budget.leave_um)
    );
    let mut finding = Finding::new(CHECK.page.code, severity, first.span, message)
        .label(budget.concerned.clone())
        .help("take a `compound` out, use a finer abrasive, or try one section first with `read film` before and after")
        .about("prep");
    if budget.leave_is_habit {
        finding = finding.help(format!(
            "the limit is the {} that trade practice takes at most; `leave at least` under `surface` sets your own",
            um(budget.habit_um)
        ));
    }
    findings.push(finding);
}
