//! Readings of the preparation that were planned and never taken.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::Apart;
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "prep-reading-missed",
        severity: Severity::Warning,
        what: "A `read` step of the preparation has no readings, and the work went on.",
        why: "What the panel was before a step cannot be read after it: how much film a cut took off, or how wet the wood was, is then never known.",
        mend: "Type its readings in, as section `panel` of the round that the finding names. If nobody took them, say so in a waiver.",
        bad: "measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 3 places
    polish      with smooth-out  tool \"foam pad\"
    read        film at 3 places
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
--- date 2026-03-04
--- readings.csv
date,round,section,measure,unit,1,2,3
2026-03-02,prep 2,panel,film,um,117,120,116
2026-03-03,baseline,A1,gloss-20,GU,90,90,90
",
        good: "measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 3 places
    polish      with smooth-out  tool \"foam pad\"
    read        film at 3 places
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
--- date 2026-03-04
--- readings.csv
date,round,section,measure,unit,1,2,3
2026-03-02,prep 1,panel,film,um,118,121,116
2026-03-02,prep 2,panel,film,um,117,120,116
2026-03-03,baseline,A1,gloss-20,GU,90,90,90
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let present = readings.files.iter().any(|state| state.file.is_some());
    // Rows that could not be placed may be these readings; what is wrong with them is said.
    let refused = readings.files.iter().any(|state| state.refused > 0);
    if !present || study.prep_broken || readings.has_unread_file() || refused {
        return;
    }
    let taken = |at: usize| readings.apart().iter().any(|apart| apart.at == Apart::Prep(at));
    let planned: Vec<&Step> = study.prep.iter().filter(|step| step.measure.is_some()).collect();
    for (at, step) in planned.iter().enumerate() {
        if taken(at) {
            continue;
        }
        let later = (at + 1..planned.len()).find(|&later| taken(later));
        let round = study.rounds_with_ids().find(|(id, _)| readings.has_round(*id));
        let went_on = match (later, round) {
            (Some(later), _) => format!("`prep {}` was read", later + 1),
            (None, Some((_, round))) => format!("`{}` was read", round.name.value),
            (None, None) => continue,
        };
        findings.push(finding(context, (at + 1, step), &went_on));
    }
}

fn finding(context: &Context<'_>, (number, step): (usize, &Step), went_on: &str) -> Finding {
    let measure =
        step.measure.as_ref().map_or("", |own| context.study.measure(own.value).name.value.as_str());
    let message = format!("the {measure} of `prep {number}` was never read, and {went_on}");
    Finding::warning(CHECK.page.code, step.span, message)
        .help(format!(
            "type its readings in as section `panel` of round `prep {number}`, or say in a waiver why there are none"
        ))
        .about("prep")
        .about(measure)
}
