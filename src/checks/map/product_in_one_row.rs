//! Products that stand in one row of a tilted panel, or never in one of its rows.

use super::sections::{by_product, drawn, hang_together, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Section, Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "product-in-one-row",
        severity: Severity::Advice,
        what: "On a tilted panel all sections of a product stand in one row, or a product with a section for every row is never in \
               one of them.",
        why: "Rain runs from the upper rows over the lower ones and carries what it takes off there, and the upper edge dries and \
              warms otherwise than the lower. A product of one row is compared by its row as well.",
        mend: "Exchange sections between rows, so that each product stands in as many of them as it has sections.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   bay    |
    | bare   cumin  clove  bare   |
    | clove  bare   cumin  clove  |
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
",
        source: "common practice, no source",
    },
    run,
};

/// With more sections than this no exchange is looked for.
const MOST_SECTIONS: usize = 120;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let [grid] = study.grids.as_slice() else { return };
    let tilts = study.exposures.iter().any(|exposure| exposure.tilt_deg.is_some() && !exposure.lies_flat());
    if grid.rack || !tilts || !understood(study) {
        return;
    }
    let rows = grid.places.len();
    let faults: Vec<(String, Treatment, &Section)> = by_product(study)
        .into_iter()
        .filter_map(|(product, sections)| {
            Some((fault(study, product, &sections, rows)?, product, sections[0]))
        })
        .collect();
    let Some((_, _, first)) = faults.first() else { return };
    let told: Vec<String> = faults.iter().map(|(words, _, _)| words.clone()).collect();
    let message = format!("the panel is tilted, and water runs down over its rows: {}", list(&told, "and"));
    let help = match exchange(study, rows) {
        Some((one, other)) => format!(
            "exchange `{}` with `{}` in the map, and go on until each product stands in as many rows as it has sections",
            one.code, other.code
        ),
        None => "exchange sections between the rows of the map, as far as other needs allow".to_owned(),
    };
    let finding = Finding::advice(CHECK.page.code, first.span, message).help(help).about("map");
    findings.push(
        faults.iter().fold(finding, |finding, (_, product, _)| finding.about(study.treatment_name(*product))),
    );
}

/// What is wrong with the rows of a product: all of it in one of several, or one of them without it, though it has a section
/// for each. Sections side by side are another finding.
fn fault(study: &Study, product: Treatment, sections: &[&Section], rows: usize) -> Option<String> {
    let places = drawn(sections)?;
    let missing = missing(&places.iter().map(|place| place.0).collect::<Vec<_>>(), rows)?;
    if hang_together(&places) {
        return None;
    }
    let name = study.treatment_name(product);
    let first = places.first()?.0;
    Some(match missing {
        Missing::AllInOne => format!("all of `{name}` stands in row {}", letter(study, first)),
        Missing::Row(row) => format!("`{name}` never stands in row {}", letter(study, row)),
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Missing {
    AllInOne,
    Row(usize),
}

fn missing(own: &[usize], rows: usize) -> Option<Missing> {
    let first = *own.first()?;
    if rows > 1 && own.len() > 1 && own.iter().all(|row| *row == first) {
        return Some(Missing::AllInOne);
    }
    let without = (0..rows).find(|row| !own.contains(row));
    without.filter(|_| own.len() >= rows).map(Missing::Row)
}

/// Two sections whose exchange leaves fewest products with a fault, where it leaves fewer than there are.
fn exchange(study: &Study, rows: usize) -> Option<(&Section, &Section)> {
    let all: Vec<(&Section, usize)> =
        study.sections.iter().filter_map(|section| Some((section, section.row?))).collect();
    if all.len() > MOST_SECTIONS {
        return None;
    }
    let products: Vec<Treatment> = by_product(study).into_iter().map(|(product, _)| product).collect();
    let faults = |carried: &[Treatment]| -> usize {
        let rows_of = |product: &Treatment| -> Vec<usize> {
            let own = carried.iter().zip(&all).filter(|(own, _)| *own == product);
            own.map(|(_, (_, row))| *row).collect()
        };
        products.iter().filter(|product| missing(&rows_of(product), rows).is_some()).count()
    };
    let mut carried: Vec<Treatment> = all.iter().map(|(section, _)| section.treatment).collect();
    let mut fewest = (faults(&carried), None);
    for one in 0..all.len() {
        for other in one + 1..all.len() {
            if all[one].1 == all[other].1 || carried[one] == carried[other] {
                continue;
            }
            carried.swap(one, other);
            let left = faults(&carried);
            carried.swap(one, other);
            if left < fewest.0 {
                fewest = (left, Some((all[one].0, all[other].0)));
            }
        }
    }
    fewest.1
}

/// The letter of a row, as its codes have it.
fn letter(study: &Study, row: usize) -> String {
    let own = study.sections.iter().find(|section| section.row == Some(row));
    own.map_or("", |section| section.code.as_str()).chars().take_while(|c| c.is_alphabetic()).collect()
}
