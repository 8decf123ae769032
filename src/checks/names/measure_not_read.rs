//! Measures that nothing reads.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{MeasureId, MeasureKind, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "measure-not-read",
        severity: Severity::Warning,
        what: "A measure is defined, and no round and no step of preparation reads it.",
        why: "It will have no numbers, and a baseline that was not taken cannot be taken later.",
        mend: "Add it to the rounds, as in `every round film 3 times`, or take it out.",
        bad: "gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 um
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
",
        good: "gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 um
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
    read        film at 9 places
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.rounds_broken || study.prep_broken || study.rounds.is_empty() {
        return;
    }
    for (id, measure) in
        study.judged_measures().filter(|&(id, measure)| !measure.broken && !is_read(study, id))
    {
        let name = &measure.name.value;
        let decide = study.decide.as_ref().filter(|decide| decide.measure == Some(id));
        // The round that decides by it is told as the graver fault.
        if decide.is_some_and(|decide| decide.round.is_some()) {
            continue;
        }
        let deciding = decide.is_some();
        let finding =
            Finding::warning(CHECK.page.code, measure.name.span, format!("no round reads `{name}`"))
                .help(format!("write `every round {name} 5 times` under `rounds`, or take the measure out"))
                .about(name);
        findings.push(if deciding { finding.label("this measure decides the study") } else { finding });
    }
}

/// Whether a round or a step of preparation reads a measure, or all that it is made of.
pub(in crate::checks) fn is_read(study: &Study, measure: MeasureId) -> bool {
    if let MeasureKind::Made(made) = &study.measure(measure).kind {
        return made.parts.iter().all(|&part| is_read(study, part));
    }
    let in_rounds = study.rounds.iter().flat_map(|round| &round.reads).map(|plan| plan.measure.value);
    let in_prep = study.prep.iter().filter_map(|step| step.measure.as_ref()).map(|measure| measure.value);
    in_rounds.chain(in_prep).any(|read| read == measure)
}
