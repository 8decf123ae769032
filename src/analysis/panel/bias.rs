//! What the gauge itself may be off by: its drift since the reference round, and what its certificate leaves open.

use super::super::frame::Frame;
use super::super::model::{BiasAt, Biases, Drift, GroupValue, Interval, MeasureAnalysis, RoundState};
use crate::stats::summary;
use crate::study::{RoundId, Study};

/// The bias of every round after the reference that was read; `None` where nothing of it is known.
///
/// It stands once beside the scatter of readings and is not divided by their number. The drift is taken as a bound on
/// either side, a / sqrt(3) (JCGM 100:2008, 4.3.7); a certificate states two standard uncertainties; both are added as
/// squares (5.1.2). In a difference between sections of one round it cancels.
pub(super) fn biases(
    study: &Study,
    frame: &Frame,
    measure: &MeasureAnalysis,
    drifts: &[Drift],
) -> Option<Biases> {
    let reference = frame.reference?;
    let unit = &study.measure(frame.measure).unit;
    let stated = study.gauges_of(frame.measure).flat_map(|gauge| &gauge.certificates);
    let stated = stated.filter_map(|certificate| unit.value_of(certificate.within?));
    let certificate = stated.reduce(f64::max).map(|within| within / 2.0);
    let tiles = drifts.iter().find(|drift| drift.measure == frame.measure);
    let tile = |round: RoundId| tiles.and_then(|drift| drift.at.iter().find(|at| at.round == round));
    let first = tile(frame.rounds[reference].0);
    let levels: Vec<f64> = measure
        .sections
        .iter()
        .filter_map(|section| section.at[reference].numbers.level.ok())
        .map(|level| level.mean)
        .collect();
    let level = summary::mean(&levels).filter(|level| *level > 0.0);
    let read = frame.rounds.iter().skip(reference + 1).filter(|(_, state)| *state == RoundState::Read);
    let at = read.filter_map(|&(round, _)| {
        let drift = first.zip(tile(round)).map(|(first, now)| now.mean - first.mean);
        if drift.is_none() && certificate.is_none() {
            return None;
        }
        let standard = (drift.unwrap_or(0.0) / 3.0_f64.sqrt()).hypot(certificate.unwrap_or(0.0));
        Some(BiasAt { round, drift, standard, share_points: level.map(|level| 100.0 * standard / level) })
    });
    let at: Vec<BiasAt> = at.collect();
    (!at.is_empty()).then_some(Biases { measure: frame.measure, certificate, at })
}

/// Folds what the gauge may be off by into the interval of every retention.
///
/// Half of the t interval of the scatter and two standard uncertainties of the bias are added as squares, the bias once
/// (JCGM 100:2008, 5.1.2 and 6.2.1). The effective degrees of freedom of G.4.1 are not taken: with few of them the
/// interval would come out shorter than that of the scatter alone, since a known bias lends them degrees that they have not.
pub(in crate::analysis) fn fold(measures: &mut [MeasureAnalysis], biases: &[Biases]) {
    for known in biases {
        let Some(measure) = measures.get_mut(known.measure.index()) else { continue };
        for at in &known.at {
            let place = measure.rounds.iter().position(|round| round.round == at.round);
            let Some((place, bias)) = place.zip(at.share_points) else { continue };
            for group in &mut measure.groups {
                let Some(at) = group.at.get_mut(place) else { continue };
                at.retention_with_gauge = at.retention.and_then(|share| folded(share, bias));
            }
        }
    }
}

fn folded(share: GroupValue, bias: f64) -> Option<Interval> {
    let own = share.interval?;
    let half = ((own.high - own.low) / 2.0).hypot(2.0 * bias);
    Some(Interval { low: share.mean - half, high: share.mean + half })
}
