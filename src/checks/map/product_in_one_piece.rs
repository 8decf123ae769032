//! Products whose specimens were all cut from one piece.

use super::sections::{about, by_product, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Grouping, Section, Study};
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "product-in-one-piece",
        severity: Severity::Warning,
        what: "All specimens of a product, or all bare ones, were cut from one piece, as one plank, and others come \
               from other pieces.",
        why: "Specimens of one piece are alike before anything is put on them. What the piece does then cannot be \
              told from what the product does.",
        mend: "Give each product specimens of several pieces, one of each where there are enough.",
        bad: "surface boards\n    material    oak, planed\n    each        300 x 90 mm\n\
              map  rack 2 rows of 6\n    | bay    clove  bare   cumin  bay    bare  |\n    | clove  bay    cumin  bare   clove  cumin |\n\
              group plank\n    | p1  p2  p2  p3  p1  p3 |\n    | p3  p1  p2  p1  p2  p3 |\n",
        good: "surface boards\n    material    oak, planed\n    each        300 x 90 mm\n\
              map  rack 2 rows of 6\n    | bay    clove  bare   cumin  bay    bare  |\n    | clove  bay    cumin  bare   clove  cumin |\n\
              group plank\n    | p1  p2  p2  p3  p2  p3 |\n    | p3  p3  p2  p1  p1  p1 |\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if !understood(study) {
        return;
    }
    for group in study.groups.iter().filter(|group| !group.broken && group.pieces().len() > 1) {
        for (name, sections) in compared(study) {
            findings.extend(in_one(study, group, name, &sections));
        }
    }
}

/// What is compared: each product and the bare ones, with their specimens.
fn compared(study: &Study) -> Vec<(&str, Vec<&Section>)> {
    let bare = super::sections::of(study, crate::study::Treatment::Bare);
    let products =
        by_product(study).into_iter().map(|(product, sections)| (study.treatment_name(product), sections));
    products.chain((!bare.is_empty()).then_some(("bare", bare))).collect()
}

fn in_one(study: &Study, group: &Grouping, name: &str, sections: &[&Section]) -> Option<Finding> {
    let own = |section: &&Section| group.of(study, section);
    let pieces: BTreeSet<&str> = sections.iter().filter_map(own).collect();
    let piece = pieces.first().filter(|_| pieces.len() == 1 && sections.len() > 1)?;
    let kind = &group.name.value;
    let message = format!("every specimen of `{name}` was cut from {kind} `{piece}`");
    let finding = Finding::warning(CHECK.page.code, sections[0].span, message)
        .label(format!("{kind} and product cannot be told apart"))
        .help(format!("exchange specimens, so that each product has some of several {kind}s"));
    Some(about(finding, sections).about(name))
}
