//! Every treatment over the rounds of a measure: level, change and share held, with the interval of each by itself.

use super::against_blank::Shares;
use super::alone::Alone;
use super::frame::Frame;
use super::groups::{self, Pick};
use super::model::{GroupAt, GroupSeries, GroupValue, Missing, SectionSeries};
use super::sample::Sample;
use crate::study::{SectionId, Study, Treatment};

/// Every treatment over the rounds of a measure.
pub(super) fn series(study: &Study, frame: &Frame, sections: &[SectionSeries]) -> Vec<GroupSeries> {
    let treatments = groups::treatments(study, frame.measure);
    let shares = Shares::of(study.measure(frame.measure), study.spreads_differ);
    let empty = |&treatment| GroupSeries {
        treatment,
        sections: sections.iter().filter(|one| one.treatment == treatment).map(|one| one.section).collect(),
        at: Vec::with_capacity(frame.rounds.len()),
    };
    let mut series: Vec<GroupSeries> = treatments.iter().map(empty).collect();
    for (place, &(round, _)) in frame.rounds.iter().enumerate() {
        let of = |pick: Pick| values(&treatments, sections, (place, pick), study.spreads_differ);
        let (_, retentions) = of(groups::retention);
        let ((level_samples, mut levels), (change_samples, mut changes)) =
            (of(groups::level), of(groups::change));
        if let Some(shares) = shares {
            shares.of_levels(&mut levels, &level_samples);
            shares.of_changes(&mut changes, &change_samples, (sections, frame.reference, place));
        }
        for (index, group) in series.iter_mut().enumerate() {
            let (lacking, lacking_change) = lacking(sections, group.treatment, place);
            group.at.push(GroupAt {
                round,
                level: levels[index],
                change: changes[index],
                retention: retentions[index],
                retention_with_gauge: None,
                retention_bias: None,
                lacking,
                lacking_change,
            });
        }
    }
    series
}

fn values(
    treatments: &[Treatment],
    sections: &[SectionSeries],
    (place, pick): (usize, Pick),
    differ: bool,
) -> (Vec<Sample>, Vec<Option<GroupValue>>) {
    let samples = groups::samples(treatments, sections, place, pick);
    let alone = Alone::of(&samples, differ);
    let values = samples.iter().map(|sample| alone.value(sample)).collect();
    (samples, values)
}

type Lacking = Vec<(SectionId, Missing)>;

/// Sections of a treatment without a level at a round, and those with a level and without a change.
fn lacking(sections: &[SectionSeries], treatment: Treatment, place: usize) -> (Lacking, Lacking) {
    let (mut no_level, mut no_change) = (Vec::new(), Vec::new());
    for section in sections.iter().filter(|section| section.treatment == treatment) {
        let at = &section.at[place];
        match (groups::level(at), groups::change(at)) {
            (Err(why), _) => no_level.push((section.section, why)),
            (Ok(_), Err(why)) if why != Missing::BeforeReference => no_change.push((section.section, why)),
            (Ok(_), _) => {}
        }
    }
    (no_level, no_change)
}
