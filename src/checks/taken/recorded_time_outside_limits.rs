//! Recorded times, from laid on to taken off, against what the step or the coat allows.

use super::records::{about, coat, named, steps, supply};
use crate::catalog::Class;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Done, Step, Study};
use crate::text::Span;
use crate::units::{Range, Time, decimal};
use jiff::SignedDuration;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "recorded-time-outside-limits",
        severity: Severity::Warning,
        what: "The record says that something was on the surface for a shorter or a longer time than its `dwell`, its `flash` or \
               `wipe off after` allows. It is advice where only the plan or the usual time of the class says so, and for what was \
               done on several sections in turn. Hours are taken as rounded to a minute.",
        why: "A remover that dries on etches, and one that is taken off at once does nothing. A coat that is wiped off early \
              stays thin, and late it streaks or cannot be levelled. What is then read is the slip, not the product.",
        mend: "If the record is wrong, correct it. Where sections were done in turn, give each a line of its own with its own \
               hours. If it was so, leave it and say in a waiver what happened, or give the sections up.",
        bad: "done 2026-03-02 09:10 to 11:40  decontaminate\n",
        good: "done 2026-03-02 09:10 to 09:15  decontaminate\n",
        source: "common practice, no source; the limits are those of the data sheet",
    },
    run,
};

/// What a time is held against.
struct Limit {
    low_s: f64,
    high_s: f64,
    /// What says so, in words: "`iron-off` allows 2 to 6 min".
    words: String,
    /// Where it stands; `None` for what is usual.
    span: Option<Span>,
    severity: Severity,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let of_steps = steps(study).into_iter();
    let of_steps = of_steps.filter_map(|(done, step)| Some((done, of_step(study, step)?)));
    let of_coats = study.done.iter().filter_map(|done| Some((done, of_coat(study, done)?)));
    findings.extend(of_steps.chain(of_coats).filter_map(|(done, limit)| finding(study, done, &limit)));
}

/// The limits of a chemical: its own, else the usual ones of its class, else the planned time.
fn of_step(study: &Study, step: &Step) -> Option<Limit> {
    let supply = study.supply(supply(study, step)?);
    let (name, planned) = (&supply.name.value, step.dwell.as_ref().map(|dwell| dwell.value));
    if supply.is_unread("dwell") {
        return None;
    }
    if let Some(own) = &supply.dwell {
        let words = format!("`{name}` allows {}", own.value);
        return Some(Limit::new(own.value, words, Some(own.span), Severity::Warning));
    }
    let usual = supply.kind.as_ref().and_then(|kind| kind.class).and_then(usual);
    let planned =
        planned.map(|planned| Limit::new(planned, format!("{planned} is planned"), None, Severity::Advice));
    match (usual, planned) {
        (Some((low_s, high_s)), Some(planned)) => Some(Limit {
            low_s: low_s.min(planned.low_s),
            high_s: high_s.max(planned.high_s),
            words: format!("{} for its class, and {}", usual_words(low_s, high_s), planned.words),
            ..planned
        }),
        (_, planned) => planned,
    }
}

fn usual(class: &Class) -> Option<(f64, f64)> {
    class.work.dwell_min_s.zip(class.work.dwell_max_s)
}

fn usual_words(low_s: f64, high_s: f64) -> String {
    format!("{} to {} min is usual", decimal(low_s / 60.0), decimal(high_s / 60.0))
}

/// From laying a coat on to wiping it off.
fn of_coat(study: &Study, done: &Done) -> Option<Limit> {
    let (number, product) = coat(done)?;
    let product = study.product(product);
    let coat = product.coat(number);
    let off = coat.off.filter(|_| !product.broken && !product.is_unread("flash"))?;
    let own = product.coats.as_ref().and_then(|coats| coats.own.iter().find(|own| own.number == number));
    let own = own.filter(|own| own.off.is_some()).map(|own| own.span);
    let span = own.or(product.flash.as_ref().map(|flash| flash.span));
    Some(Limit::new(
        off,
        format!("`{}` is taken off after {off}", product.name.value),
        span,
        Severity::Warning,
    ))
}

impl Limit {
    fn new(range: Range<Time>, words: String, span: Option<Span>, severity: Severity) -> Self {
        let (low_s, high_s) = (range.low.seconds(), range.high.seconds());
        Self { low_s, high_s, words, span, severity }
    }
}

fn finding(study: &Study, done: &Done, limit: &Limit) -> Option<Finding> {
    let lasted = done.lasted()?;
    // Two hours that are rounded to the minute may lie a minute nearer or farther.
    let (least, most) = (lasted.as_secs_f64() - 60.0, lasted.as_secs_f64() + 60.0);
    let word = if most < limit.low_s {
        "shorter"
    } else if least > limit.high_s {
        "longer"
    } else {
        return None;
    };
    let message = format!(
        "{} was on for {}, which is {word} than it may: {}",
        named(study, done),
        told(lasted),
        limit.words
    );
    // One row for sections that were done in turn has the first hour and the last, which may both be right.
    let in_turn = word == "longer" && coat(done).is_some() && study.reach_of(done, None).len() > 1;
    let severity = if in_turn { Severity::Advice } else { limit.severity };
    let help = if in_turn {
        "where the sections were done in turn, give each a line with its own hours; else correct the hours, or say in a waiver \
         what happened"
    } else {
        "correct the hours if they are a slip, else say in a waiver what happened"
    };
    let finding = match severity {
        Severity::Advice => Finding::advice(CHECK.page.code, done.place, message),
        _ => Finding::warning(CHECK.page.code, done.place, message),
    };
    let finding = match limit.span {
        Some(span) => finding.related(span, "its limits"),
        None => finding,
    };
    Some(about(study, finding.help(help), done))
}

/// `5 min`, `2 h 30 min`.
fn told(lasted: SignedDuration) -> String {
    let minutes = lasted.as_mins();
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}
