//! Scatter at the baseline, split between sections and readings.

use super::super::model::{Split, Unsaid};
use super::Start;
use crate::readings::Readings;
use crate::stats::anova::one_way;
use crate::stats::components::{mixed, nested};

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
        each: number as f64 / groups.len() as f64,
        even,
        between: between.sqrt(),
        within: within.sqrt(),
        p: one_way(&groups).map(|table| table.p),
    })
}
