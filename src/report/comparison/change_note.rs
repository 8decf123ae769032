//! The words below the picture of a change: how to read it, and on what it rests.

use super::super::material::Material;
use super::super::names;
use super::super::stopped;
use super::ranking::Ranking;
use crate::analysis::{GroupValue, MeasureAnalysis, RoundAnalysis};
use crate::speech::{count, plural, say};
use crate::study::{MeasureKind, Treatment};

pub(super) fn is_rated(material: &Material<'_>, measure: &MeasureAnalysis) -> bool {
    matches!(material.study.measure(measure.measure).kind, MeasureKind::Rating(_))
}

/// What every treatment changed by at a place, in the order of the groups.
pub(super) fn changes(measure: &MeasureAnalysis, place: usize) -> Vec<(Treatment, GroupValue)> {
    let groups = measure.groups.iter();
    groups.filter_map(|group| Some((group.treatment, group.at.get(place)?.change?))).collect()
}

/// How to read the picture of a change, with its sections and the day that was read last.
pub(super) fn note(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    (dated, round): (&[(usize, f64, &RoundAnalysis)], &str),
) -> String {
    let study = material.study;
    let sections = count(measure.sections.len(), "section");
    let told = dated.iter().find(|(_, _, one)| names::round(study, one.round) == round);
    // What stands with the number of a stop was not read at this round.
    let read = told.map_or(0, |&(place, ..)| {
        let changes = changes(measure, place);
        let whole = changes.iter().all(|(_, value)| stopped::is_whole(value));
        if whole { changes.iter().map(|(_, value)| value.readings as usize).sum() } else { 0 }
    });
    let sections = match read {
        0 => sections,
        n => say!("{sections} ({readings} at {round})", sections, round, readings = count(n, "reading")),
    };
    let marked = marked(material, ranking, measure);
    let last = dated.last().map(|(_, _, round)| *round);
    let day = last.and_then(|round| names::days_read(material.readings, round.round));
    let day = day.map_or_else(String::new, |day| say!(", last read {day}", day));
    let lines = if measure.groups.iter().any(|group| group.sections.len() > 1) {
        let stopped = dated
            .iter()
            .any(|&(place, ..)| changes(measure, place).iter().any(|(_, value)| !stopped::is_whole(value)));
        match (is_rated(material, measure), stopped) {
            (true, false) => say!("Thin: single sections; thick: their median"),
            (true, true) => {
                say!("Thin: single sections; thick: their median, as far as none of them was stopped")
            }
            (false, true) => {
                say!("Thin: single sections; thick: their mean, as far as none of them was stopped")
            }
            (false, false) => say!("Thin: single sections; thick: their mean"),
        }
    } else {
        say!("A line is one section")
    };
    say!(
        "{lines}, told at {round}. {band}{marked}{sections}{day}.",
        lines,
        marked,
        sections,
        day,
        round,
        band = band(
            dated,
            names::unit(study, measure.measure),
            measure.groups.iter().any(|group| group.treatment == Treatment::Bare)
        )
    )
}

// A round may lack some of the bare sections, so their number may change along the band.
fn band(dated: &[(usize, f64, &RoundAnalysis)], unit: &str, bare: bool) -> String {
    let numbers = dated.iter().filter_map(|(_, _, round)| round.bare_change.map(|bare| bare.n));
    let (few, many) = (numbers.clone().min().unwrap_or(0), numbers.max().unwrap_or(0));
    match (few, many) {
        (0, _) if bare => say!("None of the bare {units} has a change to show. ", units = plural(2, unit)),
        (0, _) => say!("There are no bare {units}. ", units = plural(2, unit)),
        (1, 1) => say!("The grey line is the one bare {unit}. ", unit = plural(1, unit)),
        (few, many) if few == many => {
            say!(
                "The grey band reaches from the lowest to the highest of {many} bare {units}. ",
                many,
                units = plural(2, unit)
            )
        }
        (few, many) => {
            say!(
                "The grey band reaches from the lowest to the highest of {few} to {many} bare {units}, as read. ",
                few,
                many,
                units = plural(2, unit)
            )
        }
    }
}

// The marks come from the measure that decides; in the picture of another one they only carry the name.
fn marked(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis) -> String {
    let Some(question) = material.analysis.question.filter(|_| !ranking.marked.is_empty()) else {
        return String::new();
    };
    let by = names::measure(material.study, question.measure);
    let own = names::measure(material.study, measure.measure);
    match ranking.marked.len() {
        _ if question.measure != measure.measure => {
            say!("Marked are the same products as for {by}; who may lead does not rest on {own}. ", by, own)
        }
        5 => say!("Marked are five products that may lead by {by}. ", by),
        _ => say!("Marked are the products that may lead by {by}. ", by),
    }
}
