//! A round without readings whose time is over.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Round, RoundId};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "round-missed",
        severity: Severity::Warning,
        what: "A round has no readings, and either its last day is over or a later round has readings.",
        why: "When a product was spent is known only between two rounds that were read; a missed round widens \
              that time. If it is the round that decides, the question stays unanswered.",
        mend: "Type the readings in, or read the round now and waive that it was late, or say in a waiver why it \
               was left out.",
        bad: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        good: "--- date 2026-03-08\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // Without the file nothing is missed yet; that it is absent is a finding of its own.
    let present = context.readings.files.iter().any(|state| state.file.is_some());
    if !present || study.rounds_broken || context.readings.has_unread_file() {
        return;
    }
    for (id, round) in study.rounds_with_ids() {
        // Rows that could not be placed may be its readings; what is wrong with them is said.
        let taken = context.readings.has_round(id) || context.readings.has_refused(id);
        if round.reads.is_empty() || taken {
            continue;
        }
        if let Some(why) = why(context, round) {
            findings.push(missed(context, id, round, &why));
        }
    }
}

/// Why the round counts as missed; `None` where it may still be read.
fn why(context: &Context<'_>, round: &Round) -> Option<String> {
    let window = round.window?;
    let study = context.study;
    let later = study.rounds_with_ids().find(|(id, other)| {
        other.date().is_some_and(|date| date > window.date) && context.readings.has_round(*id)
    });
    match later {
        Some((_, later)) => Some(format!("the later `{}` was read", later.name.value)),
        None => context.is_over(window.last).then(|| format!("its last day was {}", window.last)),
    }
}

fn missed(context: &Context<'_>, id: RoundId, round: &Round, why: &str) -> Finding {
    let name = &round.name.value;
    let decides = context.study.decide.as_ref().is_some_and(|decide| decide.round == Some(id));
    let part = if decides { ", which decides the study," } else { "" };
    Finding::warning(CHECK.page.code, round.name.span, format!("`{name}`{part} has no readings, and {why}"))
        .help("type its readings in, or say in a waiver why it was left out")
        .about(name)
}
