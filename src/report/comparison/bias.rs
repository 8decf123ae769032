//! What the gauge itself may be off by, beside shares held and times until spent.

use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Style, fixed};
use crate::analysis::{BiasAt, Biases, MeasureAnalysis, SectionSpent};
use crate::speech::{count, list, say};
use crate::study::{Limit, MeasureId, RoundId, SpentRule};

/// The bias of a measure, where something of it is known.
pub(in crate::report) fn known<'a>(material: &'a Material<'_>, measure: MeasureId) -> Option<&'a Biases> {
    material.analysis.panel.biases.iter().find(|known| known.measure == measure)
}

/// The sentence beside the shares of a round.
pub(super) fn of_shares(
    material: &Material<'_>,
    measure: &MeasureAnalysis,
    round: RoundId,
) -> Option<String> {
    let biases = known(material, measure.measure)?;
    let at = biases.at.iter().find(|at| at.round == round)?;
    let here = measure.groups.iter().filter_map(|group| group.at.iter().find(|at| at.round == round));
    let most = here.filter_map(|at| at.retention_bias).reduce(f64::max)?;
    let cancels = match biases.certificate {
        Some(_) if at.same_offset => say!(
            " An offset that the certificate leaves open is in both means of a share, and the less of it is left the nearer the \
             share is to 100 %."
        ),
        Some(_) => say!(
            " Another certificate or gauge came in between, so that what each leaves open is counted for both means of a share."
        ),
        None => "",
    };
    Some(say!(
        "The gauge itself may be off, by up to {points} percentage points of a row (two standard uncertainties, from \
         {from}); the last interval of a row has its own part in it, added to the scatter as squares.{cancels} In a difference to bare of \
         the same round it cancels.{lacks}",
        cancels,
        points = fixed(2.0 * most, 1),
        from = list(&from(material, biases, Some(at)), "and"),
        lacks = lacks(biases, at.drift.is_none())
    ))
}

/// The sentence beside the times until spent.
pub(super) fn of_levels(
    material: &Material<'_>,
    measure: MeasureId,
    spent: &[SectionSpent],
) -> Option<String> {
    let biases = known(material, measure)?;
    let moved = spent.iter().filter(|one| one.with_gauge.is_some()).count();
    let relative =
        matches!(material.study.measure(measure).spent, Some(SpentRule { limit: Limit::PercentOf(..), .. }));
    let part = if relative && biases.certificate.is_some() {
        say!(" less what a limit in percent of its own reference takes off,")
    } else {
        ""
    };
    let effect = if moved == 0 {
        say!(
            "Had it read too high or too low by that much at all rounds,{part} no time of this table would move.",
            part
        )
    } else {
        say!(
            "Had it read too high or too low by that much at all rounds,{part} the time of {sections} would move, as the last column says.",
            part,
            sections = count(moved, "section")
        )
    };
    let style = Style::of(material, measure);
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
        "The gauge itself may be off, for all sections of a round alike, by {each} (two standard uncertainties, from {from}). \
         {effect}{lacks}",
        effect,
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
    let style = Style::of(material, biases.measure);
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
