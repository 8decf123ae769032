//! Findings about steps where some steps are done on some sections only: each group of sections is asked for the steps that it got.

use super::{CHECKS, Context, prep};
use crate::diag::{Finding, Severity, list};
use crate::study::{Anchor, Placing, SectionId, Step, Study, Upkeep, Verb};
use crate::text::FileId;
use std::collections::BTreeMap;

/// Every finding of every check.
///
/// Where a step leaves out sections that are prepared, sections with the same steps make one path, and what is found
/// about steps is found for each path: a wipe of other sections serves none of these, and two steps that never reach one
/// section are in no order. What is an error with all steps on all sections stays one, since tools, buckets and drains
/// are shared.
pub(super) fn run(context: &Context<'_>) -> Vec<Finding> {
    let mut findings = every(context);
    let paths = paths(context.study);
    if !paths.is_empty() {
        let found: Vec<(Vec<SectionId>, Vec<Finding>)> = paths
            .into_iter()
            .map(|(steps, sections)| {
                let study = along(context.study, &steps);
                let of_steps = every(&Context { study: &study, ..*context }).into_iter();
                (sections, of_steps.filter(|finding| is_of_steps(context.study, finding)).collect())
            })
            .collect();
        findings = merged(context.study, findings, &found);
    }
    prep::name_sections(context.study, &mut findings);
    findings
}

fn every(context: &Context<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        (check.run)(context, &mut findings);
    }
    findings
}

/// Whether a finding is about planned steps: by the name of their block, or by a step that it points at.
fn is_of_steps(study: &Study, finding: &Finding) -> bool {
    let is_about = |place: &str| finding.about.iter().any(|name| name == place);
    let places = || std::iter::once(&finding.place).chain(finding.related.iter().map(|(place, _)| place));
    let is_at = |step: &Step| places().any(|place| place.file == FileId::STUDY && place.span == step.span);
    let in_block = ["prep", "rounds", "upkeep"].into_iter().any(is_about);
    !is_about("done") && (in_block || steps(study).any(is_at))
}

/// Every step that may be left out, in the order in which `along` asks for them.
fn steps(study: &Study) -> impl Iterator<Item = &Step> {
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(&**step),
        Upkeep::None(_) => None,
    });
    study.prep.iter().chain(&study.before_each_round).chain(upkeep)
}

// A reading changes nothing on the surface, so that every section is as if it had been read.
fn reaches(study: &Study, step: &Step, section: SectionId) -> bool {
    let only = study.done_on(step).filter(|_| step.verb != Verb::Read);
    only.is_none_or(|only| only.sections.contains(&section))
}

/// Sections by the steps that reach them, in the order of `steps`.
fn paths(study: &Study) -> BTreeMap<Vec<bool>, Vec<SectionId>> {
    let mut paths: BTreeMap<Vec<bool>, Vec<SectionId>> = BTreeMap::new();
    if steps(study).any(|step| study.done_on(step).is_some()) {
        for (section, _) in study.prepared() {
            let reached = steps(study).map(|step| reaches(study, step, section)).collect();
            paths.entry(reached).or_default().push(section);
        }
    }
    paths
}

/// The study with the steps of one path.
fn along(study: &Study, kept: &[bool]) -> Study {
    let mut path = study.clone();
    let mut rest = kept.iter().copied();
    let mut is_kept = || rest.next().unwrap_or(true);
    path.prep.retain(|_| is_kept());
    path.before_each_round.retain(|_| is_kept());
    path.upkeep.retain(|upkeep| matches!(upkeep, Upkeep::None(_)) || is_kept());
    for round in &mut path.rounds {
        let (Placing::At(anchor) | Placing::After(_, anchor)) = &mut round.placing else { continue };
        if let Anchor::Step(at) = *anchor {
            // Where the step itself is left out, the round follows the last one before it.
            let before = kept.iter().take(at + 1).filter(|kept| **kept).count();
            *anchor = before.checked_sub(1).map_or(Anchor::BeforeApply, Anchor::Step);
        }
    }
    path
}

/// Findings with those of steps taken from the paths; what only some of them have says on which sections.
fn merged(study: &Study, whole: Vec<Finding>, found: &[(Vec<SectionId>, Vec<Finding>)]) -> Vec<Finding> {
    let mut merged: Vec<Finding> = Vec::new();
    for finding in whole {
        if !is_of_steps(study, &finding) {
            merged.push(finding);
        } else if let Some(told) = on_paths(study, &finding, found) {
            merged.push(told);
        } else if finding.severity == Severity::Error {
            merged.push(finding);
        }
    }
    for finding in found.iter().flat_map(|(_, findings)| findings) {
        if !merged.iter().any(|other| is_same(other, finding)) {
            merged.extend(on_paths(study, finding, found));
        }
    }
    merged
}

fn is_same(one: &Finding, other: &Finding) -> bool {
    one.code == other.code && one.place == other.place && one.message == other.message
}

/// A finding as it stands on the paths that have it; `None` where none has.
fn on_paths(study: &Study, finding: &Finding, found: &[(Vec<SectionId>, Vec<Finding>)]) -> Option<Finding> {
    let has = |(_, findings): &&(Vec<SectionId>, Vec<Finding>)| {
        findings.iter().any(|other| is_same(other, finding))
    };
    let having: Vec<&(Vec<SectionId>, Vec<Finding>)> = found.iter().filter(has).collect();
    let mut told = finding.clone();
    if having.is_empty() {
        return None;
    }
    if having.len() < found.len() {
        let mut sections: Vec<SectionId> =
            having.iter().flat_map(|(sections, _)| sections).copied().collect();
        sections.sort_unstable();
        let codes: Vec<&str> = sections.iter().map(|id| study.section(*id).code.as_str()).collect();
        let comma = if told.label.is_empty() { "" } else { ", " };
        told.label = format!("{}{comma}on {} only", told.label, list(&codes, "and"));
        told.about.extend(codes.into_iter().map(str::to_owned));
    }
    Some(told)
}
