//! How long a measure stayed within its limit, as one sentence of the answer: those that may lead beside bare.

use super::comparison::lasted;
use super::material::Material;
use super::names;
use crate::analysis::{Moment, SectionSpent, Spent};
use crate::speech::say;
use crate::study::{MeasureId, ProductId, Treatment};

/// The sentence; `None` where the measure has no limit, or no time of these is known.
///
/// Without leaders it is told of all products together.
pub(super) fn sentence(material: &Material<'_>, measure: MeasureId, leaders: &[ProductId]) -> Option<String> {
    let rows = material.analysis.measure(measure)?.spent.as_ref()?;
    let of = |wanted: &dyn Fn(Treatment) -> bool| -> Vec<&SectionSpent> {
        rows.iter().filter(|row| wanted(row.treatment) && row.gone.is_none()).collect()
    };
    let coated = of(&|treatment| match treatment {
        Treatment::Product(id) => leaders.is_empty() || leaders.contains(&id),
        _ => false,
    });
    let who = match leaders {
        [] => match names::sole_product(material.study) {
            Some(one) => names::product(material.study, one),
            None => say!("products").to_owned(),
        },
        [one] => names::product(material.study, *one),
        _ => say!("those that may lead").to_owned(),
    };
    let coated = told(material, measure, &who, &coated)?;
    let bare = of(&|treatment| treatment == Treatment::Bare);
    let bare = told(material, measure, &names::treatment(material.study, Treatment::Bare), &bare);
    let measure = names::measure(material.study, measure);
    Some(match bare {
        Some(bare) => {
            say!("How long {measure} stayed within its limit: {coated}; {bare}.", measure, coated, bare)
        }
        None => say!("How long {measure} stayed within its limit: {coated}.", measure, coated),
    })
}

/// Sections as one: the shortest time that is known of those which held, and the whole stretch in which the others were spent.
fn told(material: &Material<'_>, measure: MeasureId, who: &str, rows: &[&SectionSpent]) -> Option<String> {
    let study = material.study;
    let times: Vec<Spent> = rows.iter().filter_map(|row| row.when.ok()).collect();
    let held =
        times.iter().filter_map(|&when| if let Spent::AtLeast(last) = when { Some(last) } else { None });
    let held: Option<Moment> = held.min_by_key(|moment| (moment.days, moment.round));
    let spent: Vec<Spent> = times.iter().copied().filter(|when| !matches!(when, Spent::AtLeast(_))).collect();
    let units = names::units(study, measure, times.len());
    let held = match held {
        Some(last) => Some(lasted(study, Spent::AtLeast(last))?),
        None => None,
    };
    let failed = match stretch(&spent) {
        Some(when) => Some(lasted(study, when)?),
        None => None,
    };
    Some(match (held, failed) {
        (None, None) => return None,
        (Some(time), None) => say!("{who} {time} ({units}, none spent)", who, time, units),
        (None, Some(time)) => say!("{who} {time} ({units}, all spent)", who, time, units),
        (Some(held), Some(time)) => say!(
            "{who} {time} ({spent} of {units}) and {held} (the others)",
            who,
            time,
            units,
            held,
            spent = spent.len()
        ),
    })
}

/// From the first round that any of them is known to have passed, up to the last at which one failed first.
fn stretch(spent: &[Spent]) -> Option<Spent> {
    let ends = spent.iter().filter_map(|&when| match when {
        Spent::Between(_, to) | Spent::Before(to) => Some(to),
        Spent::AtLeast(_) => None,
    });
    let end = ends.max_by_key(|moment| (moment.days, moment.round))?;
    let starts = spent.iter().map(|&when| if let Spent::Between(from, _) = when { Some(from) } else { None });
    let starts: Option<Vec<Moment>> = starts.collect();
    let start = starts.and_then(|starts| starts.into_iter().min_by_key(|moment| (moment.days, moment.round)));
    Some(start.map_or(Spent::Before(end), |start| Spent::Between(start, end)))
}
