//! Products with several specimens of one piece, where the layout lets no comparison take the piece into account.

use super::sections::understood;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Grouping, Study, Unit};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "piece-counted-twice",
        severity: Severity::Warning,
        what: "A product has several specimens of one piece, as of one plank, and pieces neither carry one product each \
               nor link all products with each other. Specimens are then compared as if each were cut from a piece of its own.",
        why: "Specimens of one piece are alike before anything is put on them. Counted singly they make intervals \
              narrower than they are: two of one plank tell little more than one.",
        mend: "Put one product on all of a plank, and the plank is the unit; or each product equally often on every \
               plank, or at least so that every product meets others on planks, and products are compared within planks; or no \
               product twice on one plank.",
        bad: "surface boards\n    material    oak, planed\n    each        300 x 90 mm\n\
              map  rack 2 rows of 6\n    | bay    clove  bare   cumin  bay    bare  |\n    | clove  bay    cumin  bare   clove  cumin |\n\
              group plank\n    | p1  p1  p2  p2  p3  p4 |\n    | p1  p3  p2  p4  p3  p4 |\n",
        good: "surface boards\n    material    oak, planed\n    each        300 x 90 mm\n\
              map  rack 2 rows of 6\n    | bay    clove  bare   cumin  bay    bare  |\n    | clove  bay    cumin  bare   clove  cumin |\n\
              group plank\n    | p1  p1  p1  p1  p2  p2 |\n    | p2  p3  p2  p3  p3  p3 |\n",
        source: "Hurlbert (1984), Ecological Monographs 54, 187-211, on replicates that are none",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.unit_on_panel() != Unit::Section
        || !understood(study)
        || study.groups.iter().any(|group| group.broken)
    {
        return;
    }
    findings.extend(study.groups.iter().filter_map(|group| counted_twice(study, group)));
}

fn counted_twice(study: &Study, group: &Grouping) -> Option<Finding> {
    let kind = &group.name.value;
    let mut several: Vec<String> = Vec::new();
    let mut about: Vec<&str> = Vec::new();
    for (piece, sections) in group.pieces() {
        for (treatment, n) in study.carried(&sections) {
            if n > 1 && treatment.is_settled() {
                let name = study.treatment_name(treatment);
                several.push(format!("{n} of `{name}` of {kind} `{piece}`"));
                about.push(name);
            }
        }
    }
    let more = several.len().saturating_sub(4);
    several.truncate(4);
    if more > 0 {
        several.push(format!("{more} more like these"));
    }
    let message =
        format!("specimens of one {kind} are counted as if each had its own: {}", list(&several, "and"));
    let finding = Finding::warning(CHECK.page.code, group.name.span, message)
        .label("sections are the unit here")
        .help(format!(
            "put one product on all of a {kind}, or every product equally often on each {kind}, or none twice on one"
        ))
        .about("map");
    let named = about.iter().fold(finding, |finding, name| finding.about(*name));
    (!several.is_empty()).then_some(named)
}
