//! What tables of means hold where the comparisons take pieces or sites out: said beside them, so that nobody holds one against the other.

use super::names;
use crate::analysis::{Basis, MeasureAnalysis, RoundAnalysis};
use crate::speech::say;
use crate::study::{Study, Unit};

fn basis(round: &RoundAnalysis) -> Option<&Basis> {
    let bare = round.to_bare.as_ref().ok().map(|table| &table.basis);
    bare.or_else(|| round.lead.as_ref().ok().map(|table| &table.basis))
}

/// Whether the comparisons of a round take what pieces add out of the means, which lie on them unevenly.
fn means(round: &RoundAnalysis) -> bool {
    basis(round).is_some_and(Basis::linked)
}

/// A heading of raw means with what is not taken out of them.
pub(super) fn heading(
    study: &Study,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
    head: String,
) -> String {
    if !means(round) {
        return head;
    }
    say!("{head}, {pieces} not taken out", head, pieces = names::pieces(study, measure.measure))
}

/// The sentence beside raw means.
pub(super) fn beside_means(
    study: &Study,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Option<String> {
    let (Unit::Within(grouping) | Unit::Linked(grouping)) = study.unit(measure.measure) else { return None };
    means(round).then(|| {
        say!(
            "These means are raw: {pieces} carry products unevenly, and what a {piece} adds is in them. Products are compared by the table \
             against bare, whose means are over all {pieces} alike.",
            pieces = names::pieces(study, measure.measure),
            piece = grouping.name.value
        )
    })
}

/// The sentence beside intervals of single rows, whose spread holds the pieces.
pub(super) fn beside_intervals(
    study: &Study,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Option<String> {
    let (Unit::Within(grouping) | Unit::Linked(grouping)) = study.unit(measure.measure) else { return None };
    basis(round).is_some_and(Basis::within_pieces).then(|| {
        say!(
            "What {pieces} add is in the spread of these intervals, and sections of one {piece} are taken as independent: they say nothing on \
             differences between products, from which the table against bare takes it out.",
            pieces = names::pieces(study, measure.measure),
            piece = grouping.name.value
        )
    })
}
