//! Steps of preparation in an order that undoes them.

use super::steps::ground;
use crate::catalog::Order;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Step, Verb};
use crate::text::Span;
use std::cmp::Reverse;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "order-of-prep",
        severity: Severity::Warning,
        what: "A step stands before another one that has to come first.",
        why: "Each step leaves the surface as the next one needs it. The other way round it scratches, smears or takes off what was done.",
        mend: "Exchange the steps, or repeat the one that has to come last.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    clay        with slick,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

/// How an order is broken.
enum Manner {
    /// The first must have happened before the second begins; repeating it later does no harm.
    Before,
    /// The second must follow the last of the first, since it takes off or finishes what that leaves.
    Last,
    /// The surface must be dry.
    Dry,
}

/// What is left to `no-wipe`, `residue-before-apply` and the like has no manner here.
fn manner(first: Verb, then: &str) -> Option<Manner> {
    match (first, Verb::of(then)?) {
        (Verb::Wash | Verb::Decontaminate, Verb::Wipe) => Some(Manner::Last),
        (_, Verb::Wipe) => None,
        (Verb::Dry, _) => Some(Manner::Dry),
        (_, Verb::Tape | Verb::Label)
        | (Verb::Clay | Verb::Compound, Verb::Polish)
        | (Verb::Sand, Verb::Dust | Verb::Seal) => Some(Manner::Last),
        _ => Some(Manner::Before),
    }
}

/// Two steps of which the later one has to come first.
struct Swapped<'a> {
    order: &'a Order,
    early: &'a Step,
    late: &'a Step,
}

impl Swapped<'_> {
    fn has(&self, step: Span) -> bool {
        self.early.span == step || self.late.span == step
    }
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    if context.study.prep_broken {
        return;
    }
    let orders = orders(context);
    let mut swapped = swapped(context);
    let mut moved: Vec<Finding> = Vec::new();
    // One step in the wrong place breaks several orders; the step that is in most of them is the one to move.
    while let Some(step) = misplaced(&swapped) {
        let (own, rest): (Vec<_>, Vec<_>) = swapped.into_iter().partition(|pair| pair.has(step));
        moved.extend(told(step, &own));
        swapped = rest;
    }
    // A step that has to move is not told as well that its place is wet.
    let stays = |finding: &Finding| moved.iter().all(|other| other.place != finding.place);
    let wet: Vec<Finding> =
        orders.iter().filter_map(|order| on_water(context, order)).filter(stays).collect();
    findings.extend(moved);
    findings.extend(wet);
}

/// The rules of order that hold on what the work touches.
fn orders<'a>(context: &Context<'a>) -> Vec<&'a Order> {
    let ground = ground(context).map_or("", |ground| ground.id);
    context.catalog.orders().iter().filter(|order| !order.except_on.contains(&ground)).collect()
}

/// Every broken order, with the wipe that a step in the wrong place has left behind as well.
fn swapped<'a>(context: &Context<'a>) -> Vec<Swapped<'a>> {
    let orders = orders(context);
    let swapped: Vec<Swapped<'_>> = orders.iter().filter_map(|order| swap(context, order)).collect();
    let left = orders.iter().filter_map(|order| past_wipe(context, order));
    let is_told = |pair: &Swapped<'_>| swapped.iter().any(|other| other.late.span == pair.late.span);
    let left: Vec<Swapped<'_>> = left.filter(is_told).collect();
    left.into_iter().chain(swapped).collect()
}

/// Whether a step stands too late by an order, so that the place it belongs to is told here.
pub(super) fn is_too_late(context: &Context<'_>, step: &Step) -> bool {
    swapped(context).iter().any(|pair| pair.late.span == step.span)
}

/// A step that leaves something and stands behind the last wipe.
fn past_wipe<'a>(context: &Context<'a>, order: &'a Order) -> Option<Swapped<'a>> {
    let first = Verb::of(order.first).filter(|first| manner(*first, order.then).is_none())?;
    let steps = &context.study.prep;
    let early = steps.iter().rfind(|step| step.verb.word() == order.then)?;
    let late = steps.iter().rfind(|step| step.verb == first)?;
    (early.verb == Verb::Wipe && early.span.start < late.span.start).then_some(Swapped { order, early, late })
}

fn swap<'a>(context: &Context<'a>, order: &'a Order) -> Option<Swapped<'a>> {
    let first = Verb::of(order.first)?;
    let steps = &context.study.prep;
    let then = |step: &&Step| step.verb.word() == order.then;
    let is_first = |step: &&Step| step.verb == first;
    let (early, late) = match manner(first, order.then)? {
        Manner::Before => (steps.iter().find(then)?, steps.iter().find(is_first)?),
        Manner::Last => (steps.iter().rfind(then)?, steps.iter().rfind(is_first)?),
        Manner::Dry => return None,
    };
    (early.span.start <= late.span.start).then_some(Swapped { order, early, late })
}

/// The step that most pairs share; of equals the one that stands first in its pairs, then in the file.
fn misplaced(swapped: &[Swapped<'_>]) -> Option<Span> {
    let early = swapped.iter().map(|pair| (false, pair.early.span));
    let late = swapped.iter().map(|pair| (true, pair.late.span));
    let pairs = |step: Span| swapped.iter().filter(|pair| pair.has(step)).count();
    early.chain(late).min_by_key(|&(late, span)| (Reverse(pairs(span)), late, span)).map(|(_, span)| span)
}

fn told(step: Span, pairs: &[Swapped<'_>]) -> Option<Finding> {
    let first = pairs.first()?;
    let before: Vec<String> =
        pairs.iter().filter(|pair| pair.early.span == step).map(|pair| quoted(pair.order.first)).collect();
    let after: Vec<String> =
        pairs.iter().filter(|pair| pair.late.span == step).map(|pair| quoted(pair.order.then)).collect();
    let (own, at) =
        if before.is_empty() { (first.order.first, first.late) } else { (first.order.then, first.early) };
    let stands = [("before", &before), ("after", &after)].into_iter().filter(|(_, names)| !names.is_empty());
    let stands: Vec<String> = stands.map(|(word, names)| format!("{word} {}", list(names, "and"))).collect();
    let message = format!("`{own}` stands {}: {}", stands.join(" and "), because(first.order));
    let others: Vec<&Step> =
        pairs.iter().map(|pair| if pair.early.span == step { pair.late } else { pair.early }).collect();
    // It belongs below all that have to come first, or above all that it has to come before.
    let help = match (before.as_slice(), after.as_slice()) {
        ([one], []) => format!("write {one} above `{own}`"),
        (_, []) => below(own, &others),
        ([], [one]) => format!("write `{own}` above {one}"),
        _ => above(own, &others),
    };
    let finding = Finding::warning(CHECK.page.code, at.span, message).help(help).about("prep");
    Some(others.iter().fold(finding, |finding, other| {
        finding.related(other.span, format!("`{}` is here", other.verb.word()))
    }))
}

fn below(own: &str, others: &[&Step]) -> String {
    let last = others.iter().max_by_key(|step| step.span).map_or("", |step| step.verb.word());
    format!("write `{own}` below `{last}`")
}

fn above(own: &str, others: &[&Step]) -> String {
    let first = others.iter().min_by_key(|step| step.span).map_or("", |step| step.verb.word());
    format!("write `{own}` above `{first}`")
}

fn quoted(word: &str) -> String {
    format!("`{word}`")
}

/// The first step of its kind that meets a wet surface. Without any drying, `no-dry` speaks.
fn on_water(context: &Context<'_>, order: &Order) -> Option<Finding> {
    let steps = &context.study.prep;
    let dry = matches!(manner(Verb::of(order.first)?, order.then)?, Manner::Dry);
    if !dry || steps.iter().all(|step| step.verb != Verb::Dry) {
        return None;
    }
    let wets =
        |step: &Step| step.rinse || context.catalog.step(step.verb.word()).is_some_and(|kind| kind.wets);
    let mut wet: Option<&Step> = None;
    for step in steps {
        if let Some(wet) = wet.filter(|_| step.verb.word() == order.then) {
            let message = format!("`{}` meets a wet surface: {}", order.then, because(order));
            let finding = Finding::warning(CHECK.page.code, step.span, message)
                .related(wet.span, "this step wets it")
                .help(format!("write `{}` above `{}`", order.first, order.then));
            return Some(finding.about("prep"));
        }
        if wets(step) {
            wet = Some(step);
        } else if step.verb == Verb::Dry {
            wet = None;
        }
    }
    None
}

/// The reason as the end of a sentence.
fn because(order: &Order) -> String {
    let mut letters = order.because.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
