//! Steps of preparation in an order that undoes them.

use crate::catalog::Order;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

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
    decontaminate with iron-off  for 4 min,  rinse
    dry
    polish      with fine-cut  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 4 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with fine-cut  tool \"foam pad\"
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
        (_, Verb::Wipe) => None,
        (Verb::Dry, _) => Some(Manner::Dry),
        (_, Verb::Tape | Verb::Label) | (Verb::Clay | Verb::Compound, Verb::Polish) => Some(Manner::Last),
        _ => Some(Manner::Before),
    }
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    if !context.study.prep_broken {
        findings.extend(context.catalog.orders().iter().filter_map(|order| broken(context, order)));
    }
}

fn broken(context: &Context<'_>, order: &Order) -> Option<Finding> {
    let first = Verb::of(order.first)?;
    let steps = &context.study.prep;
    let then = |step: &&Step| step.verb.word() == order.then;
    let is_first = |step: &&Step| step.verb == first;
    let (early, late) = match manner(first, order.then)? {
        Manner::Before => (steps.iter().find(then)?, steps.iter().find(is_first)?),
        Manner::Last => (steps.iter().rfind(then)?, steps.iter().rfind(is_first)?),
        // Without any drying, `no-dry` speaks.
        Manner::Dry => return steps.iter().find(is_first).and_then(|_| on_water(context, order)),
    };
    if early.span.start > late.span.start {
        return None;
    }
    let message = format!("`{}` stands before `{}`: {}", order.then, order.first, because(order));
    Some(finding(order, early, message).related(late.span, format!("`{}` is here", order.first)))
}

/// The first step of its kind that meets a wet surface.
fn on_water(context: &Context<'_>, order: &Order) -> Option<Finding> {
    let wets =
        |step: &Step| step.rinse || context.catalog.step(step.verb.word()).is_some_and(|kind| kind.wets);
    let mut wet: Option<&Step> = None;
    for step in &context.study.prep {
        if let Some(wet) = wet.filter(|_| step.verb.word() == order.then) {
            let message = format!("`{}` meets a wet surface: {}", order.then, because(order));
            return Some(finding(order, step, message).related(wet.span, "this step wets it"));
        }
        if wets(step) {
            wet = Some(step);
        } else if step.verb == Verb::Dry {
            wet = None;
        }
    }
    None
}

fn finding(order: &Order, at: &Step, message: String) -> Finding {
    Finding::warning(CHECK.page.code, at.span, message)
        .help(format!("write `{}` above `{}`", order.first, order.then))
        .about("prep")
}

/// The reason as the end of a sentence.
fn because(order: &Order) -> String {
    let mut letters = order.because.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
