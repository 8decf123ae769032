//! Shared words for readings: lists of sections and rounds, and the days between which something was read.

use crate::diag::list;
use crate::study::{SectionId, Study};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// `A1`, `A2` and 5 more: codes of sections in the order of the map, at most six.
pub(super) fn sections(study: &Study, ids: &BTreeSet<SectionId>) -> String {
    let mut codes: Vec<String> =
        ids.iter().take(6).map(|&id| format!("`{}`", study.section(id).code)).collect();
    if ids.len() > 6 {
        codes.push(format!("{} more", ids.len() - 6));
    }
    list(&codes, "and")
}

/// `2026-05-01`, or `between 2026-05-01 and 2026-05-04`, with the word for a single day before it.
pub(super) fn days((first, last): (Date, Date)) -> String {
    if first == last { format!("on {first}") } else { format!("between {first} and {last}") }
}

/// Both ends of the days in a set; `None` where it is empty.
pub(super) fn ends(days: impl IntoIterator<Item = Date>) -> Option<(Date, Date)> {
    days.into_iter().map(|day| (day, day)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
}

/// `was` or `were`, as the number asks for.
pub(super) fn was(sections: &BTreeSet<SectionId>) -> &'static str {
    if sections.len() == 1 { "was" } else { "were" }
}
