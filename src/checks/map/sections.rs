//! What several checks of the map ask about sections: are they understood, where do they lie, how are they named.

use crate::diag::{Finding, list, plural};
use crate::layout::overlap;
use crate::study::{Area, Grid, Outline, Section, Study, Treatment};
use crate::units::decimal;
use std::collections::BTreeSet;

/// Codes that a message spells out before it counts the rest.
const SPELLED_OUT: usize = 6;

/// Whether every section and what it carries was understood, so that nothing is missed by a slip elsewhere.
pub(super) fn understood(study: &Study) -> bool {
    let one_too_many = study.grids.iter().any(Grid::has_long_row);
    !study.map_broken
        && !one_too_many
        && !study.sections.is_empty()
        && study.sections.iter().all(|section| section.treatment.is_settled())
}

/// `A1`, `A1 and A2`, or the first six and how many more.
pub(super) fn codes(sections: &[&Section]) -> String {
    let codes: Vec<String> =
        sections.iter().take(SPELLED_OUT).map(|section| format!("`{}`", section.code)).collect();
    match sections.len().saturating_sub(SPELLED_OUT) {
        0 => list(&codes, "and"),
        more => format!("{} and {more} more {}", codes.join(", "), plural(more, "section")),
    }
}

/// Gives a finding the codes of its sections, for waivers.
pub(super) fn about(finding: Finding, sections: &[&Section]) -> Finding {
    sections.iter().fold(finding, |finding, section| finding.about(&section.code)).about("map")
}

/// The sections that touch an area, in map order.
pub(super) fn touching<'a>(study: &'a Study, area: &Area) -> Vec<&'a Section> {
    let touches = |section: &&Section| {
        section.outline.as_ref().is_some_and(|outline| overlap(outline, &area.outline) > 0.0)
    };
    study.sections.iter().filter(touches).collect()
}

/// The sections of a treatment, in map order.
pub(super) fn of(study: &Study, treatment: Treatment) -> Vec<&Section> {
    study.sections_of(treatment).map(|(_, section)| section).collect()
}

/// The products on the map with their sections, in the order of the study.
pub(super) fn by_product(study: &Study) -> Vec<(Treatment, Vec<&Section>)> {
    let mut sections: Vec<Vec<&Section>> = vec![Vec::new(); study.products.len()];
    for section in &study.sections {
        if let Treatment::Product(id) = section.treatment {
            sections[id.index()].push(section);
        }
    }
    let products = study.products_with_ids().map(|(id, _)| Treatment::Product(id));
    products.zip(sections).filter(|(_, sections)| !sections.is_empty()).collect()
}

/// Row and place of every section, if all of them stand in the drawing.
pub(super) fn drawn(sections: &[&Section]) -> Option<Vec<(usize, usize)>> {
    sections.iter().map(|section| Some((section.row?, section.column?))).collect()
}

/// Whether drawn places hang together, side by side or one above the other.
pub(super) fn hang_together(places: &[(usize, usize)]) -> bool {
    let mut apart: BTreeSet<(usize, usize)> = places.iter().copied().collect();
    let mut reached: Vec<(usize, usize)> = apart.pop_first().into_iter().collect();
    while let Some((row, column)) = reached.pop() {
        let beside = [(row, column + 1), (row + 1, column)];
        let before = [(Some(row), column.checked_sub(1)), (row.checked_sub(1), Some(column))];
        let before = before.into_iter().filter_map(|(row, column)| row.zip(column));
        reached.extend(beside.into_iter().chain(before).filter(|place| apart.remove(place)));
    }
    apart.is_empty()
}

/// Where a section lies: the middle of its outline in mm, or its place in the drawing; from left, from top.
pub(super) fn middles(sections: &[&Section]) -> Option<Vec<(f64, f64)>> {
    let outlined: Option<Vec<(f64, f64)>> =
        sections.iter().map(|section| section.outline.as_ref().map(middle)).collect();
    outlined.or_else(|| {
        let places = drawn(sections)?;
        Some(places.into_iter().map(|(row, column)| (column as f64, row as f64)).collect())
    })
}

fn middle(outline: &Outline) -> (f64, f64) {
    let (left, top, right, bottom) = outline.bounds();
    (f64::midpoint(left, right), f64::midpoint(top, bottom))
}

/// A length for a message, rounded to a tenth of a millimetre.
pub(super) fn mm(length: f64) -> String {
    format!("{} mm", decimal((length * 10.0).round() / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_hang_together_along_edges_and_not_across_corners() {
        assert!(hang_together(&[(0, 0), (0, 1), (1, 1), (2, 1)]));
        assert!(hang_together(&[(2, 1), (0, 0), (1, 1), (0, 1)]));
        assert!(!hang_together(&[(0, 0), (1, 1)]));
        assert!(!hang_together(&[(0, 0), (0, 1), (0, 3)]));
    }
}
