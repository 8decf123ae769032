//! A test by exchange: the treatments dealt out among the sections in other ways that the map would allow.

use super::groups::{self, Pick};
use super::model::{Basis, ExchangeLine, NoExchange, SectionSeries, Strength};
use super::sample::Counted;
use crate::stats::permutation::{Tries, exchange};
use crate::study::{SectionId, Study, Treatment};

/// A test that cannot come below this says nothing.
const LEVEL: f64 = 0.05;

const TRIES: Tries = Tries { draws: 4_999, most: 400_000, seed: 21 };

/// The test at the round at `place` over every section that has the number.
///
/// # Errors
/// Why it is not offered.
pub(super) fn line(
    study: &Study,
    (series, place): (&[SectionSeries], usize),
    pick: Pick,
    basis: &Basis,
) -> Result<ExchangeLine, NoExchange> {
    if matches!(
        basis.strength,
        Strength::SectionsOnly | Strength::NoScatter | Strength::AtEnd | Strength::Flat | Strength::Bound
    ) {
        return Err(NoExchange::Strength(basis.strength));
    }
    if series.iter().any(|section| section.piece.is_some()) {
        return Err(NoExchange::Pieces);
    }
    let read: Vec<(&SectionSeries, Counted)> = series
        .iter()
        .filter(|section| section.treatment.is_settled())
        .filter_map(|section| Some((section, groups::counted(section, place, pick)?)))
        .collect();
    let values: Vec<f64> = read.iter().map(|(_, own)| own.value).collect();
    let mut treatments: Vec<Treatment> = read.iter().map(|(section, _)| section.treatment).collect();
    let carried = treatments.clone();
    treatments.sort_unstable();
    treatments.dedup();
    let labels: Vec<usize> =
        carried.iter().filter_map(|one| treatments.iter().position(|known| known == one)).collect();
    let pairs = side_by_side(study, &read.iter().map(|(section, _)| section.section).collect::<Vec<_>>());
    let real = pairs.iter().filter(|&&(one, other)| labels[one] == labels[other]).count();
    let found = exchange(&values, &labels, &pairs, TRIES);
    let found = found.ok_or(NoExchange::Strength(Strength::NoScatter))?;
    if found.least > LEVEL {
        return Err(NoExchange::TooCoarse(found.least));
    }
    Ok(ExchangeLine {
        found,
        singles: treatments.iter().enumerate().all(|(at, treatment)| {
            let n = labels.iter().filter(|&&label| label == at).count();
            n == 1 || !matches!(treatment, Treatment::Product(_))
        }),
        sections: read.len(),
        stopped: read.iter().filter(|(_, own)| own.carried).count(),
        readings: read.iter().map(|(_, own)| own.readings).sum(),
        side_by_side: (!pairs.is_empty()).then_some(real),
        seed: TRIES.seed,
    })
}

/// Pairs of places in `sections` that lie side by side or one above the other on the drawn map.
fn side_by_side(study: &Study, sections: &[SectionId]) -> Vec<(usize, usize)> {
    let cell = |id: SectionId| {
        let section = study.section(id);
        section.row.zip(section.column).filter(|_| section.specimen.is_none())
    };
    let near = |one: usize, other: usize| {
        let (Some(a), Some(b)) = (cell(sections[one]), cell(sections[other])) else { return false };
        a.0.abs_diff(b.0) + a.1.abs_diff(b.1) == 1
    };
    let all = (0..sections.len()).flat_map(|one| (one + 1..sections.len()).map(move |other| (one, other)));
    all.filter(|&(one, other)| near(one, other)).collect()
}
