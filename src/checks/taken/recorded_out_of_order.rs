//! Work that the record puts in another order than the plan.

use super::records::{about, coat, named, verb};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Done, SectionId, Step, Study, Verb};
use std::cmp::Reverse;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "recorded-out-of-order",
        severity: Severity::Warning,
        what: "The record says that a step was done before another one that stands above it in `prep`, or that a step of the \
               preparation was done on a section after a coat. Where an hour is missing, only what is surely out of order is told.",
        why: "Each step leaves the surface as the next one needs it, and a pad, a wipe or a wash on a coat takes it off. What is \
              then read is the slip, not the product.",
        mend: "If the record is wrong, correct its day or hour. If it was so, leave it: say what happened in a waiver, or give the \
               sections up. What is done between rounds belongs to `upkeep`, and before a round to `before ROUND`.",
        bad: "done 2026-03-02 08:00  wipe\ndone 2026-03-02 08:30  wash\n",
        good: "done 2026-03-02 08:00  wash\ndone 2026-03-02 08:30  wipe\n",
        source: "common practice, no source; the order is that of the plan",
    },
    run,
};

/// A record, where it stands in the plan, and the sections that it reached.
struct Entry<'a> {
    done: &'a Done,
    /// The place of its step in `prep`; `None` for a coat, which comes after all of them, and for a step beside the plan.
    at: Option<usize>,
    sections: Vec<SectionId>,
}

/// Two records of which the later one should have come first.
struct Swapped<'a> {
    early: &'a Done,
    late: &'a Done,
}

impl Swapped<'_> {
    fn has(&self, done: &Done) -> bool {
        std::ptr::eq(self.early, done) || std::ptr::eq(self.late, done)
    }
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.prep_broken {
        return;
    }
    let steps = entries(study);
    let coats: Vec<Entry<'_>> = study
        .done
        .iter()
        .filter(|done| coat(done).is_some())
        .map(|done| Entry { done, at: None, sections: study.reach_of(done, None) })
        .collect();
    let mut swapped: Vec<Swapped<'_>> = Vec::new();
    for late in &steps {
        let above = steps.iter().filter(|early| stands_below(early, late)).chain(&coats);
        let sooner = above.filter(|early| early.done.latest() < late.done.earliest() && meet(early, late));
        swapped.extend(sooner.map(|early| Swapped { early: early.done, late: late.done }));
    }
    while let Some(done) = misplaced(&swapped) {
        let (own, rest): (Vec<_>, Vec<_>) = swapped.into_iter().partition(|pair| pair.has(done));
        swapped = rest;
        findings.push(told(study, done, &own));
    }
}

/// The records of steps that a coat or a later step may not precede: all of `prep`, and what takes off a coat.
fn entries(study: &Study) -> Vec<Entry<'_>> {
    let of = |step: Option<&Step>, at, done| Entry { done, at, sections: study.reach_of(done, step) };
    let mut entries: Vec<Entry<'_>> = Vec::new();
    for set in study.preparations() {
        let numbered = study.prep_of(set).iter().zip(study.recorded(set)).enumerate();
        for (at, (step, records)) in numbered {
            entries.extend(records.into_iter().map(|done| of(Some(step), Some(at), done)));
        }
    }
    let planned = study.recorded_steps();
    let known = |done: &Done| planned.iter().flatten().any(|known| std::ptr::eq(*known, done));
    let beside = study.done.iter().filter(|done| done.is_of_work() && !known(done));
    entries.extend(beside.filter(|done| takes_off(done)).map(|done| of(None, None, done)));
    entries
}

/// Work beside the plan that changes a coat; a wash or a rinse may be upkeep.
fn takes_off(done: &Done) -> bool {
    verb(done).is_some_and(|verb| {
        matches!(
            verb,
            Verb::Decontaminate | Verb::Clay | Verb::Compound | Verb::Polish | Verb::Sand | Verb::Wipe
        )
    })
}

/// Whether one step belongs below another. Of two with one verb only their numbers tell which is which.
fn stands_below(one: &Entry<'_>, other: &Entry<'_>) -> bool {
    let told_apart =
        verb(one.done) != verb(other.done) || (one.done.step.is_some() && other.done.step.is_some());
    told_apart && one.at.zip(other.at).is_some_and(|(one, other)| one > other)
}

fn meet(one: &Entry<'_>, other: &Entry<'_>) -> bool {
    one.sections.iter().any(|section| other.sections.contains(section))
}

/// The record that most pairs share; of equals a step before a coat, then that which was written as done last.
fn misplaced<'a>(swapped: &[Swapped<'a>]) -> Option<&'a Done> {
    let all = swapped.iter().flat_map(|pair| [pair.late, pair.early]);
    let pairs = |done: &Done| swapped.iter().filter(|pair| pair.has(done)).count();
    all.min_by_key(|done| (coat(done).is_some(), Reverse(pairs(done)), Reverse(done.latest())))
}

fn told(study: &Study, done: &Done, pairs: &[Swapped<'_>]) -> Finding {
    let sooner: Vec<&Done> =
        pairs.iter().filter(|pair| std::ptr::eq(pair.late, done)).map(|pair| pair.early).collect();
    let later: Vec<&Done> =
        pairs.iter().filter(|pair| std::ptr::eq(pair.early, done)).map(|pair| pair.late).collect();
    let sides = [("after", sooner), ("before", later)];
    let stands: Vec<String> = sides
        .iter()
        .filter(|(_, others)| !others.is_empty())
        .map(|(word, others)| format!("{word} {}", several(study, others)))
        .collect();
    let message =
        format!("{} is recorded on {}, {}", named(study, done), done.moment(), stands.join(" and "));
    let finding = Finding::warning(CHECK.page.code, done.place, message)
        .help("correct the day or the hour if it is a slip, else say in a waiver what happened");
    let others = sides.iter().flat_map(|(_, others)| others).take(MOST);
    let finding = others.fold(finding, |finding, other| {
        finding.related(other.place, format!("{} is recorded here", named(study, other)))
    });
    about(study, finding, done)
}

/// More other records than this are not named one by one.
const MOST: usize = 3;

fn several(study: &Study, others: &[&Done]) -> String {
    let mut names: Vec<String> = Vec::new();
    for other in others {
        let name = format!("{} on {}", named(study, other), other.moment());
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if names.len() > MOST {
        let more = names.len() - (MOST - 1);
        names.truncate(MOST - 1);
        names.push(format!("{more} more"));
    }
    list(&names, "and")
}
