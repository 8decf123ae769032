//! What a coat met: what its record says, and what the climate file says of the same hour.

use super::conditions::Conditions;
use super::model::Climate;
use crate::diag::Place;
use crate::study::{Done, DoneWhat, ProductId, SectionId, Study};
use crate::units::{Quantity, Temperature};
use jiff::civil::DateTime;

/// The hour of one coat, or of the start of the application where no coat has a record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatHour {
    /// The coat, by its number from 1; `None` for the planned start.
    pub coat: Option<(u32, ProductId)>,
    /// The section, where the record names some: the first of them.
    pub section: Option<SectionId>,
    /// The clock time; `None` where the record has none.
    pub at: Option<DateTime>,
    /// What the record says.
    pub recorded: Conditions,
    /// What the first climate file says that covers the hour.
    pub in_file: Option<Conditions>,
    /// The statement, or the row of a record file.
    pub place: Place,
}

impl CoatHour {
    /// What is known: the record, and where it is silent the file.
    pub fn known(&self) -> Conditions {
        self.recorded.or(self.in_file.unwrap_or_default())
    }
}

/// The hour of every coat that has a record, in their order; without any record that of the planned start.
pub(in super::super) fn coat_hours(study: &Study, climates: &[Climate]) -> Vec<CoatHour> {
    let coats: Vec<CoatHour> = study.done.iter().filter_map(|done| recorded(study, climates, done)).collect();
    if !coats.is_empty() {
        return coats;
    }
    let planned = study.apply.as_ref().and_then(|apply| {
        let at = apply.on.as_ref()?.value.to_datetime(apply.from?);
        let in_file = conditions(study, climates, at, None);
        let recorded = Conditions::default();
        Some(CoatHour {
            coat: None,
            section: None,
            at: Some(at),
            recorded,
            in_file,
            place: apply.span.into(),
        })
    });
    planned.into_iter().collect()
}

fn recorded(study: &Study, climates: &[Climate], done: &Done) -> Option<CoatHour> {
    let DoneWhat::Coat(number, product) = &done.what else { return None };
    let at = done.time.map(|time| done.date.value.to_datetime(time));
    Some(CoatHour {
        coat: Some((*number, product.value)),
        section: done.sections.first().copied(),
        at,
        recorded: Conditions {
            air_deg_c: done.at.map(Quantity::<Temperature>::deg_c),
            humidity_percent: done.humidity.map(|humidity| humidity.any().base()),
            surface_deg_c: done.surface.map(Quantity::<Temperature>::deg_c),
        },
        in_file: at.and_then(|at| conditions(study, climates, at, done.sections.first().copied())),
        place: done.place,
    })
}

/// What the first file says that was recorded where the section stands, or of which no site is said.
fn conditions(
    study: &Study,
    climates: &[Climate],
    at: DateTime,
    section: Option<SectionId>,
) -> Option<Conditions> {
    let site = section.and_then(|section| study.section(section).site);
    let here =
        study.climate.iter().zip(climates).filter(|(file, _)| file.site.is_none() || file.site == site);
    here.into_iter().find_map(|(_, climate)| climate.at(at)).map(|row| row.met)
}
