//! What the gauge itself may be off by: its drift since the reference round, and what its certificate leaves open.

use super::super::context::Context;
use super::super::frame::Frame;
use super::super::model::{BiasAt, Biases, Drift, GroupValue, Interval, MeasureAnalysis, RoundState};
use super::super::{spent, spent_together};
use crate::stats::summary;
use crate::study::{Limit, RoundId, Study};

/// The bias of every round after the reference that was read; `None` where nothing of it is known.
///
/// It stands once beside the scatter of readings and is not divided by their number. The drift is taken as a bound on
/// either side, a / sqrt(3) (JCGM 100:2008, 4.3.7); a certificate states two standard uncertainties; both are added as
/// squares (5.1.2). In a difference between sections of one round it cancels.
pub(super) fn biases(study: &Study, frame: &Frame, drifts: &[Drift]) -> Option<Biases> {
    let reference = frame.reference?;
    let unit = &study.measure(frame.measure).unit;
    let stated = study.gauges_of(frame.measure).flat_map(|gauge| &gauge.certificates);
    let stated = stated.filter_map(|certificate| unit.value_of(certificate.within?));
    let certificate = stated.reduce(f64::max).map(|within| within / 2.0);
    let tiles = drifts.iter().find(|drift| drift.measure == frame.measure);
    let tile = |round: RoundId| tiles.and_then(|drift| drift.at.iter().find(|at| at.round == round));
    let first = tile(frame.rounds[reference].0);
    let read = frame.rounds.iter().skip(reference + 1).filter(|(_, state)| *state == RoundState::Read);
    let at = read.filter_map(|&(round, _)| {
        let drift = first.zip(tile(round)).map(|(first, now)| now.mean - first.mean);
        if drift.is_none() && certificate.is_none() {
            return None;
        }
        let drifted = drift.unwrap_or(0.0).abs() / 3.0_f64.sqrt();
        let standard = drifted.hypot(certificate.unwrap_or(0.0));
        let same_offset = same_offset(study, frame, (frame.rounds[reference].0, round));
        Some(BiasAt { round, drift, drifted, same_offset, standard })
    });
    let at: Vec<BiasAt> = at.collect();
    (!at.is_empty()).then_some(Biases { measure: frame.measure, certificate, at })
}

/// Whether one gauge under one certificate read both rounds: what its certificate leaves open is then off alike in both.
fn same_offset(study: &Study, frame: &Frame, (one, other): (RoundId, RoundId)) -> bool {
    let mut gauges = study.gauges_of(frame.measure);
    let (Some(gauge), None) = (gauges.next(), gauges.next()) else { return false };
    // The last one that was there by the day; a lapsed one leaves the gauge as it had set it.
    let under = |round: RoundId| {
        let date = study.round(round).date()?;
        Some(gauge.certificates.iter().filter(|one| one.from <= date).map(|one| one.from).max())
    };
    gauge.certificates.len() < 2 || under(one).zip(under(other)).is_some_and(|(one, other)| one == other)
}

/// Folds what the gauge may be off by into the interval of every share held and into every time to spent.
///
/// Half of the t interval of the scatter and two standard uncertainties of the bias are added as squares, the bias once
/// (JCGM 100:2008, 5.1.2 and 6.2.1). The effective degrees of freedom of G.4.1 are not taken: with few of them the
/// interval would come out shorter than that of the scatter alone, since a known bias lends them degrees that they have not.
pub(in crate::analysis) fn fold(
    context: &Context<'_>,
    frames: &[Frame],
    measures: &mut [MeasureAnalysis],
    biases: &[Biases],
) {
    for known in biases {
        let Some(measure) = measures.get_mut(known.measure.index()) else { continue };
        let Some(frame) = frames.get(known.measure.index()) else { continue };
        for at in &known.at {
            fold_shares(frame, measure, at, known.certificate);
        }
        fold_times(context, frame, measure, known);
    }
}

/// A share is 100 x now / then, so that a bias of now less share x then moves it by 100 / then times itself.
fn fold_shares(frame: &Frame, measure: &mut MeasureAnalysis, at: &BiasAt, certificate: Option<f64>) {
    let Some((place, reference)) = frame.place(at.round).zip(frame.reference) else { return };
    let sections = &measure.sections;
    for group in &mut measure.groups {
        let own = sections.iter().filter(|section| section.treatment == group.treatment);
        let then = own.filter(|section| section.at[place].numbers.retention.is_ok());
        let then: Vec<f64> = then
            .filter_map(|section| section.at[reference].numbers.level.ok().map(|level| level.mean))
            .collect();
        let Some(here) = group.at.get_mut(place) else { continue };
        let Some((share, then)) = here.retention.zip(summary::mean(&then).filter(|then| *then > 0.0)) else {
            continue;
        };
        let bias = 100.0 / then * at.less(share.mean / 100.0, certificate);
        here.retention_bias = Some(bias);
        here.retention_with_gauge = folded(share, bias);
    }
}

/// Every time to spent once more with all levels off by two standard uncertainties, one way and the other.
fn fold_times(context: &Context<'_>, frame: &Frame, measure: &mut MeasureAnalysis, known: &Biases) {
    let Some(rule) = context.study.measure(frame.measure).spent else { return };
    let share = match rule.limit {
        Limit::Value(_) => 0.0,
        Limit::PercentOf(percent, _) => percent / 100.0,
    };
    // At the reference itself there is no drift, and the offset is that of its own day.
    let first = BiasAt {
        round: RoundId::new(0),
        drift: None,
        drifted: 0.0,
        same_offset: true,
        standard: known.certificate.unwrap_or(0.0),
    };
    let off = |round: RoundId| {
        let at = known.at.iter().find(|at| at.round == round).unwrap_or(&first);
        2.0 * if share > 0.0 { at.less(share, known.certificate) } else { at.standard }
    };
    let Some(spent) = &mut measure.spent else { return };
    for (one, section) in spent.iter_mut().zip(&measure.sections) {
        one.with_gauge = spent::with_gauge(context, frame, (section, one), rule, off);
    }
    spent_together::fold(&mut measure.spent_together, spent);
    let sites = context.study.by_site.as_ref().map(|sites| sites.pieces()).unwrap_or_default();
    for (groups, (_, own)) in measure.spent_by_site.iter_mut().zip(sites) {
        let at: Vec<_> = spent.iter().filter(|one| own.contains(&one.section)).copied().collect();
        spent_together::fold(groups, &at);
    }
}

fn folded(share: GroupValue, bias: f64) -> Option<Interval> {
    let own = share.interval?;
    let half = ((own.high - own.low) / 2.0).hypot(2.0 * bias);
    Some(Interval { low: share.mean - half, high: share.mean + half })
}
