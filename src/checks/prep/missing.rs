//! A verb that preparation lacks: one shape of finding for six checks.

use super::steps::is_needed;
use crate::checks::Context;
use crate::diag::{Finding, Page};
use crate::study::{Study, Verb};

/// A finding where preparation was understood and has no step of a verb.
pub(super) fn finding(
    context: &Context<'_>,
    page: &Page,
    verb: Verb,
    message: &str,
    help: &str,
) -> Option<Finding> {
    let study = context.study;
    if study.prep_broken || study.prep.is_empty() || has(study, verb) || !is_needed(context, verb) {
        return None;
    }
    let span = study.prep_span.or_else(|| study.prep.first().map(|step| step.span))?;
    Some(Finding::new(page.code, page.severity, span, message).help(help).about("prep"))
}

/// Whether preparation has a step of a verb.
pub(super) fn has(study: &Study, verb: Verb) -> bool {
    study.prep.iter().any(|step| step.verb == verb)
}
