//! Steps, coats and sections that a study which keeps a record has none of.

use super::records::{coat, codes};
use crate::checks::schedule::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity, list, plural};
use crate::study::{SectionId, Study, Treatment, Verb};
use crate::text::Span;
use std::collections::BTreeMap;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "record-has-gaps",
        severity: Severity::Advice,
        what: "A study that keeps a record, in `done` lines or in a file, has none of some steps, coats or sections, and a round \
               after the application has been read. All that is missing is one finding. A study without any record has none.",
        why: "What is not on record may not have been done, or done differently on some sections, and nobody can tell later.",
        mend: "Add a line or a row for each, from the checklist that was filled in. If nobody wrote it down, say so in a waiver.",
        bad: "done 2026-03-02 09:10  wash\n--- date 2026-03-13\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-12,fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        good: "done 2026-03-02 09:10  wash\ndone 2026-03-02 09:40  decontaminate\ndone 2026-03-02 10:10  clay\n\
               done 2026-03-02 10:50  dry\ndone 2026-03-02 11:20  polish\ndone 2026-03-02 15:00  wipe\n\
               done 2026-03-02 15:30  tape\ndone 2026-03-02 16:00  label\ndone 2026-03-03 09:00  coat 1 of bay\n\
               done 2026-03-03 09:20  coat 1 of clove\ndone 2026-03-03 09:40  coat 1 of cumin\n--- date 2026-03-13\n\
               --- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-12,fresh,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if is_complete(study)
        && let (Some(round), Some(place)) = (read_after(context), place(study))
    {
        let missing: Vec<String> = steps(study).chain(coats(study)).collect();
        if missing.is_empty() {
            return;
        }
        let message = format!("`{round}` was read, and the record has nothing of {}", missing.join("; "));
        let finding = Finding::advice(CHECK.page.code, place, message)
            .help("add what is missing from the checklist that was filled in, or say in a waiver that nobody wrote it down");
        findings.push(finding.label("what the record has").about("prep").about("done"));
    }
}

/// Whether the study keeps a record, and all of it could be read.
fn is_complete(study: &Study) -> bool {
    let keeps = !study.done.is_empty() || !study.records.is_empty();
    let whole = !study.done_broken && study.records.iter().all(|file| file.file.is_some() && !file.broken);
    keeps && whole && !study.prep_broken && !study.map_broken
}

/// The first round after the application that has readings.
fn read_after<'a>(context: &Context<'a>) -> Option<&'a str> {
    let study = context.study;
    let read = study.rounds_with_ids().filter(|(id, _)| context.readings.has_round(*id));
    read.filter(|(_, round)| when::before_apply(study, round) == Some(false))
        .min_by_key(|(_, round)| round.date())
        .map(|(_, round)| round.name.value.as_str())
}

/// Where the record is: its first line in the study, else the name of its file.
fn place(study: &Study) -> Option<Place> {
    let span = |span: Span| Place::from(span);
    let file = study.records.first().map(|file| span(file.name.span));
    file.or_else(|| study.done.first().map(|done| done.place))
}

/// The steps without a record: "step 2 `clay`" or "steps 2 `clay` and 3 `dry`", then those of each set of specimens.
fn steps(study: &Study) -> impl Iterator<Item = String> {
    study.preparations().filter_map(|set| {
        let records = study.prep_of(set).iter().zip(study.recorded(set)).enumerate();
        let missing = records.filter(|(_, (step, records))| records.is_empty() && step.verb != Verb::Read);
        let missing: Vec<String> =
            missing.map(|(at, (step, _))| format!("{} `{}`", at + 1, step.verb.word())).collect();
        let of =
            set.map_or_else(String::new, |set| format!(" of `{}`", study.specimens[set.index()].name.value));
        let told = format!("{} {}{of}", plural(missing.len(), "step"), list(&missing, "and"));
        (!missing.is_empty()).then_some(told)
    })
}

/// The coats that some of their sections have no record of: those of products that lack all of a coat together.
fn coats(study: &Study) -> Vec<String> {
    let (mut whole, mut part): (BTreeMap<u32, Vec<String>>, Vec<String>) = (BTreeMap::new(), Vec::new());
    for (id, product) in study.products_with_ids().filter(|(_, product)| !product.broken) {
        let all: Vec<SectionId> = study.carriers_of(Treatment::Product(id)).map(|(id, _)| id).collect();
        for number in 1..=product.coats_number() {
            let laid = || study.done.iter().filter(|done| coat(done) == Some((number, id)));
            let left: Vec<SectionId> =
                all.iter().copied().filter(|&section| !laid().any(|done| done.is_on(section))).collect();
            let name = &product.name.value;
            if !left.is_empty() && left.len() == all.len() {
                whole.entry(number).or_default().push(format!("`{name}`"));
            } else if !left.is_empty() {
                part.push(format!("coat {number} of `{name}` on {}", codes(study, &left)));
            }
        }
    }
    let whole = whole.iter().map(|(number, names)| format!("coat {number} of {}", list(names, "and")));
    whole.chain(part).collect()
}
