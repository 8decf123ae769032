//! What several checks of the record ask: what a record is called, and which names a waiver may give for it.

use crate::diag::{Finding, list};
use crate::study::{Done, DoneWhat, ProductId, SectionId, Step, Study, SupplyId, Upkeep, Verb};

/// The product and number of a coat.
pub(super) fn coat(done: &Done) -> Option<(u32, ProductId)> {
    match &done.what {
        DoneWhat::Coat(number, product) => Some((*number, product.value)),
        DoneWhat::Prep(_) => None,
    }
}

/// The verb of a step.
pub(super) fn verb(done: &Done) -> Option<Verb> {
    match &done.what {
        DoneWhat::Prep(verb) => Some(*verb),
        DoneWhat::Coat(..) => None,
    }
}

/// What was done, as a message says it: `wipe`, or coat 1 of `bay`.
pub(super) fn named(study: &Study, done: &Done) -> String {
    match &done.what {
        DoneWhat::Coat(number, product) => {
            format!("coat {number} of `{}`", study.product(product.value).name.value)
        }
        DoneWhat::Prep(verb) => format!("`{}`", verb.word()),
    }
}

/// Adds the places that a waiver may name: the product of a coat, else the preparation; and the sections that are named.
pub(super) fn about(study: &Study, finding: Finding, done: &Done) -> Finding {
    let finding = match &done.what {
        DoneWhat::Coat(_, product) => finding.about(&study.product(product.value).name.value),
        DoneWhat::Prep(_) => finding.about("prep"),
    };
    let codes = done.sections.iter().map(|&section| study.section(section).code.clone());
    codes.fold(finding, Finding::about)
}

/// `A1, A2 and B3`; of many the first and how many more.
pub(super) fn codes(study: &Study, sections: &[SectionId]) -> String {
    const SHOWN: usize = 6;
    let all = sections.iter().map(|&section| study.section(section).code.clone());
    let mut shown: Vec<String> = all.take(SHOWN).collect();
    if sections.len() > SHOWN {
        shown.push(format!("{} more", sections.len() - SHOWN));
    }
    list(&shown, "and")
}

/// The step of the plan that each record of a step tells of: of the preparation, of what comes before a round, or the only
/// one of upkeep with its verb.
pub(super) fn steps(study: &Study) -> Vec<(&Done, &Step)> {
    let of_prep = study.preparations().flat_map(|set| {
        let steps = study.prep_of(set).iter().zip(study.recorded(set));
        steps.flat_map(|(step, records)| records.into_iter().map(move |done| (done, step)))
    });
    let ahead = study.done.iter().filter(|done| done.ahead.is_some());
    let of_rounds = ahead.filter_map(|done| {
        let mut same = study.before_each_round.iter().filter(|step| Some(step.verb) == verb(done));
        same.next().filter(|_| same.next().is_none()).map(|step| (done, step))
    });
    let kept = study.done.iter().filter(|done| done.upkeep).filter_map(|done| {
        let steps = study.upkeep.iter().filter_map(|upkeep| match upkeep {
            Upkeep::Every { step, .. } => Some(&**step),
            Upkeep::None(_) => None,
        });
        let mut same = steps.filter(|step| Some(step.verb) == verb(done));
        same.next().filter(|_| same.next().is_none()).map(|step| (done, step))
    });
    of_prep.chain(of_rounds).chain(kept).collect()
}

/// The supply of a step, where it and its lines were understood.
pub(super) fn supply(study: &Study, step: &Step) -> Option<SupplyId> {
    step.with.as_ref().map(|with| with.value).filter(|&with| !step.broken && !study.supply(with).broken)
}
