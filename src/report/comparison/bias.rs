//! What the gauge itself may be off by, beside shares held and times to spent.

use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Style, fixed};
use crate::analysis::{BiasAt, Biases};
use crate::speech::{list, say};
use crate::study::{MeasureId, RoundId};

/// The bias of a measure, where something of it is known.
pub(in crate::report) fn known<'a>(material: &'a Material<'_>, measure: MeasureId) -> Option<&'a Biases> {
    material.analysis.panel.biases.iter().find(|known| known.measure == measure)
}

/// The sentence beside the shares of a round.
pub(super) fn of_shares(material: &Material<'_>, measure: MeasureId, round: RoundId) -> Option<String> {
    let biases = known(material, measure)?;
    let at = biases.at.iter().find(|at| at.round == round)?;
    Some(say!(
        "The gauge itself may be off, for all rows alike, by {points} percentage points (two standard uncertainties, from \
         {from}); the last interval of a row has it in, added to the scatter as squares. In a difference to bare of the same \
         round it cancels.{lacks}",
        points = fixed(2.0 * at.share_points?, 1),
        from = list(&from(material, biases, Some(at)), "and"),
        lacks = lacks(biases, at.drift.is_none())
    ))
}

/// The sentence beside the times to spent.
pub(super) fn of_levels(material: &Material<'_>, measure: MeasureId) -> Option<String> {
    let biases = known(material, measure)?;
    let style = Style::of(material.study, material.study.measure(measure));
    let of = |at: &BiasAt| style.value(2.0 * at.standard).text;
    let first = of(biases.at.first()?);
    let each: Vec<String> = if biases.at.iter().all(|at| of(at) == first) {
        vec![say!("{first} at every round", first)]
    } else {
        biases
            .at
            .iter()
            .map(|at| {
                say!("{size} at {round}", size = of(at), round = names::round(material.study, at.round))
            })
            .collect()
    };
    Some(say!(
        "The gauge itself may be off, for all sections of a round alike, by {each} (two standard uncertainties, from {from}). A \
         section whose mean lies nearer to the limit than that may have been spent a round sooner or later.{lacks}",
        each = list(&each, "and"),
        from = list(&from(material, biases, None), "and"),
        lacks = lacks(biases, biases.at.iter().any(|at| at.drift.is_none()))
    ))
}

/// What is not in it, because the study does not hold it.
fn lacks(biases: &Biases, no_drift: bool) -> String {
    let lacks = [
        (
            biases.certificate.is_none(),
            say!(" The uncertainty of a certificate is not stated, and not in it."),
        ),
        (no_drift, say!(" Without readings of a tile at the reference and then, a drift is not in it.")),
    ];
    lacks.iter().filter(|(lacks, _)| *lacks).map(|(_, words)| *words).collect()
}

/// What it is made of; of one round with the drift.
fn from(material: &Material<'_>, biases: &Biases, at: Option<&BiasAt>) -> Vec<String> {
    let style = Style::of(material.study, material.study.measure(biases.measure));
    let drift = match at {
        Some(at) => at.drift.map(|drift| {
            say!(
                "a drift of {drift} {unit} on the tile since the reference",
                drift = style.signed(drift),
                unit = style.unit
            )
        }),
        None => biases
            .at
            .iter()
            .any(|at| at.drift.is_some())
            .then(|| say!("the drift on the tile since the reference").to_owned()),
    };
    let certificate = biases
        .certificate
        .map(|standard| say!("the {size} of the certificate", size = style.value(2.0 * standard).text));
    drift.into_iter().chain(certificate).collect()
}
