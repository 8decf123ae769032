//! One pad for two abrasives.

use super::steps::{folded, is_abrasive, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "same-pad-for-two",
        severity: Severity::Warning,
        what: "Two abrasives are worked with the same pad or sheet.",
        why: "Grains of the coarse abrasive stay in the pad and scratch while the fine one is worked, on some sections more than on others.",
        mend: "Name a pad of its own for each abrasive in `tool`.",
        bad: "supply level, a compound
    sheet       \"level-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with level  tool \"12 mm throw, foam pad\"
    polish      with smooth-out  tool \"12 mm throw, foam pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
measure film in um
    neither is better
",
        good: "supply level, a compound
    sheet       \"level-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with level  tool \"12 mm throw, wool pad\"
    polish      with smooth-out  tool \"12 mm throw, foam pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
measure film in um
    neither is better
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let steps: Vec<&Step> = prep(context).iter().filter(|step| is_abrasive(step)).collect();
    for (at, step) in steps.iter().enumerate() {
        let (Some(tool), Some(own)) = (step.tool.as_deref(), step.with.as_ref()) else { continue };
        let same = |earlier: &&&Step| {
            let other = earlier.with.as_ref().is_some_and(|with| with.value != own.value);
            other && earlier.tool.as_deref().is_some_and(|known| folded(known) == folded(tool))
        };
        let Some(earlier) = steps[..at].iter().find(same) else { continue };
        let message = format!("`{tool}` is used for two abrasives");
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .related(earlier.span, format!("for the `{}` as well", earlier.verb.word()))
                .help(format!("name another pad in `tool` of the `{}`", step.verb.word()))
                .about("prep"),
        );
    }
}
