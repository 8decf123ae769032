//! Scatter split between sections and readings: of levels at the baseline, and of changes.

use super::super::frame::Frame;
use super::super::model::{ChangeScatter, Compared, MeasureAnalysis, SectionSeries, Split, Strength, Unsaid};
use super::Start;
use crate::readings::Readings;
use crate::stats::anova::one_way;
use crate::stats::components::{mixed, nested};
use crate::stats::summary::mean;

/// The fewest sections between which a scatter can be told.
const FEWEST: usize = 3;

/// Nested analysis of variance where all sections have as many readings, else restricted maximum likelihood.
pub(super) fn split(readings: &Readings, start: &[Start<'_>]) -> Result<Split, Unsaid> {
    if start.len() < FEWEST {
        return Err(Unsaid::FewSections(start.len(), FEWEST));
    }
    let groups: Vec<Vec<f64>> = start.iter().map(|one| readings.values(one.cell)).collect();
    let number: usize = groups.iter().map(Vec::len).sum();
    if number == groups.len() {
        return Err(Unsaid::ReadOnce);
    }
    let first = groups[0].len();
    let even = groups.iter().all(|group| group.len() == first);
    let values: Vec<f64> = groups.concat();
    let components = if even {
        nested::nested(&values, &[groups.len(), first])
            .map(|found| (found.levels[0].held(), found.levels[1].held()))
    } else {
        let sections: Vec<usize> =
            groups.iter().enumerate().flat_map(|(at, group)| vec![at; group.len()]).collect();
        mixed::fit(&[vec![1.0; values.len()]], &values, &sections)
            .map(|found| (found.sections, found.readings))
    };
    let (between, within) = components.ok_or(Unsaid::NoScatter)?;
    if between + within <= 0.0 {
        return Err(Unsaid::NoScatter);
    }
    Ok(Split {
        sections: groups.len(),
        readings: number,
        even,
        between: between.sqrt(),
        within: within.sqrt(),
        p: one_way(&groups).map(|table| table.p),
    })
}

/// What readings add to the scatter that the comparison of changes at the round at `place` rests on: within-cell variance times
/// 1/n of the round and 1/n of the reference, averaged over sections.
pub(super) fn of_changes(frame: &Frame, analysed: &MeasureAnalysis, place: usize) -> Option<ChangeScatter> {
    let (round, reference) = (analysed.rounds.get(place)?, frame.reference?);
    let tables = (round.to_bare.as_ref().ok(), round.lead.as_ref().ok());
    let basis = tables.0.map(|table| &table.basis).or(tables.1.map(|table| &table.basis))?;
    if analysed.compared != Compared::Change || basis.strength != Strength::Full {
        return None;
    }
    let both = |section: &SectionSeries| {
        let (now, before) = (section.at.get(place)?, section.at.get(reference)?);
        now.numbers.change.ok()?;
        (now.n > 0 && before.n > 0).then(|| 1.0 / f64::from(now.n) + 1.0 / f64::from(before.n))
    };
    let both: Vec<f64> = analysed.sections.iter().filter_map(both).collect();
    let of_readings = frame.within?.sd * mean(&both)?.sqrt();
    Some(ChangeScatter { round: round.round, sd: basis.spread?.sd, of_readings }).filter(|one| one.sd > 0.0)
}
