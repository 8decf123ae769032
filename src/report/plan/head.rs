//! The headline of a plan, and why it tells nothing apart where it does not.

use super::super::numbers;
use super::{Basis, FOR_WORDS, Procedure, digits};
use crate::planning::{fewest_told, least_p};
use crate::speech::{count, say};

/// What the layout can tell apart, in one line.
pub(super) fn heading(basis: &Basis<'_>, figure: Option<f64>, few: bool) -> String {
    match figure {
        Some(_) if few => {
            say!("This plan has too few {units} treated alike to judge anything", units = basis.units())
        }
        Some(figure) if basis.over => say!(
            "A study laid out like this one tells a product apart from bare from about {figure} {unit} of {name} on",
            figure = digits(figure),
            unit = basis.unit,
            name = &basis.measure.name.value
        ),
        Some(figure) => say!(
            "This plan tells a product apart from bare from about {figure} {unit} of {name} on",
            figure = digits(figure),
            unit = basis.unit,
            name = &basis.measure.name.value
        ),
        None => {
            let some = some_are_told(basis).map(|(fewest, _)| {
                say!(
                    "This plan tells products with {sections} or more apart from bare, and none with fewer",
                    sections = count(fewest, &basis.noun)
                )
            });
            some.or_else(|| without_bare(basis))
                .unwrap_or_else(|| say!("This plan tells nothing apart from bare").to_owned())
        }
    }
}

/// The heading where nothing is bare, so that products are held against each other only.
fn without_bare(basis: &Basis<'_>) -> Option<String> {
    let judged = basis.room.bare == 0 && basis.by == Procedure::Means && basis.room.df >= FOR_WORDS;
    let figure = basis.between(&basis.room, basis.readings).filter(|_| judged)?;
    Some(say!(
        "This plan has nothing bare and tells two products apart from about {figure} {unit} of {name} on",
        figure = digits(figure),
        unit = basis.unit,
        name = basis.measure.name.value
    ))
}

/// The fewest sections of a product that marks tell from bare, and the smallest p that they reach.
fn some_are_told(basis: &Basis<'_>) -> Option<(usize, f64)> {
    fewest_told(&basis.room).filter(|_| basis.by == Procedure::Ranks)
}

/// Why the plan tells nothing apart from bare, or not the products with the fewest sections.
pub(super) fn nothing(basis: &Basis<'_>) -> String {
    let rows = count(basis.room.compared().len(), "row");
    if let (Some((fewest, able)), Some(least)) = (some_are_told(basis), least_p(&basis.room)) {
        return say!(
            "A product with {few} cannot be told from bare, however far apart: the smallest p that its marks can reach for {rows} together is \
             {least}. With {more} it is {able}. All figures below are of the product with the fewest {units}.",
            few = count(basis.room.fewest().unwrap_or(0), &basis.noun),
            rows,
            least = numbers::probability(least),
            more = count(fewest, &basis.noun),
            able = numbers::probability(able),
            units = basis.units()
        );
    }
    match (basis.by, least_p(&basis.room)) {
        (Procedure::Ranks, Some(least)) => say!(
            "With so few sections the smallest p that marks can reach for {rows} together is {least}: they cannot tell a product \
             from bare, however far apart. More sections of each, bare ones included, mend that.",
            rows,
            least = numbers::probability(least)
        ),
        _ => say!("A comparison with bare needs bare sections, and at least two sections treated alike.")
            .to_owned(),
    }
}
