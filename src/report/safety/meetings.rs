//! Things of the study that must never meet.

use crate::catalog::{Catalog, Class, Danger, Reach};
use crate::study::Study;
use serde::Serialize;

/// Two things of the study that must not meet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Meeting {
    /// The two things with their classes.
    pub things: String,
    /// What happens.
    pub result: String,
    /// Where it counts.
    pub place: String,
    /// Source of the pair.
    pub source: String,
}

/// Every pair of things in the study that makes toxic gas, fire or burns where they meet.
pub(in crate::report) fn meetings(catalog: &Catalog, study: &Study) -> Vec<Meeting> {
    let supplies =
        study.supplies.iter().map(|s| (s.name.value.as_str(), s.kind.as_ref().and_then(|kind| kind.class)));
    let products = study.products.iter().map(|p| (p.title(), p.kind.as_ref().and_then(|kind| kind.class)));
    let things: Vec<(&str, &Class)> = supplies.chain(products).filter_map(|(n, c)| Some((n, c?))).collect();
    // Products of one class would fill the box with the same sentence, so classes are listed once.
    let mut classes: Vec<(&Class, Vec<&str>)> = Vec::new();
    for (name, class) in things {
        match classes.iter_mut().find(|(known, _)| known.id == class.id) {
            Some((_, names)) => names.push(name),
            None => classes.push((class, vec![name])),
        }
    }
    let pairs = classes
        .iter()
        .enumerate()
        .flat_map(|(at, one)| classes[at + 1..].iter().map(move |other| (one, other)));
    pairs.flat_map(|(one, other)| meeting(catalog, one, other)).collect()
}

fn meeting(catalog: &Catalog, one: &(&Class, Vec<&str>), other: &(&Class, Vec<&str>)) -> Vec<Meeting> {
    let named =
        |thing: &(&Class, Vec<&str>)| format!("{} ({})", crate::diag::list(&thing.1, "or"), thing.0.name);
    let all = catalog.meetings(one.0, other.0).into_iter().filter(|pair| pair.severity == Danger::Forbid);
    all.map(|pair| Meeting {
        things: format!("{} with {}", named(one), named(other)),
        result: pair.result.to_owned(),
        place: match pair.reach {
            Reach::Any => "On a section, tool, bucket, drain or in the waste: a full rinse between, always.",
            Reach::Vessel => "Never in one bucket, bottle, cloth or bin.",
        }
        .to_owned(),
        source: pair.source.to_string(),
    })
    .collect()
}
