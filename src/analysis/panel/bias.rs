//! What the gauge itself may be off by: its drift since the reference round, and what its certificate leaves open.

use super::super::frame::Frame;
use super::super::model::{BiasAt, Biases, Drift, MeasureAnalysis, RoundState};
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
