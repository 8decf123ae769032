//! A round that no certificate of the gauge covers.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count, list};
use crate::readings::Readings;
use crate::study::{Certificate, Gauge, MeasureId, Round, RoundId, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "certificate-lapses",
        severity: Severity::Warning,
        what: "A round is planned for days on which no stated certificate of a gauge that reads it is valid. Once \
               it was read, the days of its readings count.",
        why: "A change over months is a difference between two states of the gauge as well. A critic asks for \
              the certificate of both days.",
        mend: "Have the gauge certified before the round, and add a `certified` line for it.",
        bad: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
              certified   2025-05-01 for 12 months\n",
        good: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
               certified   2025-05-01 for 12 months\n    certified   2026-04-20 for 12 months\n",
        source: "ISO 10012:2003, clause 7.1; the interval is that of the certificate",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for gauge in study.gauges.iter().filter(|gauge| !gauge.broken && !gauge.certificates.is_empty()) {
        let lapsed: Vec<&Round> = study
            .rounds_with_ids()
            .filter(|&(id, _)| lapses(study, context.readings, gauge, id))
            .map(|(_, round)| round)
            .collect();
        // A window may reach beyond a certificate that holds on the day itself.
        let (early, lapsed): (Vec<&Round>, Vec<&Round>) =
            lapsed.into_iter().partition(|round| begun_within(gauge, round).is_some());
        findings.extend(early.into_iter().filter_map(|round| too_early(gauge, round)));
        findings.extend(told(gauge, &lapsed));
    }
}

/// True where the gauge is to read in this round and neither it nor a second gauge of the measure is certified
/// throughout.
fn lapses(study: &Study, readings: &Readings, gauge: &Gauge, id: RoundId) -> bool {
    let Some(window) = study.round(id).window else { return false };
    let days = [window.first, window.date, window.last];
    let sound = |measure: MeasureId| {
        study.gauges_of(measure).any(|gauge| days.iter().all(|&day| when::is_certified(gauge, day)))
    };
    // What was read on a day that is known is told by that day.
    let is_read = |measure: MeasureId| {
        let mut cells = readings.cells().iter().filter(|cell| cell.round == id && cell.measure == measure);
        cells.any(|cell| cell.dates.is_some())
    };
    let asks = |measure: MeasureId| study.planned_readings(id, measure) > 0 && !is_read(measure);
    gauge.reads.iter().any(|read| asks(read.value) && !sound(read.value))
}

/// The certificate that begins within the window of a round and holds on its day and its last.
fn begun_within<'g>(gauge: &'g Gauge, round: &Round) -> Option<&'g Certificate> {
    let window = round.window?;
    let begins =
        |one: &&Certificate| window.first < one.from && one.from <= window.date && window.last < one.until;
    gauge.certificates.iter().find(begins)
}

fn too_early(gauge: &Gauge, round: &Round) -> Option<Finding> {
    let (certificate, window) = (begun_within(gauge, round)?, round.window?);
    let (name, from) = (&round.name.value, certificate.from);
    let days = count(usize::try_from(window.first.until(from).ok()?.get_days()).ok()?, "day");
    let message = format!(
        "`{name}` may be read from {}, {days} before the certificate of `{}` begins",
        window.first, gauge.name.value
    );
    let finding = Finding::warning(CHECK.page.code, certificate.span, message)
        .label(format!("valid from {from}"))
        .related(round.name.span, "its window is counted here")
        .help(format!("read `{name}` on {from} or later, narrow its window with `within`, or name the certificate before this one"));
    Some(finding.about(&gauge.name.value).about(name))
}

fn told(gauge: &Gauge, lapsed: &[&Round]) -> Option<Finding> {
    let first = lapsed.first()?.window?;
    let name = &gauge.name.value;
    let tell = |round: &&Round| Some(format!("`{}` ({})", round.name.value, round.date()?));
    let rounds: Vec<String> = lapsed.iter().filter_map(tell).collect();
    let message = format!("`{name}` has no certificate that holds throughout {}", list(&rounds, "and"));
    // The certificate that ended last before the round is the one to renew; else the first one came too late.
    let ended = gauge.certificates.iter().filter(|certificate| certificate.from <= first.last);
    let finding = match ended.max_by_key(|certificate| certificate.until) {
        Some(certificate) => Finding::warning(CHECK.page.code, certificate.span, message)
            .label(format!("no longer valid from {}", certificate.until))
            .help(format!("have it certified before {}, and add a `certified` line", certificate.until)),
        None => Finding::warning(CHECK.page.code, gauge.name.span, message).help(
            "the first certificate is later than that; add the one before it, or write `certified never because \"...\"`",
        ),
    };
    let finding = finding.about(name);
    Some(lapsed.iter().fold(finding, |finding, round| finding.about(&round.name.value)))
}
